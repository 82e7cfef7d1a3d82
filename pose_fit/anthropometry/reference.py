"""What children's inseams are at an age or a stature, as distributions.

Inseam by age is the CDC's stature-for-age times the leg share of stature of measured
children; inseam by stature comes from those children alone. An unknown sex is a
mixture of both, never a guess.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial

from pose_fit.anthropometry.people import people
from pose_fit.anthropometry.person import Sex, check_age_y, check_sex, check_stature_mm

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
    person_sd_mm
        Scatter between the children of the group.
    systematic_sd_mm
        What is not known about the mean: derived crotch height, other countries.
    slope
        Change of the mean for one millimetre of stature; 0 where age alone is given.
    """

    mean_mm: float
    person_sd_mm: float
    systematic_sd_mm: float
    slope: float = 0.0

    @property
    def sd_mm(self) -> float:
        """Both parts together."""
        return math.hypot(self.person_sd_mm, self.systematic_sd_mm)


def inseam_at_age(age_y: float, *, sex: str | None = None) -> InseamSpread:
    """Inseam of the children of one age; both sexes mixed where ``sex`` is None.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y, or a sex that is not f or m.
    """
    check_age_y(age_y)
    parts = [_at_age(age_y, known) for known in _sexes(sex)]
    return _mixed(parts, people().by_age_systematic)


def inseam_at_stature(stature_mm: float, *, sex: str | None = None) -> InseamSpread:
    """Inseam of the children of one stature; age adds nothing once stature is known.

    Raises
    ------
    PersonError
        Stature outside 800 to 1800 mm, or a sex that is not f or m.
    """
    check_stature_mm(stature_mm)
    parts = [_at_stature(stature_mm, known) for known in _sexes(sex)]
    return _mixed(parts, people().inseam_by_stature_systematic)


def stature_z(stature_mm: float, *, age_y: float, sex: Sex) -> float:
    """CDC 2000 stature-for-age z-score by Cole's LMS method.

    Raises
    ------
    PersonError
        Age or stature outside the tables.
    """
    lam, median_mm, spread = _lms(check_age_y(age_y), sex)
    ratio = check_stature_mm(stature_mm) / median_mm
    return float((ratio**lam - 1) / (lam * spread))


def stature_at_z(z: float, *, age_y: float, sex: Sex) -> float:
    """Stature in millimetres at a z-score: the inverse of :func:`stature_z`.

    Raises
    ------
    PersonError
        Age outside the tables.
    """
    lam, median_mm, spread = _lms(check_age_y(age_y), sex)
    return float(median_mm * (1 + lam * spread * z) ** (1 / lam))


def _lms(age_y: float, sex: Sex) -> tuple[float, float, float]:
    table = people().by_age[sex]
    lam, median_mm, spread = (
        float(np.interp(age_y, table.age_y, column))
        for column in (table.stature_l, table.stature_m_mm, table.stature_s)
    )
    return lam, median_mm, spread


def _sexes(sex: str | None) -> tuple[Sex, ...]:
    known = check_sex(sex)
    return ("f", "m") if known is None else (known,)


def _at_age(age_y: float, sex: Sex) -> InseamSpread:
    table = people().by_age[sex]
    mean_mm = float(np.interp(age_y, table.age_y, table.inseam_mm))
    return InseamSpread(mean_mm, table.inseam_relative_sd * mean_mm, 0.0)


def _at_stature(stature_mm: float, sex: Sex) -> InseamSpread:
    curve = people().inseam_by_stature[sex]
    u = (stature_mm - 1300) / 300
    return InseamSpread(
        mean_mm=float(polynomial.polyval(u, curve.coefficients_mm)),
        person_sd_mm=curve.person_sd_mm + curve.person_sd_per_unit_mm * u,
        systematic_sd_mm=0.0,
        slope=float(polynomial.polyval(u, polynomial.polyder(curve.coefficients_mm))) / 300,
    )


def _mixed(parts: list[InseamSpread], systematic: tuple[float, float]) -> InseamSpread:
    """Mean and spread of an equal mixture: within plus between variance."""
    mean_mm = math.fsum(part.mean_mm for part in parts) / len(parts)
    variance = math.fsum(
        part.person_sd_mm**2 + (part.mean_mm - mean_mm) ** 2 for part in parts
    ) / len(parts)
    constant_mm, relative = systematic
    return InseamSpread(
        mean_mm,
        math.sqrt(variance),
        math.hypot(constant_mm, relative * mean_mm),
        math.fsum(part.slope for part in parts) / len(parts),
    )
