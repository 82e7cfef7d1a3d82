"""Does the child stand on both feet with straight legs, judged in millimetres?

Seen from the front a raised heel or a bent knee hardly changes a picture's shape, and
perspective changes it as much. Once the reference's plane is known, what is left is
the body's own: one ankle above the other, or both too high above the floor.
"""

from collections.abc import Mapping
from typing import Final

from pose_fit.body.body import Body
from pose_fit.checks.obliquity import FEET_APART_IN_DEPTH_RAD, HEELS_HIDDEN_RAD
from pose_fit.checks.posture import feet_in_depth, stands_staggered
from pose_fit.inseam.photo_equation import Floor, LegGeometry
from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.metrology.units import both_units
from pose_fit.notice_codes import NoticeCode
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.refusal import Notice, Refusal

__all__ = [
    "HEELS_UNSEEN",
    "RAISED_HEELS",
    "check_stance",
    "stance_warnings",
    "with_heels_open",
    "with_raised_heels",
]

#: Name of the budget's line for heels that may be off the floor.
RAISED_HEELS: Final = "raised heels"

#: Code of a refusal that ends once somebody says that both heels were on the floor.
HEELS_UNSEEN: Final = "heels_unseen"

# Limits in parts of the leg, hip to knee to ankle, as rendered photos of standing children
# leave them free.
#: One ankle above the other: at most 0.055 where both feet are equally far away.
MAX_ANKLES_UNEVEN: Final = 0.075
EQUALLY_FAR: Final = 0.09
#: Up to here it may be a foot nearer the camera, if both stand alike.
MAX_STAGGERED: Final = 0.12
#: The ankles above the floor, less what the regression expects, lie this high in standing children,
#: by what shows the floor; what sees it surest comes first.
USUALLY_HIGH: Final[Mapping[Floor, float]] = {"wall base": 0.020, "toes": 0.004}
#: Higher than usual by more than this in one of a hundred standing children seen straight. The pose
#: model draws a usual foot where a raised one is, so that the ankles look raised by half of what the
#: heels are.
MAX_ANKLES_HIGH: Final = 0.07
#: From here somebody has to say that the heels were down: how much more often a child on tiptoe
#: would make the picture than a standing one.
ASK_ODDS: Final = 0.78
#: From here there is doubt whatever is said.
WARN_ODDS: Final = 5.0
#: Heels raised by half a right angle lift the body by up to 0.12 of the leg: two standard
#: uncertainties of what the heels that are asked about may add.
RAISED_HEELS_SD: Final = 0.06
#: A reading with a larger relative standard uncertainty says nothing of the heels.
SURE_ENOUGH: Final = 0.06
#: Thigh over shank: 0.85 to 1.2 standing; knees that come forward look lower, so that it grows.
USUAL_THIGHS: Final = 1.12

_WERE_THEY: Final = "Were both heels on it? On tiptoe the inseam comes out too long."
_STAND: Final = (
    "Stand with straight legs and both feet flat on the floor, heels to the wall, and try again."
)


def check_stance(
    body: Body, plane: PlaneScale, legs: LegGeometry, reading: PhotoReading, *, heels_down: bool
) -> Refusal | None:
    """A refusal where a leg is bent or the heels are raised, else None.

    Heels that may be raised are one too, unless somebody says they were not (``heels_down``).
    """
    uneven_mm = _uneven_mm(legs)
    is_staggered = stands_staggered(body) and uneven_mm < MAX_STAGGERED * legs.straight_mm
    if (
        uneven_mm > MAX_ANKLES_UNEVEN * legs.straight_mm
        and not is_staggered
        and feet_in_depth(body) < EQUALLY_FAR
        and plane.obliquity_rad < FEET_APART_IN_DEPTH_RAD
    ):
        return _refused(
            "leg_bent",
            f"One ankle is {both_units(uneven_mm)} above the other: that leg is bent.",
        )
    high_mm = _high_mm(legs, reading)
    if high_mm > MAX_ANKLES_HIGH * legs.straight_mm and plane.obliquity_rad < HEELS_HIDDEN_RAD:
        seen = (
            f"The ankles are {both_units(high_mm)} higher above the floor than a standing child’s"
        )
        if legs.thigh_mm > USUAL_THIGHS * legs.shank_mm:
            return _refused("leg_bent", f"{seen}, and the thighs look long: the knees are bent.")
        return _refused("on_tiptoe", f"{seen}: the heels are raised, or the knees are bent.")
    if not heels_down and _are_heels_asked_about(reading):
        return Refusal((_heels_unseen(legs, reading),), (_STAND,), asks=("heels_down",))
    return None


