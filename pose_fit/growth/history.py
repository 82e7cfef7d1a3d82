"""A child's own growth line: several inseams on different days forecast together.

The child's share of the mean inseam of its age and sex is a level of its own plus a drift. Drift is
fractional Brownian motion with the tracking's exponent H, in a time that runs as fast as children
of that age drift (Mandelbrot and Van Ness 1968, SIAM Review 10, 422): for H = 1/2 the newest
inseam says all, above it a child that gained its share lately is expected to gain further. What is
known of the share at any age then follows from the inseams by a normal's conditional mean and
variance (Rasmussen and Williams 2006, Gaussian Processes for Machine Learning, Eq. 2.23 and 2.24).
Of a single inseam the forecast is that of :func:`pose_fit.growth.forecast.forecast_inseam`.
"""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pose_fit.anthropometry.known_ranges import Sex, sexes_of
from pose_fit.anthropometry.people import people
from pose_fit.errors import PersonError
from pose_fit.growth.age import AgeRange
from pose_fit.growth.curve import GrowthCurve, inseam_curve
from pose_fit.growth.forecast import (
    HORIZON_MONTHS,
    GrowthForecast,
    mixed_forecast,
    possible_ages,
)
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import covariance_mm2
from pose_fit.metrology.units import DAYS_PER_YEAR

__all__ = ["DatedInseam", "History", "forecast_from_history", "history_on_curve"]

_FloatArray = NDArray[np.float64]

#: A child's level before anything is known of it, in shares of the curve's mean: so wide that the
#: inseams alone decide.
_LEVEL_SD: Final = 1.0


@dataclass(frozen=True, slots=True)
class DatedInseam:
    """An inseam and the day on which it was measured."""

    day: dt.date
    inseam: Inseam


@dataclass(frozen=True, slots=True, eq=False)
class History:
    """Lengths of one child in the order of time; millimetres.

    Attributes
    ----------
    years_before
        (N,) how long before the forecast's start each was measured, at least 0, descending.
    length_mm
        (N,) lengths.
    covariance
        (N, N) covariance of their errors.
    """

    years_before: _FloatArray
    length_mm: _FloatArray
    covariance: _FloatArray


def forecast_from_history(
    measured: Sequence[DatedInseam],
    *,
    on: dt.date,
    age_range_y: AgeRange | None = None,
    sex: Sex | None = None,
    months: ArrayLike = HORIZON_MONTHS,
) -> GrowthForecast:
    """Forecast from all inseams of one child, from a day on.

    Errors that carry the same name in two budgets and are marked as shared are one error.

    Parameters
    ----------
    measured
        At least one inseam, none later than ``on``.
    age_range_y
        Youngest and oldest age on that day; None where nobody said.
    sex
        ``f``, ``m`` or None.
    months
        (M,) times after that day, at least 0, ascending.

    Raises
    ------
    PersonError
        No inseam, one from a later day, age outside 2 to 18 y, unknown sex.
    """
    if not measured:
        raise PersonError("a growth line needs at least one inseam, found none")
    ordered = sorted(measured, key=lambda each: each.day)
    if ordered[-1].day > on:
        raise PersonError(f"wanted inseams up to {on}, found one of {ordered[-1].day}")
    history = History(
        np.array([(on - each.day).days / DAYS_PER_YEAR for each in ordered]),
        np.array([each.inseam.mean_mm for each in ordered]),
        _covariance([each.inseam for each in ordered]),
    )
    times = np.atleast_1d(np.asarray(months, dtype=np.float64))
    found = [
        history_on_curve(inseam_curve(each), history, age_y=float(age_y), months=times)
        for each in sexes_of(sex)
        for age_y in possible_ages(age_range_y)
    ]
    # Whom the growth fits better is likelier the child.
    best = max(log for log, _ in found)
    weights = [math.exp(log - best) + 1e-9 for log, _ in found]
    total = math.fsum(weights)
    parts = zip(weights, found, strict=True)
    return mixed_forecast([(weight / total, forecast) for weight, (_, forecast) in parts])


def history_on_curve(
    curve: GrowthCurve, history: History, *, age_y: float, months: _FloatArray
) -> tuple[float, GrowthForecast]:
    """Log-evidence and forecast of a child of known age and sex whose length follows a curve."""
    years = months / 12
    ages_then = age_y - history.years_before
    means_mm = curve.mean_at(ages_then)
    shares = history.length_mm / means_mm
    start_y = float(ages_then.min())
    warped_then = _warped(curve, ages_then, start_y)
    warped_on = _warped(curve, age_y + np.concatenate([[0.0], years]), start_y)
    spread = float(curve.sd_at(age_y) / curve.mean_at(age_y))
    between = _kernel(curve, warped_then, warped_then, spread)
    observed = between + history.covariance / np.outer(means_mm, means_mm)
    across = _kernel(curve, warped_on, warped_then, spread)
    gain = np.linalg.solve(observed, across.T).T
    # The level is not drawn towards other children: its mean is that of the inseams themselves.
    level = float(shares.mean())
    share = level + gain @ (shares - level)
    variance = np.diag(_kernel(curve, warped_on, warped_on, spread)) - (gain * across).sum(axis=1)
    sd = np.sqrt(np.maximum(variance, 1e-12))
    mean_mm = curve.mean_at(age_y + years)
    measured_sd_mm = float(sd[0]) * mean_mm
    children = np.maximum(sd[1:] ** 2 - float(sd[0]) ** 2, 0.0)
    forecast = GrowthForecast(
        months=months,
        mean_mm=share[1:] * mean_mm,
        measured_sd_mm=measured_sd_mm,
        children_sd_mm=np.sqrt(children) * mean_mm,
        population_sd_mm=people().tracking.population_rate_sd_mm_per_y * years,
        unknown_sd_mm=np.zeros_like(months),
    )
    evidence = _log_evidence(shares - 1, observed, spread) - float(np.log(means_mm).sum())
    return evidence, forecast


def _warped(curve: GrowthCurve, ages_y: _FloatArray, start_y: float) -> _FloatArray:
    """Time since the start in which the drift of z has unit variance a unit, to the power 2 H."""
    end_y = max(float(ages_y.max()), start_y) + 1e-6
    grid = np.linspace(start_y, end_y, 241)
    rate = np.interp(grid, curve.drift_age_y, curve.drift_z) ** (1 / curve.exponent)
    steps = (rate[1:] + rate[:-1]) / 2 * np.diff(grid)
    return np.interp(ages_y, grid, np.concatenate([[0.0], steps.cumsum()]))


def _kernel(curve: GrowthCurve, one: _FloatArray, other: _FloatArray, spread: float) -> _FloatArray:
    """Covariance of the share at two times: the level's, and the drift's from the start on."""
    power = 2 * curve.exponent
    apart = np.abs(one[:, None] - other) ** power
    drift = (one[:, None] ** power + other**power - apart) / 2
    return np.asarray(_LEVEL_SD**2 + spread**2 * drift)


def _log_evidence(shares: _FloatArray, observed: _FloatArray, spread: float) -> float:
    """How well the inseams fit this age and sex; the level spreads as children do."""
    covariance = observed - _LEVEL_SD**2 + spread**2
    _, log_determinant = np.linalg.slogdet(covariance)
    return -float(shares @ np.linalg.solve(covariance, shares) + log_determinant) / 2


def _covariance(inseams: Sequence[Inseam]) -> _FloatArray:
    # A reading of which everything is shared still differs by its last digit.
    own = np.eye(len(inseams)) / 12
    return covariance_mm2([each.length.budget for each in inseams]) + own
