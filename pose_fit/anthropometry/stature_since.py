"""A child's height on a later day than it was measured on."""

import datetime as dt
import math
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.inseam_norms import stature_at_z, stature_z
from pose_fit.anthropometry.known_ranges import AGE_RANGE_Y, sexes_of
from pose_fit.metrology.units import DAYS_PER_YEAR

__all__ = ["stature_since"]

#: Yearly growth of children of 4 to 12 years where no age is stated, from the CDC's medians of 55
#: to 70 mm: mean and standard deviation.
GROWTH_MM_PER_Y: Final = (60.0, 12.0)
#: Standard deviation of one child's yearly growth about that of its percentile.
OWN_GROWTH_SD_MM_PER_Y: Final = 8.0


def stature_since(
    stature_mm: float, *, measured_on: dt.date, seen_on: dt.date, child: Child
) -> tuple[float, float]:
    """The height on the day of the picture, and the standard uncertainty growth adds to it.

    With a known age the child keeps its place among children of its age (the age is that of the
    day of the picture); a height taken after the picture is taken back the same way.
    """
    years = (seen_on - measured_on).days / DAYS_PER_YEAR
    low_y, high_y = AGE_RANGE_Y
    if child.age_y is None or not low_y <= child.age_y - years <= high_y:
        mean, sd = GROWTH_MM_PER_Y
        return stature_mm + mean * years, sd * abs(years)
    then_y = child.age_y - years
    grown = [
        stature_at_z(stature_z(stature_mm, age_y=then_y, sex=sex), age_y=child.age_y, sex=sex)
        for sex in sexes_of(child.sex)
    ]
    spread_mm = (max(grown) - min(grown)) / 2
    return sum(grown) / len(grown), math.hypot(OWN_GROWTH_SD_MM_PER_Y * years, spread_mm)