def stance_warnings(legs: LegGeometry, reading: PhotoReading) -> tuple[Notice, ...]:
    """What makes a measurable stance less sure."""
    if _are_heels_doubtful(reading):
        return (Notice("on_tiptoe", _looks_high(legs, reading)),)
    if _uneven_mm(legs) > MAX_ANKLES_UNEVEN * legs.straight_mm:
        return (
            Notice(
                "feet_staggered",
                f"One ankle looks {both_units(_uneven_mm(legs))} higher than the other: one foot"
                " stands before the other.",
            ),
        )
    return ()


def with_raised_heels(legs: LegGeometry, reading: PhotoReading) -> UncertainLength:
    """The inseam, less sure by what raised heels would add to it where they are asked about."""
    doubtful = _are_heels_doubtful(reading)
    return with_heels_open(reading.length, legs) if doubtful else reading.length


def with_heels_open(length: UncertainLength, legs: LegGeometry) -> UncertainLength:
    """The inseam as unsure as heels that nobody speaks for leave it; once is enough."""
    if any(line.source == RAISED_HEELS for line in length.budget):
        return length
    # A child that stands on tiptoe for one picture does so for the next.
    raised = Contribution(RAISED_HEELS, RAISED_HEELS_SD * legs.straight_mm, shared=True)
    return length.widened_by(raised)


def _are_heels_doubtful(reading: PhotoReading) -> bool:
    return _says_enough(reading) and reading.raised_odds > WARN_ODDS


def _are_heels_asked_about(reading: PhotoReading) -> bool:
    # Raised heels themselves can make a photo unsure: then the floors contradict the ankles.
    is_plain = reading.raised_odds > WARN_ODDS
    return is_plain or (_says_enough(reading) and reading.raised_odds > ASK_ODDS)


def _says_enough(reading: PhotoReading) -> bool:
    return reading.length.sd_mm <= SURE_ENOUGH * reading.length.mean_mm


def _heels_unseen(legs: LegGeometry, reading: PhotoReading) -> Notice:
    if _are_heels_doubtful(reading):
        return Notice(HEELS_UNSEEN, _looks_high(legs, reading))
    return Notice(
        HEELS_UNSEEN,
        f"The picture does not show surely whether the heels are on the floor. {_WERE_THEY}",
    )


def _looks_high(legs: LegGeometry, reading: PhotoReading) -> str:
    high_mm = _high_mm(legs, reading)
    if high_mm <= 0:
        return f"The heels look raised. {_WERE_THEY}"
    return f"The ankles look {both_units(high_mm)} high above the floor. {_WERE_THEY}"


def _uneven_mm(legs: LegGeometry) -> float:
    return abs(float((legs.ankles_mm[0] - legs.ankles_mm[1]) @ legs.down))


def _high_mm(legs: LegGeometry, reading: PhotoReading) -> float:
    """Height of the ankles over a standing child's, by the surest sight of the floor.

    0 where nothing is said of the heels.
    """
    floor = _surest_floor(reading)
    return 0.0 if floor is None else _high_above_mm(floor, legs, reading)


def _high_above_mm(floor: Floor, legs: LegGeometry, reading: PhotoReading) -> float:
    by_floor = _by_floor_mm(reading)
    return by_floor[floor] - by_floor["ankles"] - USUALLY_HIGH[floor] * legs.straight_mm


def _surest_floor(reading: PhotoReading) -> Floor | None:
    """Which sight of the floor tells of the heels: None if it is unseen, or seen too unsurely."""
    if not _says_enough(reading):
        return None
    seen = _by_floor_mm(reading).keys() & USUALLY_HIGH.keys()
    return next((floor for floor in USUALLY_HIGH if floor in seen), None)


def _by_floor_mm(reading: PhotoReading) -> dict[Floor, float]:
    return {one.floor: one.value_mm for one in reading.readings if one.top == "legs"}


def _refused(code: NoticeCode, message: str) -> Refusal:
    return Refusal.because(code, message, _STAND)
