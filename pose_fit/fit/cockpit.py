"""How this child sits on this bicycle, seen from the side: one set of angles and gaps.

Same frame as ``side_view.py``. What is worked out here explains a verdict; only the saddle range
and the knee's room decide one, in ``outgrown.py``.
"""

import functools
import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.standards import toe_clearance_mm
from pose_fit.fit.fleet import Fleet
from pose_fit.fit.leg import Leg
from pose_fit.fit.policy import Rider
from pose_fit.fit.saddle import TO_BOTTOM_BRACKET, TO_PEDAL, saddle_wanted_mm
from pose_fit.fit.side_view import knee_gap_mm, leg_pose
from pose_fit.fit.upper_body import UpperBody
from pose_fit.refusal import Refusal

__all__ = ["CROWDED_HIP_RAD", "RECOMMENDED_FLEXION_RAD", "Cockpit", "cockpit", "trunk_lean_rad"]

#: Knee bend at the bottom of the stroke that saddle rules aim at (Peveler et al. 2005).
RECOMMENDED_FLEXION_RAD: Final = (math.radians(25.0), math.radians(35.0))
#: Angle between trunk and thigh below which the thigh crowds the body (common practice, no
#: source).
CROWDED_HIP_RAD: Final = math.radians(55.0)
#: Bend of the elbow a rider is comfortable with, and the most upright trunk.
_ELBOW_FLEXION_RAD: Final = math.radians(25.0)
_UPRIGHT_RAD: Final = math.radians(85.0)
#: Toe beyond the ball of the foot, share of the foot's length, and the shoe's cap (from memory).
_TOE_SHARE: Final = 0.27
_SHOE_CAP_MM: Final = 12.0


@dataclass(frozen=True, slots=True)
class Cockpit:
    """Angles in radians, lengths in millimetres.

    Attributes
    ----------
    saddle_mm
        Where the saddle goes: as high as wanted, within its range.
    saddle_range_mm
        Lowest and highest saddle of the bicycle.
    saddle_wanted_mm
        Where it would go without limits.
    saddle_to_pedal_rule_mm, saddle_to_bottom_bracket_rule_mm
        Floor to saddle by 1.09 x inseam to the pedal and 0.883 x inseam to the bottom bracket: the
        leg's full stretch, for comparison.
    knee_flexion_bottom_rad, knee_flexion_top_rad
        Least and greatest bend of the knee in a turn of the crank.
    knee_gap_mm
        Front of the knee to the grips, at their nearest.
    hip_angle_rad
        Between trunk and thigh, at their closest.
    trunk_lean_rad
        Trunk over the horizontal, hands on the grips; 90° is upright.
    overreach_mm
        What the arms lack with the trunk as low as the thighs allow; 0 where they reach.
    toe_room_mm
        Shoe's toe to the front tyre, wheel straight; None where the tyre's size is ambiguous or
        the front centre unknown.
    """

    saddle_mm: float
    saddle_range_mm: tuple[float, float]
    saddle_wanted_mm: float
    saddle_to_pedal_rule_mm: float
    saddle_to_bottom_bracket_rule_mm: float
    knee_flexion_bottom_rad: float
    knee_flexion_top_rad: float
    knee_gap_mm: float
    hip_angle_rad: float
    trunk_lean_rad: float
    overreach_mm: float
    toe_room_mm: float | None


#: Fields of a bicycle without which nothing is said about the cockpit.
_NEEDED: Final = {
    "saddle_min_mm": "lowest saddle",
    "saddle_max_mm": "highest saddle",
    "crank_mm": "crank length",
    "bottom_bracket_height_mm": "bottom bracket height",
    "seat_tube_angle_rad": "seat tube angle",
    "handlebar_reach_mm": "handlebar reach",
    "handlebar_height_mm": "handlebar height",
}


