"""The child's own surface: skin colours, eyes and hair."""

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.dress import Piece, folds_mm, normals
from calibration.scenes.posing import Posed
from calibration.scenes.scene import Scene

__all__ = ["bare_parts"]


def bare_parts(scene: Scene, posed: Posed, *, covered: NDArray[np.bool_]) -> list[Piece]:
    """Skin where nothing covers it, eyes and hair."""
    parts = posed.body.parts
    skin = [face for face in parts.faces["skin"] if not all(covered[corner] for corner in face)]
    vertices_mm = posed.vertices_mm
    pieces = [
        _piece("skin", skin, vertices_mm, _skin_rgb(scene, posed), "skin"),
        _piece("eyes", parts.faces["eyes"], vertices_mm, _eye_rgb(scene, posed), "eye"),
        _scalp(scene, posed),
    ]
    if scene.person.hair == "long":
        pieces.append(_long_hair(scene, posed))
    return pieces


def _piece(
    name: str,
    faces: list[list[int]],
    points_mm: NDArray[np.float64],
    rgb: NDArray[np.float64],
    surface: str,
) -> Piece:
    vertices = np.unique([corner for face in faces for corner in face])
    place = {int(vertex): row for row, vertex in enumerate(vertices)}
    return Piece(
        name=name,
        points_mm=points_mm[vertices],
        faces=[[place[corner] for corner in face] for face in faces],
        vertices=vertices,
        rgb=rgb[vertices],
        surface=surface,
    )


def _skin_rgb(scene: Scene, posed: Posed) -> NDArray[np.float64]:
    body, person = posed.body, scene.person
    rest = body.vertices_mm
    rgb = np.tile(person.skin_rgb, (len(rest), 1))
    rng = np.random.default_rng((scene.seed, scene.index, 78))
    rgb *= np.exp(folds_mm(rest, rng, amplitude_mm=0.05))[:, None]
    left, right = body.joint_mm("eye.L"), body.joint_mm("eye.R")
    between = float(left[0] - right[0])
    front = rest[:, 2] < left[2]
    for eye in (left, right):
        across = (rest[:, 0] - eye[0]) / (0.36 * between)
        arch = eye[1] - between * (0.36 - 0.06 * across**2)
        brow = front & (np.abs(across) < 1) & (np.abs(rest[:, 1] - arch) < 0.055 * between)
        rgb[brow] = 0.25 * rgb[brow] + 0.75 * np.array(person.hair_rgb)
    lips = body.parts.bones_weight("oris") > 0.75
    middle = (left + right) / 2
    lips &= np.abs(rest[:, 0]) < 0.42 * between
    lips &= np.abs(rest[:, 1] - middle[1] - 1.12 * between) < 0.22 * between
    rgb[lips] *= np.array([0.95, 0.6, 0.6])
    cheek = np.exp(
        -(((np.abs(rest[:, 0]) - 0.62 * between) / (0.3 * between)) ** 2)
        - ((rest[:, 1] - middle[1] - 0.6 * between) / (0.3 * between)) ** 2
    )
    cheek = np.where(front, cheek, 0.0)
    rgb *= 1 - 0.15 * cheek[:, None] * np.array([0.0, 1.0, 1.0])
    return rgb


def _eye_rgb(scene: Scene, posed: Posed) -> NDArray[np.float64]:
    body = posed.body
    rest = body.vertices_mm
    rgb = np.tile((0.75, 0.73, 0.72), (len(rest), 1))
    eye_vertices = np.unique([c for face in body.parts.faces["eyes"] for c in face])
    for mark in ("L", "R"):
        centre = body.joint_mm(f"eye.{mark}")
        own = eye_vertices[(rest[eye_vertices, 0] > 0) == (mark == "L")]
        offset = rest[own] - centre
        radius = np.linalg.norm(offset, axis=1).max()
        from_pole = np.hypot(offset[:, 0], offset[:, 1]) / radius
        in_front = offset[:, 2] < 0
        rgb[own[in_front & (from_pole < 0.5)]] = scene.person.iris_rgb
        rgb[own[in_front & (from_pole < 0.22)]] = 0.005
    return rgb


def _scalp(scene: Scene, posed: Posed) -> Piece:
    """Hair as the scalp's own surface, moved outwards."""
    body, person = posed.body, scene.person
    rest = body.vertices_mm
    eye = (body.joint_mm("eye.L") + body.joint_mm("eye.R")) / 2
    skin = rest[: body.skin_count]
    top_y, back_z = skin[:, 1].min(), skin[skin[:, 1] < eye[1] + 5, 2].max()
    front_z = skin[skin[:, 1] < eye[1], 2].min()
    depth = np.clip((rest[:, 2] - front_z) / (back_z - front_z), 0, 1)
    crown = eye[1] - top_y
    fall = np.clip((depth - 0.6) / 0.2, 0, 1)
    fall = fall * fall * (3 - 2 * fall)
    # High on the forehead, above the ears, down to the nape.
    temple = np.clip((depth - 0.2) / 0.25, 0, 1)
    hairline = eye[1] - crown * (0.55 - 0.3 * temple) + fall * 0.95 * crown
    margin = hairline - rest[:, 1]
    region = margin > 0
    thickness = 2.5 if person.hair == "cropped" else person.hair_thickness_mm
    rng = np.random.default_rng((scene.seed, scene.index, 79))
    full = np.clip(margin / (0.4 * crown), 0, 1)
    grow = thickness * full * (2 - full) * (1 + folds_mm(rest * 3, rng, amplitude_mm=0.12)) + 0.3
    faces = [face for face in body.parts.faces["skin"] if any(region[corner] for corner in face)]
    points = posed.carry(rest + normals(body) * grow[:, None])
    rgb = np.tile(person.hair_rgb, (len(rest), 1))
    return _piece("scalp", faces, points, rgb, "hair")


def _long_hair(scene: Scene, posed: Posed) -> Piece:
    """The model's long hair without its front strands, cut below the chin."""
    body, person = posed.body, scene.person
    rest = body.vertices_mm
    eye = body.joint_mm("eye.L")
    faces = [
        face
        for face in body.parts.faces["hair"]
        if min(rest[corner, 2] for corner in face) > eye[2] + 25
    ]
    cut_y = body.joint_mm("neck01")[1] - 20 + person.hair_length_mm
    points = rest + normals(body) * 6.0
    points[:, 1] = np.minimum(points[:, 1], cut_y)
    rgb = np.tile(person.hair_rgb, (len(rest), 1))
    return _piece("long_hair", faces, posed.carry(points), rgb, "hair")
