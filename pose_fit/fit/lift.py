"""The lift test: how far the bicycle comes up until the top tube touches, and the inseam from that.

The child stands over the top tube in shoes. Lifted whole and level, the bicycle rises by the
clearance. Lifted at the front wheel alone, the rear tyre stays on the ground and rolls while
the frame turns about the rear axle, so a point x ahead of that axle and y above it rises by

    rise = x sin(t) - y (1 - cos(t))          (1)

while the front tyre leaves the ground by

    lift = wheelbase * sin(t)                 (2)

with wheels of one size. The top tube is straddled less than half way along the wheelbase, so the
front wheel comes up more than twice as far as the top tube: a bicycle with 6 in of clearance shows
over a foot under its front tyre.
"""

import math
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.tyre import Tyre
from pose_fit.errors import LengthError
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import INSEAM_RANGE_MM, Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Refusal

__all__ = ["LIFT_SD_MM", "Lifted", "expected_lift", "inseam_from_lift", "straddle_mm"]

#: ``whole``: both wheels, level. ``front_wheel``: the rear tyre stays on the ground.
Lifted = Literal["whole", "front_wheel"]

#: Reading a lift under a tyre while feeling for the first touch, standard uncertainty, with a
#: child who may be on the toes a little (common practice, no source).
LIFT_SD_MM: Final = 8.0
#: Where the rider straddles the top tube: ahead of the saddle's middle by half a child's saddle and
#: half the depth of the pelvis, and how much that place scatters (common practice, no source).
_AHEAD_OF_SADDLE_MM: Final = 150.0
_PLACE_SD_MM: Final = 25.0
#: Without seat geometry: share of the wheelbase ahead of the rear axle, and its scatter.
_PLACE_SHARE: Final = 0.44
_PLACE_SHARE_SD: Final = 0.05
#: Largest tilt at which somebody still stands over the top tube.
_MAX_TILT_RAD: Final = math.radians(60.0)


@dataclass(frozen=True, slots=True)
class _Lever:
    """The straddled point against the rear axle, and the wheelbase; millimetres."""

    ahead_mm: float
    ahead_sd_mm: float
    above_mm: float
    wheelbase_mm: float

    def rise_mm(self, tilt_rad: float) -> float:
        """Eq. (1)."""
        return self.ahead_mm * math.sin(tilt_rad) - self.above_mm * (1 - math.cos(tilt_rad))

    def rise_slope_mm(self, tilt_rad: float) -> float:
        """Derivative of the rise by the tilt, millimetres a radian."""
        return self.ahead_mm * math.cos(tilt_rad) - self.above_mm * math.sin(tilt_rad)

    def tilt_rad(self, rise_mm: float) -> float | None:
        """Inverse of Eq. (1), from R sin(t + p) = rise + y; None where the top tube never touches."""
        radius_mm = math.hypot(self.ahead_mm, self.above_mm)
        sine = (rise_mm + self.above_mm) / radius_mm
        if sine > 1:
            return None
        tilt_rad = math.asin(sine) - math.atan2(self.above_mm, self.ahead_mm)
        return max(tilt_rad, 0.0) if tilt_rad <= _MAX_TILT_RAD else None


def straddle_mm(bicycle: Bicycle) -> tuple[float, float] | None:
    """How far ahead of the rear axle the rider straddles the top tube, and its standard uncertainty.

    From seat tube, lowest saddle and chainstay where they are known, else a share of the
    wheelbase; None without either. Of a tyre with several sizes the commonest will do: the
    chainstay's fall to the axle hardly moves its length along the ground.
    """
    bracket_mm, saddle_mm = bicycle.bottom_bracket_height_mm, bicycle.saddle_min_mm
    angle_rad, stay_mm = bicycle.seat_tube_angle_rad, bicycle.chainstay_mm
    if (
        bracket_mm is not None
        and saddle_mm is not None
        and angle_rad is not None
        and stay_mm is not None
    ):
        drop_mm = bicycle.tyre.likeliest.outside_diameter_mm / 2 - bracket_mm
        run_mm = math.sqrt(max(stay_mm**2 - drop_mm**2, 0.0))
        behind_mm = (saddle_mm - bracket_mm) / math.tan(angle_rad)
        return run_mm - behind_mm + _AHEAD_OF_SADDLE_MM, _PLACE_SD_MM
    if bicycle.wheelbase_mm is not None:
        return _PLACE_SHARE * bicycle.wheelbase_mm, _PLACE_SHARE_SD * bicycle.wheelbase_mm
    return None