@functools.lru_cache(maxsize=256)
def cockpit(inseam_mm: float, bicycle: Bicycle, *, rider: Rider | None = None) -> Cockpit | Refusal:
    """Seat the child on the bicycle; refused without pedals or a length that it needs.

    Remembered, because reasons, cautions and drawing of one fit all ask for it.
    """
    if not bicycle.pedals:
        message = "A child on a bicycle without pedals walks; only its saddle heights count."
        return Refusal.because("no_pedals", message)
    missing = [words for name, words in _NEEDED.items() if getattr(bicycle, name) is None]
    if missing:
        message = f"How a child sits on this bicycle is not known without its {', '.join(missing)}."
        return Refusal.because("geometry_missing", message)
    rider = rider or Rider()
    fleet = Fleet.of((bicycle,))
    leg = Leg.of_inseam(np.array([inseam_mm]), rider=rider)
    wanted_mm = float(saddle_wanted_mm(fleet, np.array([inseam_mm]), rider=rider)[0])
    saddle_mm = float(np.clip(wanted_mm, fleet.saddle_min_mm[0], fleet.saddle_max_mm[0]))
    turn_rad = np.linspace(0, 2 * np.pi, 180, endpoint=False)[:, None]
    pose = leg_pose(fleet, leg, saddle_mm=np.array([saddle_mm]), crank_rad=turn_rad)
    hip = float(pose.hip[0].flat[0]), float(pose.hip[1].flat[0])
    grip = float(fleet.handlebar_reach_mm[0]), float(fleet.handlebar_height_mm[0])
    body = UpperBody.of_inseam(inseam_mm)
    lean_rad, overreach_mm = trunk_lean_rad(hip, grip, body, saddle_mm=saddle_mm)
    sine = 1 / math.hypot(1, float(fleet.saddle_run[0]))
    bracket_mm, crank_mm = float(fleet.bottom_bracket_height_mm[0]), float(fleet.crank_mm[0])
    toe_mm = toe_clearance_mm(bicycle)
    overhang_mm = _TOE_SHARE * float(leg.foot_mm[0]) + _SHOE_CAP_MM
    return Cockpit(
        saddle_mm=saddle_mm,
        saddle_range_mm=(float(fleet.saddle_min_mm[0]), float(fleet.saddle_max_mm[0])),
        saddle_wanted_mm=wanted_mm,
        saddle_to_pedal_rule_mm=bracket_mm + (TO_PEDAL * inseam_mm - crank_mm) * sine,
        saddle_to_bottom_bracket_rule_mm=bracket_mm + TO_BOTTOM_BRACKET * inseam_mm * sine,
        knee_flexion_bottom_rad=float(pose.knee_flexion_rad.min()),
        knee_flexion_top_rad=float(pose.knee_flexion_rad.max()),
        knee_gap_mm=float(knee_gap_mm(fleet, leg, saddle_mm=np.array([saddle_mm]))[0]),
        hip_angle_rad=lean_rad - float(pose.thigh_elevation_rad.max()),
        trunk_lean_rad=lean_rad,
        overreach_mm=overreach_mm,
        toe_room_mm=None if toe_mm is None else toe_mm - overhang_mm,
    )


def trunk_lean_rad(
    hip: tuple[float, float], grip: tuple[float, float], body: UpperBody, *, saddle_mm: float
) -> tuple[float, float]:
    """Lean of the trunk with the hands on the grips, and what the arms lack.

    The shoulder is the upper meeting point of two circles: around the hip by the trunk, around
    the grips by an arm bent as is comfortable. Near grips leave the trunk upright and bend the
    arm more; grips out of reach stretch it.
    """
    away_x, away_y = grip[0] - hip[0], grip[1] - hip[1]
    span_mm = math.hypot(away_x, away_y)
    trunk_mm = body.shoulder_above_seat_mm - (hip[1] - saddle_mm)
    arm_mm = body.arm_span_mm(elbow_flexion_rad=_ELBOW_FLEXION_RAD)
    if span_mm > trunk_mm + arm_mm:
        arm_mm = body.upper_arm_mm + body.forearm_mm
    overreach_mm = max(span_mm - trunk_mm - arm_mm, 0.0)
    # Law of cosines at the hip, between the trunk and the line to the grips.
    cosine = (span_mm**2 + trunk_mm**2 - arm_mm**2) / (2 * span_mm * trunk_mm)
    lean_rad = math.atan2(away_y, away_x) + math.acos(max(-1.0, min(1.0, cosine)))
    return min(lean_rad, _UPRIGHT_RAD), overreach_mm
