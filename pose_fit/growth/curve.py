"""A body length by age, and how closely children keep their place on it."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.known_ranges import Sex
from pose_fit.anthropometry.people import people

__all__ = ["GrowthCurve", "inseam_curve", "stature_curve"]

_FloatArray = NDArray[np.float64]

#: Points at which the yearly drift is sampled between start and end of a forecast.
_SAMPLES: Final = np.linspace(0.0, 1.0, 9)


@dataclass(frozen=True, slots=True, eq=False)
class GrowthCurve:
    """Mean and spread of a length by age for one sex; outside its ages it stays level.

    Attributes
    ----------
    age_y, mean_mm, sd_mm
        (N,) arrays, ages ascending.
    drift_age_y, drift_z
        (K,) arrays: root mean square change in one year of a child's place: its share of the mean,
        over the curve's relative spread.
    exponent
        Drift over t years is the mean yearly one times t to this power: 1/2 where the
        changes of successive years are independent, 1 where they are the same.
    """

    age_y: _FloatArray
    mean_mm: _FloatArray
    sd_mm: _FloatArray
    drift_age_y: _FloatArray
    drift_z: _FloatArray
    exponent: float

    def mean_at(self, age_y: _FloatArray | float) -> _FloatArray:
        """Mean length at the ages, millimetres."""
        return np.asarray(np.interp(age_y, self.age_y, self.mean_mm))

    def sd_at(self, age_y: _FloatArray | float) -> _FloatArray:
        """Spread between children at the ages, millimetres."""
        return np.asarray(np.interp(age_y, self.age_y, self.sd_mm))

    def drift_sd_mm(self, age_y: float, years: _FloatArray) -> _FloatArray:
        """Spread of a child's own length, ``years`` after it was known at ``age_y``.

        Parameters
        ----------
        age_y
            Age at the start.
        years
            (M,) array of times, at least 0.

        Returns
        -------
        (M,) array
            Millimetres; 0 at once, growing with time.
        """
        sampled = age_y + years[:, None] * _SAMPLES
        yearly_z = np.interp(sampled, self.drift_age_y, self.drift_z).mean(axis=1)
        return np.asarray(self.sd_at(age_y + years) * yearly_z * years**self.exponent)


def inseam_curve(sex: Sex) -> GrowthCurve:
    """Inseam by age: CDC stature times the leg share of measured children.

    Children keep their place on it as they do on the curve of stature, but drift
    further by the shipped leg factor: nobody's table gives it for legs.
    """
    table, tracking = people().by_age[sex], people().tracking
    return GrowthCurve(
        age_y=table.age_y,
        mean_mm=table.inseam_mm,
        sd_mm=table.inseam_relative_sd * table.inseam_mm,
        drift_age_y=tracking.age_y,
        drift_z=tracking.leg_factor * tracking.drift_z[sex],
        exponent=tracking.exponent,
    )


def stature_curve(sex: Sex) -> GrowthCurve:
    """Stature by age, CDC 2000; the spread is the table's S times its M."""
    table, tracking = people().by_age[sex], people().tracking
    return GrowthCurve(
        age_y=table.age_y,
        mean_mm=table.stature_m_mm,
        sd_mm=table.stature_s * table.stature_m_mm,
        drift_age_y=tracking.age_y,
        drift_z=tracking.drift_z[sex],
        exponent=tracking.exponent,
    )
