"""What is known of a child's age, and moving it from one day to another."""

import datetime as dt
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.known_ranges import AGE_RANGE_Y, check_age_y
from pose_fit.errors import PersonError
from pose_fit.metrology.units import DAYS_PER_YEAR

__all__ = ["DAYS_PER_MONTH", "AgeRange", "age_range", "ages_of", "shifted_age"]

#: Youngest and oldest age a child may have on a day, years.
AgeRange = tuple[float, float]

DAYS_PER_MONTH: Final = DAYS_PER_YEAR / 12


def age_range(stated_y: float) -> AgeRange:
    """The ages a stated one may mean: 7 is anything from 7 to 8, 7.5 is 7.45 to 7.55.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y.
    """
    check_age_y(stated_y)
    if float(stated_y).is_integer():
        return stated_y, min(stated_y + 1.0, AGE_RANGE_Y[1])
    return max(stated_y - 0.05, AGE_RANGE_Y[0]), min(stated_y + 0.05, AGE_RANGE_Y[1])


def ages_of(child: Child) -> AgeRange | None:
    """The ages that a child may have by what is said of it; None where nobody said an age."""
    return None if child.age_y is None else age_range(child.age_y)


def shifted_age(age_range_y: AgeRange, *, stated_on: dt.date, on: dt.date) -> AgeRange:
    """The same child's age on another day, such as the day of an older photo.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y on that day.
    """
    youngest_y, oldest_y = age_range_y
    if youngest_y > oldest_y:
        raise PersonError(f"the youngest age must come first, found {age_range_y}")
    years = (on - stated_on).days / DAYS_PER_YEAR
    return check_age_y(youngest_y + years), check_age_y(oldest_y + years)
