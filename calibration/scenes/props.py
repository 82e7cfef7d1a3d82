"""Blender meshes of the reference objects and the room's parts."""

from typing import Any

import bpy
import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.scenes.box import BOX_SIDES, box_corners
from calibration.scenes.materials import image_material, plain_material
from calibration.scenes.references import Book, Mounted
from calibration.scenes.scene import Bar, Door, Paper, Place, Rgb, Wheel
from pose_fit.reference.printed_sheet import sheet_image

__all__ = [
    "add_book",
    "add_box",
    "add_mesh",
    "add_reference",
    "add_skirting",
    "opening",
    "to_blender",
]

_SHEET_PX_PER_MM = 4.0


def to_blender(points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Wall frame (N, 3) in millimetres to Blender's metres."""
    turned_mm = np.stack([points_mm[:, 0], points_mm[:, 2], -points_mm[:, 1]], axis=1)
    return np.asarray(turned_mm / 1000.0)


def add_mesh(name: str, points_m: NDArray[np.float64], faces: list[list[int]]) -> Any:
    """A mesh object of points in Blender's axes, linked into the scene."""
    mesh = bpy.data.meshes.new(name)
    mesh.from_pydata(points_m.tolist(), [], faces)
    obj = bpy.data.objects.new(name, mesh)
    bpy.context.scene.collection.objects.link(obj)
    return obj


def add_box(
    name: str,
    low_mm: tuple[float, float, float],
    high_mm: tuple[float, float, float],
    *,
    opening: tuple[float, float, float] | None = None,
) -> Any:
    """A box along the wall frame's axes; ``opening`` leaves a doorway in its length.

    The opening is (left x, right x, top y); what is left are three boxes in one mesh.
    """
    boxes = [(low_mm, high_mm)]
    if opening is not None:
        left, right, top = opening
        boxes = [
            (low_mm, (left, high_mm[1], high_mm[2])),
            ((right, low_mm[1], low_mm[2]), high_mm),
            ((left, low_mm[1], low_mm[2]), (right, top, high_mm[2])),
        ]
    corners_mm = np.concatenate([box_corners(low, high) for low, high in boxes])
    faces = [
        [8 * box + corner for corner in side] for box in range(len(boxes)) for side in BOX_SIDES
    ]
    return add_mesh(name, to_blender(corners_mm), faces)


def opening(mounted: Mounted) -> tuple[float, float, float] | None:
    """The doorway a door's leaf needs in the wall, 3 mm wider than the leaf all round."""
    if not isinstance(mounted.reference, Door):
        return None
    corners = mounted.points_mm["corners"]
    return (
        float(corners[:, 0].min()) - 3,
        float(corners[:, 0].max()) + 3,
        float(corners[:, 1].min()) - 3,
    )


def add_skirting(place: Place, mounted: Mounted) -> None:
    """The board along the wall's foot, left out across a doorway and its frame."""
    gap = opening(mounted)
    spans = [(-8000.0, 8000.0)]
    if gap is not None:
        spans = [(-8000.0, gap[0] - 60), (gap[1] + 60, 8000.0)]
    material = plain_material("skirting", place.skirting_rgb)
    for left, right in spans:
        board = add_box(
            "skirting", (left, -place.skirting_height_mm, -place.skirting_depth_mm), (right, 0, 1)
        )
        board.data.materials.append(material)


def add_reference(mounted: Mounted) -> None:
    """The reference object itself."""
    reference = mounted.reference
    if isinstance(reference, Paper):
        _add_paper(mounted, reference)
    elif isinstance(reference, Door):
        _add_door(mounted, reference)
    elif isinstance(reference, Wheel):
        _add_wheel(mounted, reference)
    else:
        _add_bar(mounted, reference)


def _add_paper(mounted: Mounted, paper: Paper) -> None:
    size_mm = np.array([paper.width_mm, paper.height_mm])
    shown = np.ones(2)
    if paper.kind == "sheet":
        page = sheet_image(paper=paper.paper, px_per_mm=_SHEET_PX_PER_MM)
        # What is printed keeps its size on paper that was cut larger or smaller.
        shown = size_mm * _SHEET_PX_PER_MM / page.shape[::-1]
        page = _printed(page, paper.print_scale)
    else:
        page = np.full((4, 4), 255, np.uint8)
    image = _page_image(page)
    corners = np.array([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]]) * [*size_mm / 2, 1]
    obj = add_mesh("page", to_blender(mounted.place(corners)), [[3, 2, 1, 0]])
    uv = obj.data.uv_layers.new(name="uv")
    for loop, way in zip(uv.data, ((-1, -1), (1, -1), (1, 1), (-1, 1)), strict=True):
        loop.uv = tuple(0.5 + np.array(way) * shown / 2)
    obj.data.materials.append(image_material("page", image))


