"""Builds the scene in Blender and renders it to linear light through a perfect pinhole.

Blender's axes here are metres with x right, y into the wall and z up, so a point of the
wall frame (x, y down, z in) goes to (x, z, -y). Importing this module needs ``bpy``.
"""

from math import hypot
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import bpy
import cv2
import numpy as np
from mathutils import Matrix, Vector
from numpy.typing import NDArray

from calibration.scenes import props
from calibration.scenes.camera import Camera
from calibration.scenes.dress import Piece
from calibration.scenes.materials import piece_material, surface_material
from calibration.scenes.props import to_blender
from calibration.scenes.references import Book, Mounted
from calibration.scenes.scene import Place, Scene

__all__ = ["render_linear"]


def render_linear(
    scene: Scene,
    *,
    pieces: list[Piece],
    mounted: Mounted,
    camera: Camera,
    samples: int,
    has_reference: bool = True,
    book: Book | None = None,
    on_gpu: bool = False,
) -> NDArray[np.float32]:
    """The scene as the camera's sensor sees it, distortion included.

    Parameters
    ----------
    has_reference
        Whether the reference object is there at all.
    book
        A book between the legs.
    on_gpu
        Take the light on a CUDA card, without the denoiser: it runs on the processor and
        takes longer than more samples do.

    Returns
    -------
    (H, W, 3) array of float32
        Linear RGB of the camera's full size, before exposure.
    """
    bpy.ops.wm.read_factory_settings(use_empty=True)
    for piece in pieces:
        _add_piece(piece)
    _add_room(scene.place, mounted)
    if has_reference:
        props.add_reference(mounted)
    if book is not None:
        props.add_book(book)
    _add_light(scene.place)
    straight, (middle_x, middle_y) = _shoot(camera, samples, on_gpu=on_gpu)
    # Bend: each pixel of the sensor looks up its undistorted place on the canvas.
    grid = np.stack(
        np.meshgrid(np.arange(camera.width_px), np.arange(camera.height_px)), axis=-1
    ).reshape(-1, 2)
    plane = camera.undistorted(grid) * camera.focal_px + [middle_x, middle_y]
    maps = plane.reshape(camera.height_px, camera.width_px, 2).astype(np.float32)
    bent = cv2.remap(
        straight, maps[..., 0], maps[..., 1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE
    )
    return np.maximum(np.asarray(bent, np.float32), 0)


def _shoot(
    camera: Camera, samples: int, *, on_gpu: bool
) -> tuple[NDArray[np.float32], tuple[float, float]]:
    """Renders an undistorted canvas that holds all the camera sees, and its middle."""
    border = np.array(
        [
            [x, y]
            for x in np.linspace(-1, camera.width_px, 40)
            for y in np.linspace(-1, camera.height_px, 40)
            if x in (-1, camera.width_px) or y in (-1, camera.height_px)
        ]
    )
    reach = np.abs(camera.undistorted(border)).max(axis=0) * camera.focal_px
    half_width, half_height = (int(np.ceil(value)) + 3 for value in reach)
    scene = bpy.context.scene
    data = bpy.data.cameras.new("camera")
    data.sensor_fit = "HORIZONTAL"
    data.sensor_width = 36.0
    data.lens = camera.focal_px * 36.0 / (2 * half_width)
    data.clip_start = 0.05
    holder = bpy.data.objects.new("camera", data)
    rotation = camera.rotation
    # Rows of the rotation are the camera's axes; Blender's camera looks along -z, y up.
    axes = np.stack([rotation[0], -rotation[1], -rotation[2]])
    matrix = np.eye(4)
    matrix[:3, :3] = np.stack([axes[:, 0], axes[:, 2], -axes[:, 1]])
    matrix[:3, 3] = to_blender(np.array([camera.position_mm]))[0]
    holder.matrix_world = Matrix(matrix.tolist())
    scene.collection.objects.link(holder)
    scene.camera = holder
    scene.render.engine = "CYCLES"
    scene.cycles.device = "GPU" if on_gpu else "CPU"
    if on_gpu:
        _use_cards()
    scene.cycles.samples = samples
    scene.cycles.use_denoising = not on_gpu
    scene.cycles.denoising_quality = "FAST"
    scene.cycles.denoising_prefilter = "FAST"
    scene.cycles.max_bounces = 2
    scene.cycles.diffuse_bounces = 2
    scene.cycles.glossy_bounces = 1
    scene.cycles.use_light_tree = False
    scene.cycles.use_adaptive_sampling = True
    scene.cycles.adaptive_threshold = 0.03 if on_gpu else 0.1
    scene.cycles.adaptive_min_samples = 16 if on_gpu else 6
    # A phone's picture at this size is shrunk from a larger one, so it is sharp to the pixel.
    scene.cycles.filter_width = 1.0
    scene.cycles.sample_clamp_indirect = 4.0
    scene.render.threads_mode = "FIXED"
    scene.render.threads = 2
    scene.render.resolution_x = 2 * half_width
    scene.render.resolution_y = 2 * half_height
    scene.render.resolution_percentage = 100
    scene.render.image_settings.file_format = "OPEN_EXR"
    scene.render.image_settings.color_mode = "RGB"
    scene.render.image_settings.color_depth = "32"
    with TemporaryDirectory() as folder:
        path = Path(folder) / "canvas.exr"
        scene.render.filepath = str(path)
        bpy.ops.render.render(write_still=True)
        image = bpy.data.images.load(str(path))
        pixels = np.empty(4 * 4 * half_width * half_height, np.float32)
        image.pixels.foreach_get(pixels)
        bpy.data.images.remove(image)
    canvas = pixels.reshape(2 * half_height, 2 * half_width, 4)[::-1, :, :3]
    return np.ascontiguousarray(canvas), (half_width - 0.5, half_height - 0.5)


def _use_cards() -> None:
    preferences = bpy.context.preferences.addons["cycles"].preferences
    preferences.compute_device_type = "CUDA"
    preferences.get_devices()
    for device in preferences.devices:
        device.use = device.type == "CUDA"


def _add_piece(piece: Piece) -> None:
    obj = props.add_mesh(piece.name, to_blender(piece.points_mm), piece.faces)
    colours = obj.data.color_attributes.new("rgb", "FLOAT_COLOR", "POINT")
    rgba = np.column_stack([piece.rgb, np.ones(len(piece.rgb))]).astype(np.float32)
    colours.data.foreach_set("color", rgba.ravel())
    obj.data.materials.append(piece_material(piece.surface, piece.second_rgb))
    if piece.surface != "thing":
        obj.data.shade_smooth()


def _add_room(place: Place, mounted: Mounted) -> None:
    wall = props.add_box("wall", (-8000, -6000, 0), (8000, 0, 100), opening=props.opening(mounted))
    wall.data.materials.append(surface_material(place.wall, place.wall_rgb, place.wall_second_rgb))
    floor = props.add_box("floor", (-8000, 0, -9000), (8000, 100, 100))
    kind = "planks_floor" if place.floor == "planks" else place.floor
    red, green, blue = place.floor_rgb
    floor.data.materials.append(
        surface_material(kind, place.floor_rgb, (0.8 * red, 0.8 * green, 0.8 * blue))
    )
    if place.skirting_height_mm > 0:
        props.add_skirting(place, mounted)


def _add_light(place: Place) -> None:
    scene = bpy.context.scene
    world = bpy.data.worlds.new("world")
    scene.world = world
    world.use_nodes = True
    background = world.node_tree.nodes["Background"]
    warmth = place.light_warmth
    warm = (1.0, 1 - 0.35 * warmth, 1 - 0.8 * warmth)
    azimuth, elevation = np.deg2rad([place.light_azimuth_deg, place.light_elevation_deg])
    out = np.array([np.sin(azimuth), -np.cos(azimuth)])
    if place.outdoors:
        background.inputs["Color"].default_value = (0.75, 0.85, 1.0, 1)
        background.inputs["Strength"].default_value = 1.0
        light = bpy.data.lights.new("sun", "SUN")
        light.energy = 4.0 if place.light == "sun" else 0.8
        light.angle = np.deg2rad(0.6 if place.light == "sun" else 40)
        light.color = (1.0, 0.93, 0.84)
        direction = np.append(out * np.cos(elevation), np.sin(elevation))
        _link_light(light, 5.0 * direction, -direction)
        return
    background.inputs["Color"].default_value = (*warm, 1)
    background.inputs["Strength"].default_value = place.ambient
    if place.light == "ceiling":
        light = bpy.data.lights.new("ceiling", "AREA")
        light.size, light.energy = 0.9, 110
        light.color = warm
        _link_light(light, np.array([1.2 * np.sin(azimuth), -1.8, 2.5]), np.array([0, 0.15, -1]))
    elif place.light == "window":
        light = bpy.data.lights.new("window", "AREA")
        light.shape, light.size, light.size_y, light.energy = "RECTANGLE", 1.3, 1.5, 160
        light.color = (0.95, 0.97, 1.0)
        at = np.array([*(3.0 * np.array([np.sign(out[0]) * max(abs(out[0]), 0.5), out[1]])), 1.4])
        _link_light(light, at, np.array([0, 0, 0.8]) - at)
    else:
        for sign, power in ((-1, 60), (1, 35)):
            light = bpy.data.lights.new("lamp", "AREA")
            light.size, light.energy = 0.4, power
            light.color = warm
            at = np.array([sign * 1.6, -1.6, 1.9])
            _link_light(light, at, np.array([0, 0, 0.8]) - at)


def _link_light(light: Any, at: NDArray[np.float64], towards: NDArray[np.float64]) -> None:
    holder = bpy.data.objects.new(light.name, light)
    holder.location = at
    holder.rotation_mode = "QUATERNION"
    holder.rotation_quaternion = Vector(towards / max(hypot(*towards), 1e-9)).to_track_quat(
        "-Z", "Y"
    )
    bpy.context.scene.collection.objects.link(holder)
