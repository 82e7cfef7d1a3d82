"""What earlier cases of the same child say: its inseams by day, and its own growth line."""

import datetime as dt
from collections.abc import Iterable

from pose_fit.casebook.case import Case
from pose_fit.errors import PersonError
from pose_fit.growth.age import AgeRange, age_range, shifted_age
from pose_fit.growth.forecast import GrowthForecast
from pose_fit.growth.history import DatedInseam, forecast_from_history
from pose_fit.inseam.inseam import Inseam

__all__ = ["forecast_for", "growth_line", "measured_inseams"]


def measured_inseams(cases: Iterable[Case]) -> tuple[DatedInseam, ...]:
    """Each case's inseam on its day: the shop's answer, else its estimate; and tapes in the shop."""
    found = []
    for case in cases:
        inseam = case.content.answer or case.content.estimate
        if isinstance(inseam, Inseam):
            found.append(DatedInseam(case.received_at.date(), inseam))
        if case.content.shop_tape is not None:
            tape = case.content.shop_tape
            found.append(DatedInseam(tape.day, tape.inseam))
    return tuple(sorted(found, key=lambda each: each.day))


def forecast_for(case: Case, cases_of_child: Iterable[Case], on: dt.date) -> GrowthForecast:
    """Forecast of a case's child from a day on, or from its newest measurement where that is later.

    From all cases that the family joined, else from this one alone.

    Raises
    ------
    PersonError
        As :func:`growth_line`.
    """
    cases = tuple(cases_of_child) or (case,)
    days = [each.day for each in measured_inseams(cases)]
    return growth_line(cases, on=max([on, *days]))


def growth_line(cases: Iterable[Case], *, on: dt.date) -> GrowthForecast:
    """Forecast from all cases of one child, from a day on.

    Age and sex are the newest that a family said.

    Raises
    ------
    PersonError
        No case with an inseam, or an age outside 2 to 18 y.
    """
    told = list(cases)
    ages: AgeRange | None = None
    sex = None
    for case in told:
        child = case.content.child
        sex = child.sex or sex
        if child.age_y is not None:
            try:
                received_on = case.received_at.date()
                ages = shifted_age(age_range(child.age_y), stated_on=received_on, on=on)
            except PersonError:
                ages = None
    return forecast_from_history(measured_inseams(told), on=on, age_range_y=ages, sex=sex)
