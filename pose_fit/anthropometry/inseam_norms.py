"""What children's inseams are at an age or a stature, as distributions.

Inseam by age is the CDC's stature-for-age times the leg share of stature of measured
children; inseam by stature comes from those children alone. An unknown sex is a
mixture of both, never a guess.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import boxcox, inv_boxcox

from pose_fit.anthropometry.known_ranges import (
    Sex,
    check_age_y,
    check_stature_mm,
    sexes_of,
)
from pose_fit.anthropometry.people import people

__all__ = [
    "InseamSpread",
    "inseam_at_age",
    "inseam_at_stature",
    "stature_at_z",
    "stature_z",
]


@dataclass(frozen=True, slots=True)
class InseamSpread:
    """Inseam of children alike in age or stature, millimetres.

    Attributes
    ----------
    mean_mm
        Mean of the group.
    leg_sd_mm
        Scatter of the inseam between children of equal stature.
    stature_sd_mm
        Scatter that comes from their unequal statures; 0 where the stature is given.
    proportions_sd_mm
        Standard uncertainty of the mean crotch height at a stature.
    population_sd_mm
        Standard uncertainty of the mean stature of the group's country and decade.
    slope
        Change of the mean for one millimetre of stature; 0 where age alone is given.
    """

    mean_mm: float
    leg_sd_mm: float
    stature_sd_mm: float
    proportions_sd_mm: float
    population_sd_mm: float
    slope: float

    @property
    def person_sd_mm(self) -> float:
        """Standard deviation between the children of the group."""
        return math.hypot(self.leg_sd_mm, self.stature_sd_mm)

    @property
    def systematic_sd_mm(self) -> float:
        """Standard uncertainty of the group's mean."""
        return math.hypot(self.proportions_sd_mm, self.population_sd_mm)

    @property
    def sd_mm(self) -> float:
        """All parts together."""
        return math.hypot(self.person_sd_mm, self.systematic_sd_mm)


def inseam_at_age(age_y: float, *, sex: Sex | None = None) -> InseamSpread:
    """Inseam of the children of one age; both sexes mixed where ``sex`` is None.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y, or a sex that is not f or m.
    """
    check_age_y(age_y)
    parts = [_at_age(age_y, known) for known in sexes_of(sex)]
    mean_mm, stature_sd_mm = _mixture([(part.mean_mm, part.stature_sd_mm) for part in parts])
    constant_mm, relative = people().by_age_systematic
    proportions_mm = _proportions_sd_mm(mean_mm)
    systematic_mm = math.hypot(constant_mm, relative * mean_mm)
    return InseamSpread(
        mean_mm=mean_mm,
        leg_sd_mm=math.sqrt(math.fsum(part.leg_sd_mm**2 for part in parts) / len(parts)),
        stature_sd_mm=stature_sd_mm,
        proportions_sd_mm=proportions_mm,
        population_sd_mm=math.sqrt(max(systematic_mm**2 - proportions_mm**2, 0.0)),
        slope=0.0,
    )


def inseam_at_stature(stature_mm: float, *, sex: Sex | None = None) -> InseamSpread:
    """Inseam of the children of one stature; age adds nothing once stature is known.

    Raises
    ------
    PersonError
        Stature outside 800 to 1900 mm, or a sex that is not f or m.
    """
    check_stature_mm(stature_mm)
    parts = [_at_stature(stature_mm, known) for known in sexes_of(sex)]
    mean_mm, leg_sd_mm = _mixture([(part.mean_mm, part.leg_sd_mm) for part in parts])
    return InseamSpread(
        mean_mm=mean_mm,
        leg_sd_mm=leg_sd_mm,
        stature_sd_mm=0.0,
        proportions_sd_mm=_proportions_sd_mm(mean_mm),
        population_sd_mm=0.0,
        slope=math.fsum(part.slope for part in parts) / len(parts),
    )


def stature_z(stature_mm: float, *, age_y: float, sex: Sex) -> float:
    """CDC 2000 stature-for-age z-score by the LMS method (Cole and Green 1992, Stat Med 11, 1305).

    z = ((x / M)^L - 1) / (L S), and ln(x / M) / S where L is 0, as it is at two ages of each sex.

    Raises
    ------
    PersonError
        Age or stature outside the tables.
    """
    lam, median_mm, spread = _lms(check_age_y(age_y), sex)
    return float(boxcox(check_stature_mm(stature_mm) / median_mm, lam) / spread)


def stature_at_z(z: float, *, age_y: float, sex: Sex) -> float:
    """Stature in millimetres at a z-score: the inverse of :func:`stature_z`.

    Raises
    ------
    PersonError
        Age outside the tables.
    """
    lam, median_mm, spread = _lms(check_age_y(age_y), sex)
    return float(median_mm * inv_boxcox(spread * z, lam))


def _lms(age_y: float, sex: Sex) -> tuple[float, float, float]:
    table = people().by_age[sex]
    lam, median_mm, spread = (
        float(np.interp(age_y, table.age_y, column))
        for column in (table.stature_l, table.stature_m_mm, table.stature_s)
    )
    return lam, median_mm, spread


@dataclass(frozen=True, slots=True)
class _OneSex:
    mean_mm: float
    leg_sd_mm: float
    stature_sd_mm: float
    slope: float


def _at_age(age_y: float, sex: Sex) -> _OneSex:
    table = people().by_age[sex]
    mean_mm = float(np.interp(age_y, table.age_y, table.inseam_mm))
    sd_mm, tied = table.inseam_relative_sd * mean_mm, table.inseam_stature_correlation
    return _OneSex(mean_mm, sd_mm * math.sqrt(1 - tied**2), sd_mm * tied, 0.0)


def _at_stature(stature_mm: float, sex: Sex) -> _OneSex:
    curve = people().inseam_by_stature[sex]
    u = (stature_mm - 1300) / 300
    c0, c1, c2, c3 = curve.coefficients_mm
    return _OneSex(
        mean_mm=c0 + u * (c1 + u * (c2 + u * c3)),
        leg_sd_mm=curve.person_sd_mm + curve.person_sd_per_unit_mm * u,
        stature_sd_mm=0.0,
        slope=(c1 + u * (2 * c2 + u * 3 * c3)) / 300,
    )


def _proportions_sd_mm(inseam_mm: float) -> float:
    constant_mm, relative = people().inseam_by_stature_systematic
    return math.hypot(constant_mm, relative * inseam_mm)


def _mixture(parts: list[tuple[float, float]]) -> tuple[float, float]:
    """Mean and standard deviation of an equal mixture: variance within plus between."""
    mean_mm = math.fsum(mean for mean, _ in parts) / len(parts)
    variance = math.fsum(sd**2 + (mean - mean_mm) ** 2 for mean, sd in parts) / len(parts)
    return mean_mm, math.sqrt(variance)
