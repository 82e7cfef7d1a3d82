"""Did somebody write down another number than the inseam? Questions, never corrections."""

from collections.abc import Sequence
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM, Sex
from pose_fit.anthropometry.plausibility import (
    Plausibility,
    plausibility_at_age,
    plausibility_at_stature,
    stature_is_plausible,
)
from pose_fit.inseam.from_tape import TAPE_CARE, Care, inseam_from_tape
from pose_fit.inseam.from_trousers import inseam_from_trousers
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice

__all__ = ["question_readings", "question_tape", "questioned_tape"]

#: European children's clothes are labelled by the stature they are made for, in centimetres,
#: 6 cm apart: 92, 98, ... 176 (EN 13402-3, from memory).
CLOTHING_SIZES_MM: Final = tuple(range(920, 1761, 60))
#: A stature recalled or rounded comes back within this of the one given.
_SAME_STATURE_MM: Final = 20.0


def questioned_tape(
    readings_mm: Sequence[float], child: Child, *, care: Care = "careful"
) -> Inseam:
    """The inseam of the readings, with a question about each that looks like something else.

    Parameters
    ----------
    readings_mm
        One or more, in the order taken.
    child
        On the day of the tape.
    care
        How the tape was held.

    Raises
    ------
    PersonError
        As :func:`pose_fit.inseam.from_tape.inseam_from_tape`.
    """
    inseam = inseam_from_tape(readings_mm, care=care)
    return inseam.with_warnings(*question_readings(readings_mm, child))


def question_readings(readings_mm: Sequence[float], child: Child) -> tuple[Notice, ...]:
    """The questions of :func:`question_tape` about all readings, each once."""
    return tuple(
        dict.fromkeys(
            notice
            for reading_mm in readings_mm
            for notice in question_tape(
                reading_mm, age_y=child.age_y, sex=child.sex, stature_mm=child.stature_mm
            )
        )
    )


def question_tape(
    reading_mm: float,
    *,
    age_y: float | None = None,
    sex: Sex | None = None,
    stature_mm: float | None = None,
) -> tuple[Notice, ...]:
    """Notices where a tape reading looks like something else than an inseam.

    Asked about, most telling first: the whole height (or a clothing size, which is a
    height in centimetres); the inside seam of trousers; a reading far from what children
    of this age or stature have. Nothing is asked that the given facts cannot tell.

    Parameters
    ----------
    reading_mm
        One reading, before it becomes an inseam; may be a whole stature.
    age_y, sex, stature_mm
        What else is known of the child; each may be None.

    Raises
    ------
    PersonError
        Age or stature outside the tables, unknown sex.
    """
    against = _comparison(reading_mm, age_y=age_y, sex=sex, stature_mm=stature_mm)
    if _is_stature(reading_mm, against, age_y=age_y, sex=sex, stature_mm=stature_mm):
        size = any(abs(reading_mm - size_mm) < 1 for size_mm in CLOTHING_SIZES_MM)
        what = "the child's whole height" + (", or a clothing size," if size else "")
        return (
            Notice(
                "tape_looks_like_stature",
                f"{both_units(reading_mm)} looks like {what} rather than the inseam; measure from"
                " the floor to the crotch.",
            ),
        )
    if against is None or against.band == "usual":
        return ()
    if against.z < 0 and _explains(against, reading_mm):
        return (
            Notice(
                "tape_looks_like_trousers",
                f"{both_units(reading_mm)} is short for {against.basis} but would suit the inside"
                " seam of their trousers; measure from the floor to the crotch, not a garment.",
            ),
        )
    return () if against.notice is None else (against.notice,)


def _comparison(
    reading_mm: float, *, age_y: float | None, sex: Sex | None, stature_mm: float | None
) -> Plausibility | None:
    """The sharpest comparison that the given facts allow."""
    if stature_mm is not None:
        return plausibility_at_stature(
            reading_mm, sd_mm=TAPE_CARE["careful"].sd_mm, stature_mm=stature_mm, sex=sex
        )
    if age_y is not None:
        return plausibility_at_age(
            reading_mm, sd_mm=TAPE_CARE["careful"].sd_mm, age_y=age_y, sex=sex
        )
    return None


def _is_stature(
    reading_mm: float,
    against: Plausibility | None,
    *,
    age_y: float | None,
    sex: Sex | None,
    stature_mm: float | None,
) -> bool:
    if against is None:
        return any(abs(reading_mm - size_mm) < 1 for size_mm in CLOTHING_SIZES_MM)
    if against.band != "implausible" or against.z < 0:
        return False
    if stature_mm is not None:
        return abs(reading_mm - stature_mm) <= _SAME_STATURE_MM
    low_mm, high_mm = STATURE_RANGE_MM
    return (
        age_y is not None
        and low_mm <= reading_mm <= high_mm
        and stature_is_plausible(reading_mm, age_y=age_y, sex=sex)
    )


def _explains(against: Plausibility, seam_mm: float) -> bool:
    """Whether the reading taken as a trouser seam would give a usual inseam."""
    inseam: Inseam = inseam_from_trousers(seam_mm)
    return abs(inseam.mean_mm - against.expected_mm) < against.sd_mm
