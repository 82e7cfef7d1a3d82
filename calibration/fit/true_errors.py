"""Each error of what is seen in one rendered photo, with everything else at its truth.

In parts of the inseam or of the straight leg, or in millimetres.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from calibration.true_view import cast_true, leg_down_px, true_mm, true_px
from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.inseam.photo_equation import foot_reach_mm
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.sights.candidates import CrotchCandidate
from pose_fit.sights.wall_base import SKIRTING_DEPTH_MM

__all__ = [
    "Seen",
    "depth_steps",
    "hang_mm",
    "hip_before_wall",
    "joint_errors",
    "lines_alone",
    "look_down",
    "reach_mm",
    "shows_line",
    "skin_error",
    "straight_mm",
    "wall_base_error",
]

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Seen:
    """An observation with its sights and the candidates that are right."""

    truth: Mapping[str, Any]
    sights: PhotoSights


_SIDES: Final = ("left", "right")

_JOINTS: Final = ("hip", "knee", "ankle")


def joint_errors(item: Seen) -> _Array:
    """(3,) hip, knee, ankle landmark below the body model's joint along the leg, in legs."""
    down_px = leg_down_px(item.truth)
    leg_px = float(np.hypot(*down_px))
    true = true_px(item.truth, *(f"{j}_{s}" for j in _JOINTS for s in _SIDES))
    off = item.sights.body.points_px(LEG_LANDMARKS) - true
    along: _Array = (off @ (down_px / leg_px) / leg_px).reshape(3, 2).mean(axis=1)
    return along


def depth_steps(item: Seen) -> _Array:
    """(4,) ankle before heel, hip before ankle, knee before the line between, crotch before hip.

    In inseams: the program's straight leg is near the inseam.
    """
    truth = item.truth
    hip, knee, ankle = (
        -true_mm(truth, f"{joint}_left", f"{joint}_right")[:, 2].mean() for joint in _JOINTS
    )
    heel = -true_mm(truth, "heel_left", "heel_right")[:, 2].mean()
    crotch = -true_mm(truth, "crotch")[0, 2]
    steps = np.array([ankle - heel, hip - ankle, knee - (hip + ankle) / 2, crotch - hip])
    return steps / float(truth["inseam_mm"])


def hip_before_wall(item: Seen) -> float | None:
    """Hip joint before the wall, in inseams, of a child asked to stand at it; else None."""
    if item.truth.get("stance_group", "asked") != "asked":
        return None
    hips_mm = true_mm(item.truth, "hip_left", "hip_right")
    return float(-hips_mm[:, 2].mean() / item.truth["inseam_mm"])


def straight_mm(truth: Mapping[str, Any]) -> float:
    hips, knees, ankles = (true_mm(truth, f"{joint}_left", f"{joint}_right") for joint in _JOINTS)
    thigh, shank = np.linalg.norm(hips - knees, axis=1), np.linalg.norm(knees - ankles, axis=1)
    return float((thigh + shank).mean())


#: Shares of belief in the lines where the network is left out.
_LINES_ALONE: Final = 0.85


def hang_mm(item: Seen) -> float:
    """How far the seen end of the line lies below the crotch, at the crotch's depth."""
    crotch_mm = true_mm(item.truth, "crotch")[0]
    point_px = lines_alone(item.sights)[0].point_px[None]
    seen_mm = cast_true(item.truth, point_px, axis=2, at_mm=crotch_mm[2])[0]
    return float(seen_mm[1] - crotch_mm[1])


def shows_line(item: Seen) -> bool:
    lines = lines_alone(item.sights)
    return bool(lines) and lines[0].kind == "line" and item.truth["legwear"] != "hidden"


def lines_alone(sights: PhotoSights) -> tuple[CrotchCandidate, ...]:
    """The crotches found by rule, with the weights that they have without the network."""
    lines = [one for one in sights.crotches if not one.is_at_skin]
    whole = sum(one.weight for one in lines)
    return tuple(replace(one, weight=_LINES_ALONE * one.weight / whole) for one in lines)


def look_down(item: Seen) -> float:
    """How steeply the true camera looks down on the crotch: tangent of the angle."""
    to_crotch_mm = true_mm(item.truth, "crotch")[0] - item.truth["camera"]["position_mm"]
    return float(to_crotch_mm[1] / to_crotch_mm[2])


def skin_error(item: Seen, skin: CrotchCandidate) -> float:
    """How far the network's crotch lies below the true one at its depth, in straight legs."""
    crotch_mm = true_mm(item.truth, "crotch")[0]
    seen_mm = cast_true(item.truth, skin.point_px[None], axis=2, at_mm=crotch_mm[2])[0]
    return float(seen_mm[1] - crotch_mm[1]) / straight_mm(item.truth)


def reach_mm(item: Seen) -> float:
    """Where the lowest points of the feet meet the floor, beyond the foot length from the heels."""
    floor_mm = cast_true(item.truth, item.sights.toes[0].points_px, axis=1, at_mm=0.0)
    heels_mm = true_mm(item.truth, "heel_left", "heel_right")
    return float((heels_mm - floor_mm)[:, 2].mean()) - foot_reach_mm(straight_mm(item.truth))


def wall_base_error(item: Seen) -> float | None:
    """Height of the nearest candidate over the true floor, in straight legs; None if none is near."""
    at_mm = -SKIRTING_DEPTH_MM[0]
    heights_mm = [
        float(cast_true(item.truth, base.line_px, axis=2, at_mm=at_mm)[:, 1].mean())
        for base in item.sights.wall_bases
    ]
    nearest_mm = min(heights_mm, key=abs)
    return nearest_mm / straight_mm(item.truth) if abs(nearest_mm) < 20.0 else None
