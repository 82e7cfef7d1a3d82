"""A child's leg as the side view needs it: two links, a foot, and how high the feet can reach.

Coefficients: straight lines on the inseam through measured US children of 3-14 years (Snyder
et al. 1977, crotch height derived from stature and sitting height), made by
``python -m calibration.people.leg_proportions``, which also prints the scatter. The foot's line is the one
that measuring uses.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.fit.policy import Rider

__all__ = [
    "ANKLE_TO_BALL_SHARE",
    "FLAT_FOOT_SHARE",
    "HIP_ABOVE_SADDLE_SHARE",
    "SADDLE_SD_MM",
    "THIGH_SCATTER",
    "TIPTOE_RAD",
    "Leg",
    "flat_foot_inseam_mm",
    "flat_foot_saddle_mm",
    "tiptoe_gain_mm",
    "tiptoe_inseam_mm",
]

Array = NDArray[np.float64]

#: Intercept (mm) and slope on the inseam; residual SD 18, 14, 8 mm, n = 978, 936, 938.
_THIGH: Final = (2.2, 0.5138)
_SHANK: Final = (0.7, 0.4603)
_ANKLE: Final = (12.0, 0.0650)
_FOOT: Final = people().foot_length_from_inseam
#: Residual SD of the thigh over the inseam.
THIGH_SCATTER: Final = 0.03

#: Ankle joint to ball of the foot, share of the foot's length (from memory).
ANKLE_TO_BALL_SHARE: Final = 0.48
#: How far the heel is raised on tiptoe (range of an active heel raise, from memory).
TIPTOE_RAD: Final = math.radians(40.0)
#: Hip joint above the top of the saddle, share of the inseam. Sit bones, soft tissue and the
#: pelvis's tilt leave it open, so it is set by what the saddle rule is known to give: 1.09 x
#: inseam to the pedal bends the knee by 30 degrees, the middle of the 25-35 aimed at.
HIP_ABOVE_SADDLE_SHARE: Final = 0.03
#: With both feet flat the saddle is this share of the inseam below the crotch in shoes, because
#: the thighs part around it (common practice, no source: about an inch).
FLAT_FOOT_SHARE: Final = 0.04
#: Standard uncertainty of a saddle limit turned into an inseam: saddle height by tape 5 mm, foot
#: length 2.5 mm, heel raise of 40 +- 5 degrees 6.5 mm, root of the sum of squares.
SADDLE_SD_MM: Final = 8.5

#: Patella surface to knee centre, share of the inseam (common practice, no source).
_KNEE_DEPTH_SHARE: Final = 0.075


@dataclass(frozen=True, eq=False, slots=True)
class Leg:
    """Lengths of one leg or of many, millimetres; every field a number or an (N,) array.

    Attributes
    ----------
    inseam_mm
        Floor to crotch, barefoot.
    thigh_mm, shank_mm
        Hip joint to knee, knee to ankle.
    ankle_mm
        Ankle joint above the sole of the foot.
    ball_mm
        Ankle joint forward to the ball of the foot.
    sole_mm
        Thickness of the shoe's sole.
    """

    inseam_mm: Array
    thigh_mm: Array
    shank_mm: Array
    ankle_mm: Array
    ball_mm: Array
    sole_mm: float

    @classmethod
    def of_inseam(
        cls,
        inseam_mm: Array | float,
        *,
        rider: Rider,
    ) -> "Leg":
        """Leg of a child of this inseam, by the proportions of measured children."""
        inseam = np.asarray(inseam_mm, dtype=np.float64)
        return cls(
            inseam_mm=inseam,
            thigh_mm=_line(_THIGH, inseam),
            shank_mm=_line(_SHANK, inseam),
            ankle_mm=_line(_ANKLE, inseam),
            ball_mm=ANKLE_TO_BALL_SHARE * _FOOT.mean_mm(inseam),
            sole_mm=rider.soles_mm,
        )

    @property
    def hip_above_crotch_mm(self) -> Array:
        """Hip joint above the crotch, standing."""
        lines = (_THIGH, _SHANK, _ANKLE)
        hip_height_mm = sum((_line(line, self.inseam_mm) for line in lines), np.float64(0))
        return np.asarray(hip_height_mm - self.inseam_mm)

    @property
    def hip_above_saddle_mm(self) -> Array:
        """Hip joint above the top of the saddle, seated."""
        return HIP_ABOVE_SADDLE_SHARE * self.inseam_mm

    @property
    def foot_mm(self) -> Array:
        """Heel to toe, barefoot."""
        return self.ball_mm / ANKLE_TO_BALL_SHARE

    @property
    def knee_depth_mm(self) -> Array:
        """Front of the knee to its centre."""
        return _KNEE_DEPTH_SHARE * self.inseam_mm


def _line(coefficients: tuple[float, float], inseam_mm: Array) -> Array:
    return coefficients[0] + coefficients[1] * inseam_mm


#: Tiptoe gain is linear in the inseam, as the foot is: lever times the sine of the heel raise.
_GAIN_INTERCEPT_MM: Final = ANKLE_TO_BALL_SHARE * math.sin(TIPTOE_RAD) * _FOOT.intercept_mm
_GAIN_SLOPE: Final = ANKLE_TO_BALL_SHARE * math.sin(TIPTOE_RAD) * _FOOT.slope


def tiptoe_gain_mm(inseam_mm: Array) -> Array:
    """How much higher than the inseam a saddle can be with the toes of one foot on the ground.

    A child who stops leans the bicycle and slides to that side, which makes up for the thighs'
    parting around the saddle.
    """
    return _GAIN_INTERCEPT_MM + _GAIN_SLOPE * inseam_mm


def tiptoe_inseam_mm(saddle_mm: Array, *, sole_mm: float) -> Array:
    """Inseam of the child who reaches the ground on tiptoe from a saddle of this height.

    Inverse of ``saddle = inseam + tiptoe_gain_mm(inseam) + sole``.
    """
    return (saddle_mm - sole_mm - _GAIN_INTERCEPT_MM) / (1 + _GAIN_SLOPE)


def flat_foot_saddle_mm(inseam_mm: Array, *, sole_mm: float) -> Array:
    """Highest saddle from which both feet are flat on the ground."""
    return (1 - FLAT_FOOT_SHARE) * inseam_mm + sole_mm


def flat_foot_inseam_mm(saddle_mm: Array, *, sole_mm: float) -> Array:
    """Inverse of :func:`flat_foot_saddle_mm`."""
    return (saddle_mm - sole_mm) / (1 - FLAT_FOOT_SHARE)
