"""Trunk, arms and head of a child of a given inseam, for reach and for drawings."""

import math
from dataclasses import dataclass
from typing import Final

from pose_fit.anthropometry.people import people

__all__ = ["UpperBody"]

#: Shoulder joint above the seat, share of the sitting height; upper arm and forearm to the grip,
#: shares of the stature; head height. Adult segment tables eased towards children (from memory;
#: nothing is decided by them).
_SHOULDER_SHARE: Final = 0.63
_UPPER_ARM_SHARE: Final = 0.175
_FOREARM_SHARE: Final = 0.19
_HEAD_MM: Final = (165.0, 0.03)


@dataclass(frozen=True, slots=True)
class UpperBody:
    """Lengths in millimetres.

    Attributes
    ----------
    stature_mm
        Floor to the top of the head, barefoot.
    shoulder_above_seat_mm, head_top_above_seat_mm
        Sitting upright.
    upper_arm_mm, forearm_mm
        Shoulder to elbow, elbow to the middle of the grip.
    head_mm
        Chin to the top of the head.
    """

    stature_mm: float
    shoulder_above_seat_mm: float
    head_top_above_seat_mm: float
    upper_arm_mm: float
    forearm_mm: float
    head_mm: float

    @classmethod
    def of_inseam(cls, inseam_mm: float) -> "UpperBody":
        """By the proportions of measured children; see the module's constants."""
        stature_mm = people().stature_from_inseam.mean_mm(inseam_mm)
        sitting_mm = stature_mm - inseam_mm
        return cls(
            stature_mm=stature_mm,
            shoulder_above_seat_mm=_SHOULDER_SHARE * sitting_mm,
            head_top_above_seat_mm=sitting_mm,
            upper_arm_mm=_UPPER_ARM_SHARE * stature_mm,
            forearm_mm=_FOREARM_SHARE * stature_mm,
            head_mm=_HEAD_MM[0] + _HEAD_MM[1] * stature_mm,
        )

    def arm_span_mm(self, *, elbow_flexion_rad: float) -> float:
        """Shoulder to grip with the elbow bent by this much; law of cosines."""
        upper_mm, fore_mm = self.upper_arm_mm, self.forearm_mm
        return math.sqrt(
            upper_mm**2 + fore_mm**2 + 2 * upper_mm * fore_mm * math.cos(elbow_flexion_rad)
        )
