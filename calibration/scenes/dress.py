"""Clothes and shoes, cut from the body model's suit and skirt.

A garment is a region of faces whose rest points are moved off the body along their
normals, then carried by the same skinning as the body. The crotch of the trousers is
lowered on the way; how low it really hangs is measured on the finished mesh.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import Body
from calibration.scenes.posing import SHOE_MM, SOCK_MM, Posed
from calibration.scenes.scene import Dress, Rgb, Scene

__all__ = [
    "Marks",
    "Piece",
    "Tailor",
    "clothes",
    "crotch_drop_mm",
    "folds_mm",
    "marks_of",
    "normals",
]

_ARMS: Final = ("upperarm", "lowerarm", "wrist", "finger", "metacarpal")


@dataclass(frozen=True, eq=False, slots=True)
class Piece:
    """A mesh in the wall frame: (N, 3) points, faces of point indices, (N, 3) colours.

    ``vertices`` names the body model's vertex each point hangs on, (N,).
    """

    name: str
    points_mm: NDArray[np.float64]
    faces: list[list[int]]
    vertices: NDArray[np.int64]
    rgb: NDArray[np.float64]
    surface: str
    second_rgb: Rgb = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Marks:
    """Levels of the rest body (y down) where garments begin and end."""

    collar_y_mm: float
    waist_y_mm: float
    crotch_y_mm: float
    knee_y_mm: float
    ankle_y_mm: float
    sole_y_mm: float

    @property
    def ankle_height_mm(self) -> float:
        """Ankle joint above the sole."""
        return self.sole_y_mm - self.ankle_y_mm

    def leg_at_mm(self, fraction: float) -> float:
        """Level along the leg: 0 at the crotch, 1 at the knee, 2 at the ankle."""
        levels = [self.crotch_y_mm, self.knee_y_mm, self.ankle_y_mm, self.sole_y_mm]
        return float(np.interp(fraction, [0, 1, 2, 3], levels))


def marks_of(body: Body) -> Marks:
    """The levels of a rest body."""
    return Marks(
        collar_y_mm=float(body.joint_mm("neck01")[1]),
        waist_y_mm=float(body.joint_mm("spine03")[1]),
        crotch_y_mm=float(body.vertices_mm[body.crotch_vertex, 1]),
        knee_y_mm=float(body.joint_mm("lowerleg01.L")[1]),
        ankle_y_mm=float(body.joint_mm("foot.L")[1]),
        sole_y_mm=float(body.vertices_mm[: body.skin_count, 1].max()),
    )


def clothes(scene: Scene, posed: Posed) -> tuple[list[Piece], NDArray[np.bool_]]:
    """The garments, and which of the body's vertices they cover, (V,)."""
    rng = np.random.default_rng((scene.seed, scene.index, 77))
    tailor = Tailor(posed=posed, marks=marks_of(posed.body), dress=scene.dress, rng=rng)
    pieces = [tailor.legwear(), tailor.top()]
    if scene.dress.cover != "none":
        pieces.append(tailor.cover())
    if scene.dress.footwear != "bare":
        pieces.append(tailor.socks())
    if scene.dress.footwear == "shoes":
        pieces.append(tailor.shoes())
    return pieces, tailor.covered()


def crotch_drop_mm(pieces: list[Piece], posed: Posed) -> float:
    """How far the legwear's midline hangs below the skin's crotch in the stance."""
    legwear = next(piece for piece in pieces if piece.name == "legwear")
    rest_x_mm = posed.body.vertices_mm[legwear.vertices, 0]
    midline = legwear.points_mm[np.abs(rest_x_mm) < 1.5]
    crotch_y_mm = posed.vertices_mm[posed.body.crotch_vertex, 1]
    return float(midline[:, 1].max() - crotch_y_mm)