def _page_image(page: NDArray[np.uint8]) -> Any:
    """A printed page, grey or RGB, as Blender's image."""
    image = bpy.data.images.new("page", page.shape[1], page.shape[0], alpha=False)
    # Changing the colour space clears the pixels, so it comes first.
    image.colorspace_settings.name = "Non-Color"
    rgba = np.ones((*page.shape[:2], 4), np.float32)
    # Toner is not perfectly black.
    printed = page[::-1] if page.ndim == 3 else page[::-1, :, None]
    rgba[..., :3] = 0.04 + 0.96 * printed / 255.0
    image.pixels.foreach_set(rgba.ravel())
    image.update()
    return image


def add_book(book: Book) -> None:
    """The book, and the label folded over the end that faces the camera."""
    half = book.thickness_mm / 2
    local = np.array(
        [
            [x, y, z]
            for x in (-half, half)
            for y in (0.3, book.height_mm)
            for z in (1.0, book.depth_mm)
        ]
    )
    faces = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]]
    box = add_mesh("book", to_blender(book.place(local)), faces)
    box.data.materials.append(plain_material("book", book.rgb))
    label = add_mesh("label", to_blender(book.label_corners_mm), [[3, 2, 1, 0]])
    uv = label.data.uv_layers.new(name="uv")
    for loop, at in zip(uv.data, ((0, 0), (1, 0), (1, 1), (0, 1)), strict=True):
        loop.uv = at
    label.data.materials.append(image_material("label", _page_image(book.label)))


def _printed(page: NDArray[np.uint8], scale: float) -> NDArray[np.uint8]:
    """The page's print scaled about its middle, on paper of the same size."""
    height, width = page.shape
    # Edges, not pixel centres, scale about the page's middle.
    shift_x, shift_y = (1 - scale) * (width - 1) / 2, (1 - scale) * (height - 1) / 2
    matrix = np.array([[scale, 0, shift_x], [0, scale, shift_y]])
    printed = cv2.warpAffine(
        page, matrix, (width, height), flags=cv2.INTER_LINEAR, borderValue=(255.0,)
    )
    return np.asarray(printed, np.uint8)


def _add_door(mounted: Mounted, door: Door) -> None:
    corners = mounted.points_mm["corners"]
    (left, top), (right, bottom) = corners[0, :2], corners[2, :2]
    face = door.recess_mm
    leaf = plain_material("leaf", door.rgb, roughness=0.4)
    frame = plain_material("frame", door.frame_rgb, roughness=0.4)
    add_box("leaf", (left, top, face), (right, bottom, face + 40)).data.materials.append(leaf)
    for low, high in (
        ((left - 65, top - 3, -13), (left - 3, 0, 60)),
        ((right + 3, top - 3, -13), (right + 65, 0, 60)),
        ((left - 65, top - 65, -13), (right + 65, top - 3, 60)),
    ):
        add_box("frame", low, high).data.materials.append(frame)
    shade: Rgb = (0.8 * door.rgb[0], 0.8 * door.rgb[1], 0.8 * door.rgb[2])
    if door.panels:
        width, height = right - left, bottom - top
        for low_y, high_y in ((0.07, 0.48), (0.56, 0.93)):
            panel = add_box(
                "panel",
                (left + 0.16 * width, top + low_y * height, face - 4),
                (right - 0.16 * width, top + high_y * height, face + 1),
            )
            panel.data.materials.append(plain_material("panel", shade, roughness=0.4))
    metal = plain_material("handle", (0.6, 0.6, 0.6), roughness=0.25, metallic=1.0)
    handle_x = left + 60 if door.side > 0 else right - 60
    handle = add_box("handle", (handle_x - 50, -1010, face - 50), (handle_x + 50, -994, face - 36))
    handle.data.materials.append(metal)
    neck = add_box("neck", (handle_x - 8, -1010, face - 50), (handle_x + 8, -994, face))
    neck.data.materials.append(metal)


