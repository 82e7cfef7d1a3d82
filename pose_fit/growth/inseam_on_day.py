"""The inseam on another day: a photo from March, a present in December."""

import datetime as dt
from typing import Final

import numpy as np

from pose_fit.anthropometry.known_ranges import Sex
from pose_fit.budget_sources import BudgetSource
from pose_fit.errors import PersonError
from pose_fit.growth.age import DAYS_PER_MONTH, AgeRange
from pose_fit.growth.forecast import forecast_inseam
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength

__all__ = ["GROWTH_SOURCE", "inseam_on", "months_between"]

#: The budget line by which an inseam that was carried to a later day is known.
GROWTH_SOURCE: Final[BudgetSource] = "children grow unlike each other"


def months_between(measured_on: dt.date, on: dt.date) -> float:
    """Mean months from one day to a later one.

    Raises
    ------
    PersonError
        The second day lies before the first.
    """
    if on < measured_on:
        raise PersonError(
            f"the later day must not lie before the measurement of {measured_on}, found {on}"
        )
    return (on - measured_on).days / DAYS_PER_MONTH


def inseam_on(
    inseam: Inseam,
    *,
    measured_on: dt.date,
    on: dt.date,
    age_range_y: AgeRange | None = None,
    sex: Sex | None = None,
) -> Inseam:
    """The same child's inseam on a later day, with growth in its budget.

    Parameters
    ----------
    inseam
        As measured.
    measured_on, on
        Day of the photo or tape, and the day asked for.
    age_range_y, sex
        As in :func:`forecast_inseam`.

    Raises
    ------
    PersonError
        A day before the measurement, and as :func:`forecast_inseam`.
    """
    months = months_between(measured_on, on)
    if months == 0:
        return inseam
    forecast = forecast_inseam(
        inseam.mean_mm,
        sd_mm=inseam.sd_mm,
        age_range_y=age_range_y,
        sex=sex,
        months=np.array([months]),
    )
    growth = float(forecast.measured_sd_mm[0]) / inseam.sd_mm
    grown = [line.times(growth) for line in inseam.length.budget]
    added = [
        Contribution(GROWTH_SOURCE, float(forecast.children_sd_mm[0]), True),
        Contribution("growth differs between countries", float(forecast.population_sd_mm[0]), True),
        Contribution("age or sex not known", float(forecast.unknown_sd_mm[0]), True),
    ]
    budget = (*grown, *(line for line in added if line.sd_mm > 0))
    return Inseam(
        UncertainLength(float(forecast.mean_mm[0]), budget),
        inseam.method,
        inseam.warnings,
        inseam.retake,
    )
