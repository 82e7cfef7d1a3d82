"""Is this the inseam of a child of that age or stature? Bands from measured children."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.inseam_norms import (
    InseamSpread,
    inseam_at_age,
    inseam_at_stature,
    stature_z,
)
from pose_fit.anthropometry.known_ranges import Sex, check_sex, sexes_of
from pose_fit.metrology.units import both_units
from pose_fit.notice_codes import NoticeCode
from pose_fit.refusal import Notice

__all__ = [
    "IMPLAUSIBLE_Z",
    "Band",
    "Plausibility",
    "implausible_notices",
    "plausibilities",
    "plausibility_at_age",
    "plausibility_at_stature",
    "stature_is_plausible",
]

Band = Literal["usual", "unusual", "rare", "implausible"]
_CODES: Final[dict[Band, NoticeCode]] = {
    "unusual": "inseam_unusual",
    "rare": "inseam_rare",
    "implausible": "inseam_implausible",
}

#: Beyond this many standard deviations a reading is a blunder, not a child.
IMPLAUSIBLE_Z: Final = 4.0


@dataclass(frozen=True, slots=True)
class Plausibility:
    """An inseam against the children it is compared with.

    Attributes
    ----------
    inseam_mm
        The inseam that was judged.
    expected_mm, sd_mm
        Mean of the children alike, and the standard deviation of the difference: their
        scatter, what is not known of their mean, and the reading's own uncertainty.
    basis
        Which children, in words ("children of 7 years").
    """

    inseam_mm: float
    expected_mm: float
    sd_mm: float
    basis: str

    @property
    def z(self) -> float:
        """Difference from the mean in standard deviations."""
        return (self.inseam_mm - self.expected_mm) / self.sd_mm

    @property
    def band(self) -> Band:
        """Within 2, 3, 4 standard deviations, or beyond."""
        distance = abs(self.z)
        if distance > IMPLAUSIBLE_Z:
            return "implausible"
        if distance > 3:
            return "rare"
        return "unusual" if distance > 2 else "usual"

    @property
    def notice(self) -> Notice | None:
        """The warning, with numbers; None where the inseam is usual."""
        if self.band == "usual":
            return None
        side = "longer" if self.z > 0 else "shorter"
        low_mm, high_mm = self.expected_mm - 2 * self.sd_mm, self.expected_mm + 2 * self.sd_mm
        return Notice(
            _CODES[self.band],
            f"An inseam of {both_units(self.inseam_mm)} is {side} than expected of {self.basis}:"
            f" about 95 in 100 would be measured between {both_units(low_mm)} and"
            f" {both_units(high_mm)}.",
        )


def plausibility_at_age(
    inseam_mm: float, *, sd_mm: float, age_y: float, sex: Sex | None = None
) -> Plausibility:
    """The inseam against the children of one age.

    Raises
    ------
    PersonError
        Age outside 2 to 18 y, unknown sex.
    """
    basis = f"{_children(sex)} of {age_y:.3g} years"
    return _judged(inseam_mm, sd_mm, inseam_at_age(age_y, sex=sex), basis)


def plausibility_at_stature(
    inseam_mm: float, *, sd_mm: float, stature_mm: float, sex: Sex | None = None
) -> Plausibility:
    """The inseam against the children of one stature: the sharper test.

    Raises
    ------
    PersonError
        Stature outside the measured children, unknown sex.
    """
    basis = f"{_children(sex)} {both_units(stature_mm)} tall"
    return _judged(inseam_mm, sd_mm, inseam_at_stature(stature_mm, sex=sex), basis)


def plausibilities(inseam_mm: float, *, sd_mm: float, child: Child) -> tuple[Plausibility, ...]:
    """The inseam against children of the same stature and of the same age, as far as stated."""
    found = []
    if child.stature_mm is not None:
        found.append(
            plausibility_at_stature(
                inseam_mm, sd_mm=sd_mm, stature_mm=child.stature_mm, sex=child.sex
            )
        )
    if child.age_y is not None:
        found.append(plausibility_at_age(inseam_mm, sd_mm=sd_mm, age_y=child.age_y, sex=child.sex))
    return tuple(found)


def implausible_notices(judged: Sequence[Plausibility]) -> tuple[Notice, ...]:
    """Notices on an inseam that no comparable child has; empty where each comparison allows it."""
    return tuple(one.notice for one in judged if one.band == "implausible" and one.notice)


def stature_is_plausible(stature_mm: float, *, age_y: float, sex: Sex | None = None) -> bool:
    """Whether the CDC stature-for-age z-score is within 4 for the sex, or for either sex.

    Raises
    ------
    PersonError
        Age or stature outside the tables, unknown sex.
    """
    z_scores = (stature_z(stature_mm, age_y=age_y, sex=one) for one in sexes_of(sex))
    return min(map(abs, z_scores)) <= IMPLAUSIBLE_Z


def _judged(inseam_mm: float, sd_mm: float, group: InseamSpread, basis: str) -> Plausibility:
    return Plausibility(inseam_mm, group.mean_mm, math.hypot(group.sd_mm, sd_mm), basis)


def _children(sex: Sex | None) -> str:
    return {None: "children", "f": "girls", "m": "boys"}[check_sex(sex)]
