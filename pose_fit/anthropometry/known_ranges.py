"""The ranges within which the tables know children: age, stature and sex, checked once."""

import math
from typing import Final, Literal

from pose_fit.errors import PersonError
from pose_fit.metrology.units import both_units

__all__ = [
    "AGE_RANGE_Y",
    "LEG_RANGE_MM",
    "STATURE_RANGE_MM",
    "Sex",
    "check_age_y",
    "check_sex",
    "check_stature_mm",
    "sexes_of",
]

Sex = Literal["f", "m"]

#: Ages that the tables cover, years.
AGE_RANGE_Y: Final = (2.0, 18.0)
#: Statures of the measured children of 2-14 y, rounded outwards, millimetres.
STATURE_RANGE_MM: Final = (800.0, 1900.0)

#: Hip to ankle of the smallest child and the tallest adult, with room to spare (judgement).
LEG_RANGE_MM: Final = (200.0, 950.0)


def check_age_y(age_y: float) -> float:
    """The age itself; raises :class:`PersonError` outside the tables."""
    low_y, high_y = AGE_RANGE_Y
    if not (math.isfinite(age_y) and low_y <= age_y <= high_y):
        raise PersonError(
            f"the age must be between {low_y:.0f} and {high_y:.0f} y, found {age_y:g}; leave it out"
            " for anybody else"
        )
    return age_y


def check_stature_mm(stature_mm: float) -> float:
    """The stature itself; raises :class:`PersonError` outside the measured children."""
    low_mm, high_mm = STATURE_RANGE_MM
    if not (math.isfinite(stature_mm) and low_mm <= stature_mm <= high_mm):
        raise PersonError(
            f"the body height must be between {both_units(low_mm)} and {both_units(high_mm)},"
            f" found {both_units(stature_mm)}"
        )
    return stature_mm


def check_sex(sex: str | None) -> Sex | None:
    """The sex itself; raises :class:`PersonError` for anything but f, m or unknown."""
    match sex:
        case None | "f" | "m":
            return sex
    raise PersonError(f"the sex must be f, m or left out, found {sex!r}")


def sexes_of(sex: str | None) -> tuple[Sex, ...]:
    """The sex alone, or both of them where it is not known; raises as :func:`check_sex`."""
    known = check_sex(sex)
    return ("f", "m") if known is None else (known,)
