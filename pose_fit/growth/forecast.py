"""The inseam of a growing child in the months to come.

A child keeps its place among the children of its age and sex, and so its share of
their mean inseam, but drifts from it as years pass. What is not known of age or sex
is a mixture over all it may be, which widens the forecast.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtr

from pose_fit.anthropometry.known_ranges import Sex, check_age_y, sexes_of
from pose_fit.anthropometry.people import people
from pose_fit.errors import PersonError
from pose_fit.growth.age import AgeRange
from pose_fit.growth.curve import GrowthCurve, inseam_curve
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = [
    "HORIZON_MONTHS",
    "GrowthForecast",
    "forecast_inseam",
    "forecast_on_curve",
    "mixed_forecast",
    "possible_ages",
]

_FloatArray = NDArray[np.float64]

#: Months of a forecast where the caller names none: three years, each month.
HORIZON_MONTHS: Final = np.arange(37.0)

#: Ages within a range of no point width, and where nothing is known of the age.
_AGES_IN_RANGE: Final = 5
_AGES_UNKNOWN_Y: Final = np.arange(2.0, 16.01, 0.5)


@dataclass(frozen=True, slots=True, eq=False)
class GrowthForecast:
    """Inseam by month from the day it was measured; all (M,) arrays, millimetres.

    Attributes
    ----------
    months
        Times after the measurement, at least 0, ascending.
    mean_mm
        Best estimate.
    measured_sd_mm
        The measurement's own uncertainty, grown with the child.
    children_sd_mm
        How unlike children grow from the same start.
    population_sd_mm
        How unlike the growth of countries and decades is.
    unknown_sd_mm
        What age or sex, where not known, add.
    """

    months: _FloatArray
    mean_mm: _FloatArray
    measured_sd_mm: _FloatArray
    children_sd_mm: _FloatArray
    population_sd_mm: _FloatArray
    unknown_sd_mm: _FloatArray

    def __post_init__(self) -> None:
        _check_months(self.months)
        for name in self.__dataclass_fields__:
            found = getattr(self, name)
            if found.shape != self.months.shape or not np.isfinite(found).all():
                raise ValueError(
                    f"{name} must be finite with the shape of months, {self.months.shape},"
                    f" found shape {found.shape}"
                )

    @property
    def sd_mm(self) -> _FloatArray:
        """Standard uncertainty, all parts together."""
        squares = (
            self.measured_sd_mm**2
            + self.children_sd_mm**2
            + self.population_sd_mm**2
            + self.unknown_sd_mm**2
        )
        return np.asarray(np.sqrt(squares))

    @property
    def interval95_mm(self) -> tuple[_FloatArray, _FloatArray]:
        """Central 95 % interval, low and high."""
        half_mm = COVERAGE_FACTOR_95 * self.sd_mm
        return self.mean_mm - half_mm, self.mean_mm + half_mm

    def probability_above(self, thresholds_mm: ArrayLike) -> _FloatArray:
        """Chance that the inseam exceeds each threshold in each month.

        Parameters
        ----------
        thresholds_mm
            (T,) inseams.

        Returns
        -------
        (T, M) array
        """
        thresholds = np.atleast_1d(np.asarray(thresholds_mm, dtype=np.float64))
        return np.asarray(ndtr((self.mean_mm - thresholds[:, None]) / self.sd_mm))


def forecast_inseam(
    inseam_mm: float,
    *,
    sd_mm: float,
    age_range_y: AgeRange | None = None,
    sex: Sex | None = None,
    months: ArrayLike = HORIZON_MONTHS,
) -> GrowthForecast:
    """Forecast from one measured inseam.

    Parameters
    ----------
    inseam_mm, sd_mm
        The inseam and its standard uncertainty on the day it was measured.
    age_range_y
        Youngest and oldest age on that day; None where nobody said, and then the
        ages at which such an inseam occurs are mixed.
    sex
        ``f``, ``m``, or None: both are mixed.
    months
        (M,) times after the measurement, at least 0, ascending.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y, unknown sex, an inseam or uncertainty not above 0,
        months that go backwards.
    """
    if not (math.isfinite(inseam_mm) and inseam_mm > 0 and math.isfinite(sd_mm) and sd_mm > 0):
        raise PersonError(
            f"inseam and uncertainty must be above 0 mm, found {inseam_mm} and {sd_mm}"
        )
    times = np.atleast_1d(np.asarray(months, dtype=np.float64))
    _check_months(times)
    ages = possible_ages(age_range_y)
    children = [
        _Child(age_y, curve, _weight(inseam_mm, sd_mm, age_y, curve, age_range_y is None))
        for curve in map(inseam_curve, sexes_of(sex))
        for age_y in ages
    ]
    return mixed_forecast([*_forecasts(children, inseam_mm, sd_mm, times)])


def forecast_on_curve(
    curve: GrowthCurve, start_mm: float, *, sd_mm: float, age_y: float, months: _FloatArray
) -> GrowthForecast:
    """Forecast of one child of known age and sex whose length follows a curve.

    The mean keeps the child's share of the curve's mean, which is the same z-score
    where the spread is a fixed share of the mean.
    """
    years = months / 12
    growth = curve.mean_at(age_y + years) / curve.mean_at(age_y)
    return GrowthForecast(
        months=months,
        mean_mm=start_mm * growth,
        measured_sd_mm=sd_mm * growth,
        children_sd_mm=curve.drift_sd_mm(age_y, years),
        population_sd_mm=people().tracking.population_rate_sd_mm_per_y * years,
        unknown_sd_mm=np.zeros_like(months),
    )


@dataclass(frozen=True, slots=True)
class _Child:
    """One child the unknown one may be, with its weight in the mixture."""

    age_y: float
    curve: GrowthCurve
    weight: float


def _forecasts(
    children: Sequence[_Child], inseam_mm: float, sd_mm: float, months: _FloatArray
) -> Iterator[tuple[float, GrowthForecast]]:
    total = math.fsum(child.weight for child in children)
    for child in children:
        yield (
            child.weight / total,
            forecast_on_curve(
                child.curve, inseam_mm, sd_mm=sd_mm, age_y=child.age_y, months=months
            ),
        )


def mixed_forecast(parts: Sequence[tuple[float, GrowthForecast]]) -> GrowthForecast:
    """Moments of the mixture: variances within and, as what is unknown, between."""
    first = parts[0][1]
    mean_mm = sum((w * part.mean_mm for w, part in parts), np.zeros_like(first.mean_mm))

    def root_mean_square(name: str) -> _FloatArray:
        squares = (w * getattr(part, name) ** 2 for w, part in parts)
        return np.sqrt(sum(squares, np.zeros_like(mean_mm)))

    between = sum((w * (part.mean_mm - mean_mm) ** 2 for w, part in parts), np.zeros_like(mean_mm))
    return GrowthForecast(
        months=first.months,
        mean_mm=mean_mm,
        measured_sd_mm=root_mean_square("measured_sd_mm"),
        children_sd_mm=root_mean_square("children_sd_mm"),
        population_sd_mm=root_mean_square("population_sd_mm"),
        unknown_sd_mm=np.sqrt(between),
    )


def possible_ages(age_range_y: AgeRange | None) -> _FloatArray:
    """Ages that stand for a range; where nobody said, for all ages."""
    if age_range_y is None:
        return _AGES_UNKNOWN_Y
    youngest_y, oldest_y = age_range_y
    if check_age_y(youngest_y) > check_age_y(oldest_y):
        raise PersonError(f"the youngest age must come first, found {age_range_y}")
    if youngest_y == oldest_y:
        return np.array([youngest_y])
    return np.linspace(youngest_y, oldest_y, _AGES_IN_RANGE)


def _weight(
    inseam_mm: float, sd_mm: float, age_y: float, curve: GrowthCurve, by_inseam: bool
) -> float:
    """Equal, or where the age is unknown how often children of that age have such an inseam."""
    if not by_inseam:
        return 1.0
    mean_mm = float(curve.mean_at(age_y))
    constant_mm, relative = people().by_age_systematic
    spread_mm = math.hypot(float(curve.sd_at(age_y)), constant_mm, relative * mean_mm, sd_mm)
    return math.exp(-(((inseam_mm - mean_mm) / spread_mm) ** 2) / 2) / spread_mm + 1e-12


def _check_months(months: _FloatArray) -> None:
    ascending = months.ndim == 1 and months.size > 0 and bool((np.diff(months) > 0).all())
    if not (ascending and months[0] >= 0 and math.isfinite(months[-1])):
        raise PersonError(f"months must be ascending numbers from 0 on, found {months}")