def _add_wheel(mounted: Mounted, wheel: Wheel) -> None:
    outer, tube = wheel.true_diameter_mm / 2, wheel.width_mm / 2
    rubber = plain_material("rubber", (0.018, 0.018, 0.019), roughness=0.8)
    rim = plain_material("rim", wheel.rim_rgb, roughness=0.3, metallic=0.6)
    steel = plain_material("spokes", (0.5, 0.5, 0.5), roughness=0.3, metallic=1.0)
    _add_torus(mounted, outer - tube, tube, rubber)
    bead = outer - 2 * tube
    _add_torus(mounted, bead - 4, min(9.0, 0.4 * tube), rim)
    hub = 18.0
    for spoke in range(20):
        angle = 2 * np.pi * spoke / 20
        lead = angle + (0.25 if spoke % 2 else -0.25)
        start = np.array([hub * np.cos(lead), hub * np.sin(lead), 25 if spoke % 4 < 2 else -25])
        end = np.array([(bead - 4) * np.cos(angle), (bead - 4) * np.sin(angle), 0])
        _add_rod(mounted, start, end, 1.3, steel)
    _add_rod(mounted, np.array([0, 0, -35.0]), np.array([0, 0, 35.0]), hub, rim)


def _add_bar(mounted: Mounted, bar: Bar) -> None:
    half = np.array([0, bar.length_mm / 2, 0])
    _add_rod(mounted, -half, half, bar.radius_mm, plain_material("bar", bar.rgb))


def _add_torus(mounted: Mounted, ring_mm: float, tube_mm: float, material: Any) -> None:
    around, across = 96, 20
    angle = 2 * np.pi * np.arange(around) / around
    turn = 2 * np.pi * np.arange(across) / across
    radius = ring_mm + tube_mm * np.cos(turn)
    points = np.stack(
        [
            radius[None] * np.cos(angle)[:, None],
            radius[None] * np.sin(angle)[:, None],
            np.broadcast_to(tube_mm * np.sin(turn), (around, across)),
        ],
        axis=-1,
    ).reshape(-1, 3)
    faces = [
        [
            i * across + j,
            (i + 1) % around * across + j,
            (i + 1) % around * across + (j + 1) % across,
            i * across + (j + 1) % across,
        ]
        for i in range(around)
        for j in range(across)
    ]
    obj = add_mesh("torus", to_blender(mounted.place(points)), faces)
    obj.data.materials.append(material)
    obj.data.shade_smooth()


def _add_rod(
    mounted: Mounted,
    start_mm: NDArray[np.float64],
    end_mm: NDArray[np.float64],
    radius_mm: float,
    material: Any,
) -> None:
    """A round rod with flat ends between two local points."""
    axis = (end_mm - start_mm) / np.linalg.norm(end_mm - start_mm)
    aside = np.cross(axis, [0.0, 0.0, 1.0] if abs(axis[2]) < 0.9 else [1.0, 0.0, 0.0])
    aside /= np.linalg.norm(aside)
    other = np.cross(axis, aside)
    sides = 16
    turn = 2 * np.pi * np.arange(sides) / sides
    ring = radius_mm * (np.cos(turn)[:, None] * aside + np.sin(turn)[:, None] * other)
    points = np.concatenate([start_mm + ring, end_mm + ring])
    faces = [[i, (i + 1) % sides, sides + (i + 1) % sides, sides + i] for i in range(sides)]
    faces += [list(range(sides))[::-1], list(range(sides, 2 * sides))]
    obj = add_mesh("rod", to_blender(mounted.place(points)), faces)
    obj.data.materials.append(material)
