"""Cloth let fall on the body: Blender's cloth simulation for a garment made of tubes."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.worlds.tubes import Cloth

__all__ = ["fall"]

_FRAMES: Final = 22


def fall(
    cloth: Cloth,
    *,
    body_mm: NDArray[np.float64],
    body_faces: list[list[int]],
    stiffness: float,
    shrink: float,
) -> NDArray[np.float64]:
    """The cloth's points after it has fallen on the body, (N, 3).

    Both meshes share one frame with y down; the floor is at y = 0. The pinned points stay.
    ``shrink`` lets the cloth be longer (negative) or shorter than it was laid out.
    """
    import bpy

    from calibration.scenes.props import add_box, add_mesh, to_blender

    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    scene.gravity = (0, 0, -9.81)
    body = add_mesh("body", to_blender(body_mm), body_faces)
    floor = add_box("floor", (-3000, 0, -3000), (3000, 50, 3000))
    for collider in (body, floor):
        collider.modifiers.new("Collision", "COLLISION")
        collider.collision.thickness_outer = 0.003
        collider.collision.cloth_friction = 12.0
    garment = add_mesh("garment", to_blender(cloth.points_mm), cloth.faces)
    group = garment.vertex_groups.new(name="pinned")
    group.add(np.flatnonzero(cloth.is_pinned).tolist(), 1.0, "REPLACE")
    garment.modifiers.new("Cloth", "CLOTH")
    settings = garment.modifiers["Cloth"].settings
    settings.quality = 5
    settings.mass = 0.3
    settings.air_damping = 2.0
    settings.tension_stiffness = settings.compression_stiffness = 15.0 * stiffness
    settings.shear_stiffness = 5.0 * stiffness
    settings.bending_stiffness = 0.5 * stiffness
    settings.vertex_group_mass = "pinned"
    settings.shrink_min = shrink
    collision = garment.modifiers["Cloth"].collision_settings
    collision.collision_quality = 2
    collision.distance_min = 0.003
    collision.use_self_collision = False
    garment.modifiers["Cloth"].point_cache.frame_end = _FRAMES
    for frame in range(1, _FRAMES + 1):
        scene.frame_set(frame)
    fallen = garment.evaluated_get(bpy.context.evaluated_depsgraph_get()).to_mesh()
    points = np.empty(3 * len(fallen.vertices))
    fallen.vertices.foreach_get("co", points)
    x, z, y = points.reshape(-1, 3).T
    return np.asarray(1000.0 * np.stack([x, -y, z], axis=1))