def expected_lift(
    inseam: Inseam, bicycle: Bicycle, *, lifted: Lifted = "whole", rider: Rider | None = None
) -> UncertainLength | Refusal:
    """Lift under the tyre or tyres until the top tube touches, with its budget.

    The mean is 0 where the top tube touches already. First-order propagation, JCGM 100 5.1.2.

    Returns
    -------
    UncertainLength or Refusal
        Refused for a frame without a top tube, unknown geometry, and where the front wheel can be
        lifted all the way without a touch.
    """
    rider = rider or Rider()
    if not bicycle.has_top_tube:
        return _no_top_tube()
    clearance_mm = max(inseam.mean_mm + rider.soles_mm - bicycle.standover_mm, 0.0)
    lines = (
        *inseam.length.budget,
        Contribution("riding shoe", rider.soles_sd_mm, shared=True),
        Contribution("standover height", bicycle.standover_sd_mm, shared=True),
    )
    if lifted == "whole":
        return UncertainLength(clearance_mm, lines)
    lever = _lever(bicycle)
    if isinstance(lever, Refusal):
        return lever
    tilt_rad = lever.tilt_rad(clearance_mm)
    if tilt_rad is None:
        return Refusal.because(
            "top_tube_never_touches",
            "However far the front wheel is lifted, the top tube does not touch. Lift the"
            " whole bicycle instead.",
        )
    gain = lever.wheelbase_mm * math.cos(tilt_rad) / lever.rise_slope_mm(tilt_rad)
    scaled = tuple(line.times(gain) for line in lines)
    place_sd_mm = gain * math.sin(tilt_rad) * lever.ahead_sd_mm
    place = Contribution("place on the top tube", place_sd_mm, shared=True)
    return UncertainLength(lever.wheelbase_mm * math.sin(tilt_rad), (*scaled, place))


def inseam_from_lift(
    lift_mm: float, bicycle: Bicycle, *, lifted: Lifted = "whole", rider: Rider | None = None
) -> Inseam | Refusal:
    """Inseam of a child who lifts this bicycle by this much until the top tube touches.

    Raises
    ------
    LengthError
        The lift is not a finite length of 0 or more, or longer than the wheelbase allows.
    """
    rider = rider or Rider()
    if not (math.isfinite(lift_mm) and lift_mm >= 0):
        raise LengthError(f"lift_mm: wanted 0 mm or more, found {lift_mm}")
    if not bicycle.has_top_tube:
        return _no_top_tube()
    rise_mm, reading_sd_mm = lift_mm, LIFT_SD_MM
    place: tuple[Contribution, ...] = ()
    if lifted == "front_wheel":
        lever = _lever(bicycle)
        if isinstance(lever, Refusal):
            return lever
        highest_mm = lever.wheelbase_mm * math.sin(_MAX_TILT_RAD)
        if lift_mm > highest_mm:
            raise LengthError(
                f"lift_mm: wanted at most {highest_mm:.0f} mm with this wheelbase, found {lift_mm:.0f}"
            )
        tilt_rad = math.asin(lift_mm / lever.wheelbase_mm)  # Eq. (2)
        rise_mm = lever.rise_mm(tilt_rad)
        slope = lever.rise_slope_mm(tilt_rad) / (lever.wheelbase_mm * math.cos(tilt_rad))
        reading_sd_mm = abs(slope) * LIFT_SD_MM
        place = (Contribution("place on the top tube", math.sin(tilt_rad) * lever.ahead_sd_mm),)
    if lift_mm == 0:
        return Refusal.because(
            "top_tube_touches",
            "The top tube touches before anything is lifted, so the inseam is shorter than the"
            " standover height, by an unknown amount.",
            "Take a smaller bicycle.",
        )
    mean_mm = bicycle.standover_mm + rise_mm - rider.soles_mm
    low_mm, high_mm = INSEAM_RANGE_MM
    if not low_mm <= mean_mm <= high_mm:
        raise LengthError(
            f"{both_units(lift_mm)} gives an inseam of {both_units(mean_mm)}; wanted one of"
            f" {both_units(low_mm)} to {both_units(high_mm)}"
        )
    budget = (
        Contribution("lift reading", reading_sd_mm),
        Contribution("riding shoe", rider.soles_sd_mm, shared=True),
        Contribution("standover height", bicycle.standover_sd_mm, shared=True),
        *place,
    )
    return Inseam(UncertainLength(mean_mm, budget), "lift")


def _lever(bicycle: Bicycle) -> _Lever | Refusal:
    place = straddle_mm(bicycle)
    if place is None or bicycle.wheelbase_mm is None:
        return _missing("the wheelbase")
    tyre = bicycle.tyre
    if not isinstance(tyre, Tyre):
        return _missing("the tyre's ISO code, which gives the wheel's radius")
    above_mm = bicycle.standover_mm - tyre.outside_diameter_mm / 2
    return _Lever(place[0], place[1], above_mm, bicycle.wheelbase_mm)


def _missing(what: str) -> Refusal:
    message = f"Lifting the front wheel alone says nothing without {what}."
    return Refusal.because("geometry_missing", message, "Lift the whole bicycle.")


def _no_top_tube() -> Refusal:
    message = "A step-through frame has no top tube to touch, so a lift says nothing."
    return Refusal.because("no_top_tube", message, "Take a bicycle with a top tube.")