@dataclass(frozen=True, slots=True)
class Tailor:
    """Cuts the garments of one child."""

    posed: Posed
    marks: Marks
    dress: Dress
    rng: np.random.Generator

    @property
    def rest_mm(self) -> NDArray[np.float64]:
        return self.posed.body.vertices_mm

    @property
    def nowhere(self) -> NDArray[np.bool_]:
        return np.zeros(len(self.rest_mm), bool)

    def weight(self, *bones: str) -> NDArray[np.float64]:
        return self.posed.body.parts.bones_weight(*bones)

    def legwear(self) -> Piece:
        dress, marks, y = self.dress, self.marks, self.rest_mm[:, 1]
        hem_y = marks.leg_at_mm(dress.leg_hem_fraction)
        region = (y > marks.waist_y_mm) & (y < hem_y) & (self.weight(*_ARMS) < 0.3)
        below_knee = np.clip((y - marks.knee_y_mm) / (marks.ankle_y_mm - marks.knee_y_mm), 0, 1)
        if dress.legwear == "shorts":
            below_knee = np.clip((y - marks.crotch_y_mm) / (hem_y - marks.crotch_y_mm), 0, 1)
        ease = dress.leg_ease_mm + dress.leg_flare_mm * below_knee
        # The seat is cut closer than the legs.
        ease = np.where(y < marks.crotch_y_mm - 60, np.minimum(ease, 9.0), ease)
        ease += folds_mm(self.rest_mm, self.rng, amplitude_mm=dress.fold_mm)
        points = self.off(ease)
        points[:, 1] += self.slack(points)
        points[:, 1] = np.minimum(points[:, 1], hem_y)
        past_hem = (y >= hem_y) & (self.weight(*_ARMS) < 0.3)
        return self.sew("legwear", "suit", region, points, dress.leg_rgb, dress.leg_weave, past_hem)

    def slack(self, points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        """How far each point of the legwear is let down at the crotch."""
        slack = self.dress.crotch_slack_mm
        below = points_mm[:, 1] - self.marks.crotch_y_mm
        reach = np.where(below > 0, 1 - below / (2.5 * slack + 1), 1 + below / 90)
        width = 28 + 0.3 * np.maximum(below, 0)
        inner = np.exp(-((points_mm[:, 0] / width) ** 2))
        let_down: NDArray[np.float64] = slack * np.clip(reach, 0, 1) * inner
        return let_down

    def top(self) -> Piece:
        dress, marks, y = self.dress, self.marks, self.rest_mm[:, 1]
        arm = self.weight(*_ARMS)
        past, along = self.past_cuff()
        on_torso = arm < 0.3
        hem_y = marks.crotch_y_mm - dress.top_above_crotch_mm
        past = np.where(on_torso, y - hem_y, past)
        along = np.where(on_torso[:, None], [0.0, 1.0, 0.0], along)
        past_collar = on_torso & (y <= marks.collar_y_mm)
        region = (past < 0) & ~past_collar
        ease = dress.top_ease_mm * (1 - 0.4 * arm)
        ease += folds_mm(self.rest_mm, self.rng, amplitude_mm=2.0)
        over_trousers = min(dress.leg_ease_mm, 9.0) + 4
        ease += np.where((y > marks.waist_y_mm - 60) & on_torso, over_trousers, 0.0)
        points = self.off(ease) - np.maximum(past, 0)[:, None] * along
        points[past_collar, 1] = marks.collar_y_mm
        return self.sew(
            "top",
            "suit",
            region,
            points,
            dress.top_rgb,
            dress.top_pattern,
            (past >= 0) | past_collar,
            second_rgb=dress.top_second_rgb,
        )

    def past_cuff(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """How far each vertex is past its sleeve's end, (V,), and along what, (V, 3)."""
        body = self.posed.body
        past = np.zeros(len(self.rest_mm))
        along = np.zeros_like(self.rest_mm)
        for mark, is_own in (("L", self.rest_mm[:, 0] > 0), ("R", self.rest_mm[:, 0] <= 0)):
            shoulder = body.joint_mm(f"upperarm01.{mark}")
            elbow, wrist = body.joint_mm(f"lowerarm01.{mark}"), body.joint_mm(f"wrist.{mark}")
            start, end = (shoulder, elbow) if self.dress.top_sleeve == "short" else (elbow, wrist)
            share = 0.72 if self.dress.top_sleeve == "short" else 0.88
            axis = (end - start) / np.linalg.norm(end - start)
            past[is_own] = (self.rest_mm[is_own] - start) @ axis - share * np.linalg.norm(
                end - start
            )
            along[is_own] = axis
        return past, along

    def cover(self) -> Piece:
        dress, marks, y = self.dress, self.marks, self.rest_mm[:, 1]
        hem_y = marks.crotch_y_mm + dress.cover_below_crotch_mm
        ease = dress.cover_ease_mm + folds_mm(self.rest_mm, self.rng, amplitude_mm=5.0)
        ease = np.maximum(ease, np.where(y < marks.crotch_y_mm, 16.0, -20.0))
        points = self.off(ease)
        points[:, 1] = np.minimum(points[:, 1], hem_y)
        is_skirt = dress.cover == "skirt"
        return self.sew(
            "cover",
            "skirt",
            y < hem_y,
            points,
            dress.leg_rgb if is_skirt else dress.top_rgb,
            "plain" if is_skirt else dress.top_pattern,
            y >= hem_y,
            second_rgb=dress.top_second_rgb,
        )

    def socks(self) -> Piece:
        marks, y = self.marks, self.rest_mm[:, 1]
        sock = self.sew(
            "socks",
            "suit",
            y > marks.ankle_y_mm - 1.2 * marks.ankle_height_mm,
            self.off(SOCK_MM),
            self.dress.sock_rgb,
            "plain",
            self.nowhere,
        )
        points = sock.points_mm.copy()
        points[:, 1] = np.minimum(points[:, 1], 0.0)
        return replace(sock, points_mm=points)

    def shoes(self) -> Piece:
        marks, y, dress = self.marks, self.rest_mm[:, 1], self.dress
        region = (self.weight("foot", "toe") > 0.5) & (y > marks.ankle_y_mm)
        shoe = self.sew(
            "shoes", "suit", region, self.off(SHOE_MM), dress.shoe_rgb, "shoe", self.nowhere
        )
        points, rgb = shoe.points_mm.copy(), shoe.rgb.copy()
        in_sole = points[:, 1] > -dress.soles_mm - 9
        points[in_sole, 1] = 0.0
        rgb[in_sole] = dress.sole_rgb
        return replace(shoe, points_mm=points, rgb=rgb)

    def covered(self) -> NDArray[np.bool_]:
        """Skin well inside a garment, left out because it would poke through."""
        dress, marks, y = self.dress, self.marks, self.rest_mm[:, 1]
        arm = self.weight(*_ARMS)
        hem_y = marks.leg_at_mm(dress.leg_hem_fraction)
        past, _ = self.past_cuff()
        torso = (y > marks.collar_y_mm + 55) & (y < marks.crotch_y_mm) & (arm < 0.3)
        legs = (y > marks.waist_y_mm) & (y < hem_y - 20) & (arm < 0.3)
        sleeve = (arm > 0.3) & (past < -15)
        covered = torso | legs | sleeve
        if dress.footwear != "bare":
            covered |= y > marks.ankle_y_mm - 0.9 * marks.ankle_height_mm
        return covered

    def off(self, ease_mm: NDArray[np.float64] | float) -> NDArray[np.float64]:
        """Rest points moved off the body along their normals."""
        return np.asarray(self.rest_mm + normals(self.posed.body) * np.reshape(ease_mm, (-1, 1)))

    def sew(
        self,
        name: str,
        part: str,
        region: NDArray[np.bool_],
        points_mm: NDArray[np.float64],
        rgb: Rgb,
        surface: str,
        past_hem: NDArray[np.bool_],
        *,
        second_rgb: Rgb = (0.0, 0.0, 0.0),
    ) -> Piece:
        """Cuts the region's faces and those that end at its hem, and puts them on."""
        kept = [
            face
            for face in self.posed.body.parts.faces[part]
            if any(region[corner] for corner in face)
            and all(region[corner] or past_hem[corner] for corner in face)
        ]
        vertices = np.unique([corner for face in kept for corner in face])
        place = {int(vertex): row for row, vertex in enumerate(vertices)}
        return Piece(
            name=name,
            points_mm=self.posed.carry(points_mm[vertices], vertices),
            faces=[[place[corner] for corner in face] for face in kept],
            vertices=vertices,
            rgb=np.tile(rgb, (len(vertices), 1)),
            surface=surface,
            second_rgb=second_rgb,
        )


def normals(body: Body) -> NDArray[np.float64]:
    """Outward unit normals of the rest shape's vertices, (V, 3)."""
    total = np.zeros_like(body.vertices_mm)
    for faces in body.parts.faces.values():
        corners = np.array([face for face in faces if len(face) == 4])
        quads = body.vertices_mm[corners]
        area = np.cross(quads[:, 2] - quads[:, 0], quads[:, 3] - quads[:, 1])
        for column in range(4):
            np.add.at(total, corners[:, column], area)
    length = np.linalg.norm(total, axis=1, keepdims=True)
    # The model's right-handed axes stay right-handed in the body frame, so do its faces.
    unit: NDArray[np.float64] = total / np.maximum(length, 1e-9)
    return unit


def folds_mm(
    points_mm: NDArray[np.float64], rng: np.random.Generator, *, amplitude_mm: float
) -> NDArray[np.float64]:
    """Smooth unevenness: a sum of waves of 60..200 mm in any direction, (N,)."""
    total = np.zeros(len(points_mm))
    for _ in range(6):
        direction = rng.normal(size=3)
        direction *= 2 * np.pi / rng.uniform(60, 200) / np.linalg.norm(direction)
        total += np.sin(points_mm @ direction + rng.uniform(0, 2 * np.pi))
    waves: NDArray[np.float64] = amplitude_mm * total / np.sqrt(6)
    return waves
