"""Months until a growing child's inseam passes the lengths where a bicycle's verdict changes."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pose_fit.growth.forecast import GrowthForecast

__all__ = ["Runway", "months_until"]

_FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Runway:
    """When each threshold is passed; (T,) arrays of months after the measurement.

    A value of 0 says "already", of ``inf`` "not within the forecast": neither is ever
    filled in by going beyond it.

    Attributes
    ----------
    median_months
        Passed by then with a chance of one half.
    window80_months
        Low and high end of the central 80 %.
    """

    median_months: _FloatArray
    window80_months: tuple[_FloatArray, _FloatArray]


def months_until(forecast: GrowthForecast, threshold_inseam_mm: ArrayLike) -> Runway:
    """When the inseam passes each threshold.

    Legs do not shrink, so what has been passed by a month stays passed: the chance
    never falls with time.

    Parameters
    ----------
    forecast
        Inseam by month.
    threshold_inseam_mm
        (T,) inseams at which something changes.
    """
    thresholds = np.atleast_1d(np.asarray(threshold_inseam_mm, dtype=np.float64))
    chance = np.maximum.accumulate(forecast.probability_above(thresholds), axis=1)

    def passed(level: float) -> _FloatArray:
        return np.array([_first(forecast.months, row, level) for row in chance])

    return Runway(
        median_months=passed(0.5),
        window80_months=(passed(0.1), passed(0.9)),
    )


def _first(months: _FloatArray, chance: _FloatArray, level: float) -> float:
    """Month in which a rising chance reaches a level, straight between months."""
    place = int(np.searchsorted(chance, level))
    if place == len(chance):
        return float("inf")
    if place == 0:
        return 0.0
    low, high = chance[place - 1], chance[place]
    step = (level - low) / (high - low)
    return float(months[place - 1] + step * (months[place] - months[place - 1]))
