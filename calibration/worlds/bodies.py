"""Bodies with the proportions of measured people, from a baked stock of the body model.

The stock lets a machine without the body model dress and pose; a few hundred shapes are
baked once, and each child takes the shape nearest in age and sex and is stretched along
the body until its own crotch, knee, ankle and crown heights and foot length are there. The hip
joint goes with the skin around it (:mod:`calibration.worlds.hips`).
"""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import SKIN_VERTICES, Body, Parts, body_of, parts
from calibration.scenes.dress import marks_of
from calibration.scenes.posing import inseam_mm
from calibration.scenes.scene import Person
from calibration.worlds.people import Proportions

__all__ = ["Stock", "bake_stock", "heights_mm", "load_stock", "proportioned"]

#: Vertices are kept in steps of this size.
_STEP_MM: Final = 0.05
#: The stretched body's inseam, standing erect, is brought this near to the drawn one.
_TOLERANCE_MM: Final = 0.05


@dataclass(frozen=True, eq=False, slots=True)
class Stock:
    """Baked rest shapes: (P, V, 3) vertices in steps, (P, B, 3) joints, and whose they are."""

    ages_years: NDArray[np.float64]
    is_girl: NDArray[np.bool_]
    steps: NDArray[np.int16]
    joints_mm: NDArray[np.float32]
    parts: Parts

    def body(self, index: int) -> Body:
        """One rest shape."""
        return Body(
            vertices_mm=self.steps[index].astype(np.float64) * _STEP_MM,
            joints_mm=self.joints_mm[index].astype(np.float64),
            parts=self.parts,
        )

    def body_like(self, wanted: Proportions, *, pick: int) -> Body:
        """A shape of about this age and sex, ``pick`` choosing among the nearest six."""
        is_own = self.is_girl == (wanted.sex == "f")
        away = np.abs(self.ages_years - wanted.age_years) + 100.0 * ~is_own
        nearest = np.argsort(away, kind="stable")[:6]
        return proportioned(self.body(int(nearest[pick % len(nearest)])), wanted)


def bake_stock(people: list[Person], path: Path) -> None:
    """Write the rest shapes of people, with topology and skinning, into one file."""
    bodies = [body_of(person) for person in people]
    shared = parts()
    faces = {
        f"faces_{name}": np.concatenate([np.array(face, np.int32) for face in own])
        for name, own in shared.faces.items()
    }
    corners = {
        f"corners_{name}": np.array([len(face) for face in own], np.int32)
        for name, own in shared.faces.items()
    }
    vertices, bones = np.nonzero(shared.weights)
    np.savez_compressed(
        path,
        ages=np.array([person.age_years for person in people]),
        is_girl=np.array([person.sex == "f" for person in people]),
        steps=np.round(np.stack([b.vertices_mm for b in bodies]) / _STEP_MM).astype(np.int16),
        joints=np.stack([b.joints_mm for b in bodies]).astype(np.float32),
        bone_names=np.array(shared.bone_names),
        bone_parents=np.array(shared.bone_parents),
        weight_at=np.stack([vertices, bones]).astype(np.int32),
        weight=shared.weights[vertices, bones].astype(np.float32),
        **faces,
        **corners,
    )


def load_stock(path: Path) -> Stock:
    """Read what :func:`bake_stock` wrote."""
    with np.load(path) as baked:
        steps, names = baked["steps"], baked["bone_names"]
        weights = np.zeros((steps.shape[1], len(names)))
        weights[tuple(baked["weight_at"])] = baked["weight"]
        weights /= weights.sum(axis=1, keepdims=True)
        faces = {}
        for key in baked.files:
            if key.startswith("faces_"):
                name = key.removeprefix("faces_")
                ends = np.cumsum(baked[f"corners_{name}"])[:-1]
                faces[name] = [part.tolist() for part in np.split(baked[key], ends)]
        return Stock(
            ages_years=baked["ages"],
            is_girl=baked["is_girl"],
            steps=steps,
            joints_mm=baked["joints"],
            parts=Parts(
                faces=faces,
                bone_names=tuple(str(name) for name in names),
                bone_parents=tuple(int(parent) for parent in baked["bone_parents"]),
                weights=weights,
            ),
        )


