"""A leg on a crank, seen from the side: a two-link chain from saddle to pedal.

Frame: origin on the ground below the bottom bracket, x forward, y up, millimetres. The crank turns
clockwise; its angle is 0 at the top and grows forward. The knee is the forward one of the two
meeting points of the circles around hip and ankle, found without trigonometry.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.fit.fleet import Fleet
from pose_fit.fit.leg import Leg

__all__ = ["TOP_OF_STROKE_RAD", "LegPose", "knee_gap_mm", "leg_pose"]

Array = NDArray[np.float64]
_Point = tuple[Array, Array]

#: Crank angles at which the knee comes nearest to the handlebar.
TOP_OF_STROKE_RAD: Final = np.radians([10.0, 25.0, 40.0, 55.0, 70.0])
#: Heel above the ball of the foot on the pedal: mean and swing, most at the bottom of the
#: stroke (from memory of published ankling; common practice).
_HEEL_RAISE_RAD: Final = (math.radians(15.0), math.radians(5.0))


@dataclass(frozen=True, eq=False, slots=True)
class LegPose:
    """Joints of a leg at one or more crank angles, each an array of x and of y.

    Attributes
    ----------
    hip, knee, ankle
        Pairs ``(x_mm, y_mm)``.
    knee_flexion_rad
        Bend of the knee, 0 when straight.
    thigh_elevation_rad
        Thigh above the horizontal, negative when the knee is below the hip.
    """

    hip: _Point
    knee: _Point
    ankle: _Point
    knee_flexion_rad: Array
    thigh_elevation_rad: Array


def leg_pose(fleet: Fleet, leg: Leg, *, saddle_mm: Array, crank_rad: Array) -> LegPose:
    """Pose of the leg, broadcast over bicycles, children and crank angles.

    Parameters
    ----------
    fleet
        Bicycles, (M,) arrays.
    leg
        Legs whose arrays broadcast with (M,).
    saddle_mm
        Floor to top of the saddle, broadcasting with (M,).
    crank_rad
        Crank angles, broadcasting with (M,); for several angles a bicycle, shape (A, 1).

    Returns
    -------
    LegPose
        Arrays of the broadcast shape; NaN where geometry is missing.
    """
    hip, ankle = _ends(fleet, leg, saddle_mm, crank_rad)
    knee = _knee(hip, ankle, leg)
    # Law of cosines at the knee; flexion is what is missing to a straight leg.
    span_sq = (ankle[0] - hip[0]) ** 2 + (ankle[1] - hip[1]) ** 2
    cos_flexion = (span_sq - leg.thigh_mm**2 - leg.shank_mm**2) / (2 * leg.thigh_mm * leg.shank_mm)
    return LegPose(
        hip=hip,
        knee=knee,
        ankle=ankle,
        knee_flexion_rad=np.arccos(np.clip(cos_flexion, -1, 1)),
        thigh_elevation_rad=np.arctan2(knee[1] - hip[1], knee[0] - hip[0]),
    )


def _ends(fleet: Fleet, leg: Leg, saddle_mm: Array, crank_rad: Array) -> tuple[_Point, _Point]:
    """Hip and ankle."""
    bracket_y = fleet.bottom_bracket_height_mm
    hip = (-(saddle_mm - bracket_y) * fleet.saddle_run, saddle_mm + leg.hip_above_saddle_mm)
    ball = (fleet.crank_mm * np.sin(crank_rad), bracket_y + fleet.crank_mm * np.cos(crank_rad))
    heel_rad = _HEEL_RAISE_RAD[0] - _HEEL_RAISE_RAD[1] * np.cos(crank_rad)
    sin_heel, cos_heel = np.sin(heel_rad), np.cos(heel_rad)
    above_mm = leg.ankle_mm + leg.sole_mm
    ankle = (
        ball[0] - leg.ball_mm * cos_heel + above_mm * sin_heel,
        ball[1] + leg.ball_mm * sin_heel + above_mm * cos_heel,
    )
    return hip, ankle


def _knee(hip: _Point, ankle: _Point, leg: Leg) -> _Point:
    """The knee; where the leg is too short, on the line from hip to ankle."""
    away_x, away_y = ankle[0] - hip[0], ankle[1] - hip[1]
    span_sq = away_x**2 + away_y**2
    # Foot of the knee's perpendicular on the line hip-ankle, as a share of that line.
    share = 0.5 * (1 + (leg.thigh_mm**2 - leg.shank_mm**2) / span_sq)
    height = np.sqrt(np.maximum(leg.thigh_mm**2 / span_sq - share**2, 0))
    return hip[0] + share * away_x - height * away_y, hip[1] + share * away_y + height * away_x


def knee_gap_mm(fleet: Fleet, leg: Leg, *, saddle_mm: Array) -> Array:
    """Least distance from the front of the leg, knee or thigh, to the grips in the side view.

    Returns
    -------
    (M,) array
        Millimetres, negative where the grips would be inside the leg; NaN where handlebar, crank or
        seat angle are not known.
    """
    hip, ankle = _ends(fleet, leg, saddle_mm, TOP_OF_STROKE_RAD[:, None])
    knee = _knee(hip, ankle, leg)
    # Place along the thigh nearest to the grips: 0 at the hip, 1 at the knee.
    thigh_x, thigh_y = knee[0] - hip[0], knee[1] - hip[1]
    grip_x, grip_y = fleet.handlebar_reach_mm - hip[0], fleet.handlebar_height_mm - hip[1]
    along = (grip_x * thigh_x + grip_y * thigh_y) / leg.thigh_mm**2
    along = np.minimum(np.maximum(along, 0), 1)
    gap_sq = (grip_x - along * thigh_x) ** 2 + (grip_y - along * thigh_y) ** 2
    return np.asarray(np.sqrt(np.min(gap_sq, axis=0)) - leg.knee_depth_mm)