def heights_mm(body: Body) -> dict[str, float]:
    """Heights above the soles of the rest shape's levels, millimetres."""
    marks = marks_of(body)
    levels = {
        "ankle": marks.ankle_y_mm,
        "knee": marks.knee_y_mm,
        "crotch": marks.crotch_y_mm,
        "neck": marks.collar_y_mm,
        "crown": float(body.vertices_mm[:SKIN_VERTICES, 1].min()),
    }
    return {name: marks.sole_y_mm - level for name, level in levels.items()}


def proportioned(body: Body, wanted: Proportions) -> Body:
    """The body scaled to the wanted stature, then stretched along itself to each height.

    The map of heights is a monotone cubic through the levels, the same for all points of a
    height, so that limbs, trunk and clothes stretch together; above the neck the head keeps
    its shape. The crotch's level is moved until the inseam, standing erect, is the wanted one.
    """
    crown_mm = heights_mm(body)["crown"]
    scale = wanted.stature_mm / crown_mm
    scaled = replace(body, vertices_mm=scale * body.vertices_mm, joints_mm=scale * body.joints_mm)
    scaled = _with_feet(scaled, wanted.foot_length_mm)
    crotch_mm = wanted.inseam_mm
    stretched = _stretched(scaled, wanted, crotch_mm)
    for _ in range(5):
        miss_mm = inseam_mm(stretched) - wanted.inseam_mm
        if abs(miss_mm) < _TOLERANCE_MM:
            break
        crotch_mm -= miss_mm
        stretched = _stretched(scaled, wanted, crotch_mm)
    return stretched


def _stretched(body: Body, wanted: Proportions, crotch_mm: float) -> Body:
    from scipy.interpolate import PchipInterpolator

    found = heights_mm(body)
    head_mm = found["crown"] - found["neck"]
    levels = np.array([found[name] for name in ("ankle", "knee", "crotch", "neck")])
    heights = np.array([wanted.ankle_mm, wanted.knee_mm, crotch_mm, wanted.stature_mm - head_mm])
    before = np.concatenate([[-200.0, 0.0], levels, [found["crown"], found["crown"] + 200.0]])
    after = np.concatenate([[-200.0, 0.0], heights, wanted.stature_mm + np.array([0.0, 200.0])])
    carry = PchipInterpolator(before, after)
    sole_y_mm = marks_of(body).sole_y_mm

    def moved(points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        out = points_mm.copy()
        out[:, 1] = -carry(np.clip(sole_y_mm - points_mm[:, 1], -199.0, before[-1] - 1.0))
        return out

    return replace(body, vertices_mm=moved(body.vertices_mm), joints_mm=moved(body.joints_mm))


def _with_feet(body: Body, length_mm: float) -> Body:
    """The feet lengthened about their ankles, and widened by the root of that."""
    weight = body.parts.bones_weight("foot", "toe")
    skin = body.vertices_mm[:SKIN_VERTICES][weight[:SKIN_VERTICES] > 0.5]
    stretch = length_mm / float(np.ptp(skin[:, 2]))
    vertices, joints = body.vertices_mm.copy(), body.joints_mm.copy()
    for mark, sign in (("L", 1.0), ("R", -1.0)):
        ankle = body.joint_mm(f"foot.{mark}")
        own = np.where(sign * vertices[:, 0] > 0, weight, 0.0)
        vertices[:, 2] += own * (stretch - 1) * (vertices[:, 2] - ankle[2])
        vertices[:, 0] += own * (np.sqrt(stretch) - 1) * (vertices[:, 0] - ankle[0])
        for place, name in enumerate(body.parts.bone_names):
            if name.startswith("toe") and name.endswith(mark):
                joints[place, 2] += (stretch - 1) * (joints[place, 2] - ankle[2])
                joints[place, 0] += (np.sqrt(stretch) - 1) * (joints[place, 0] - ankle[0])
    return replace(body, vertices_mm=vertices, joints_mm=joints)
