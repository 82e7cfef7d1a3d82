"""An uncertain length: a mean, a standard uncertainty, and what that is made of.

Standard uncertainties combine by the root of the sum of squares of independent
contributions, JCGM 100:2008 (GUM) clause 5.1.2, Eq. (10).
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.budget_sources import BudgetSource

__all__ = [
    "COVERAGE_FACTOR_95",
    "Contribution",
    "UncertainLength",
    "combine_sd_mm",
    "covariance_mm2",
]

#: Two-sided 95 % coverage factor of a normal distribution (JCGM 100:2008, table G.1).
COVERAGE_FACTOR_95: Final = 1.959964


@dataclass(frozen=True, slots=True)
class Contribution:
    """One line of an uncertainty budget.

    Attributes
    ----------
    source
        What is uncertain: one of `budget_sources`.
    sd_mm
        Standard uncertainty it brings to the length, in millimetres, at least 0.
    shared
        True where the same error returns in every photo of the same child taken
        the same way (print scale, body proportions), so that more photos do not
        average it away.
    """

    source: BudgetSource
    sd_mm: float
    shared: bool = False

    def __post_init__(self) -> None:
        if not (math.isfinite(self.sd_mm) and self.sd_mm >= 0):
            raise ValueError(
                f"sd_mm of {self.source!r} must be finite and >= 0, found {self.sd_mm}"
            )

    def times(self, factor: float) -> "Contribution":
        """The same source where it brings so many times as much."""
        return replace(self, sd_mm=factor * self.sd_mm)


def combine_sd_mm(contributions: Iterable[Contribution]) -> float:
    """Root of the sum of squares of independent contributions, GUM Eq. (10)."""
    return math.sqrt(sum(line.sd_mm**2 for line in contributions))


@dataclass(frozen=True, slots=True)
class UncertainLength:
    """A length in millimetres with its uncertainty budget.

    The standard uncertainty is derived from the budget, so the two cannot
    disagree, and an empty budget (an unknown uncertainty) is not allowed.
    """

    mean_mm: float
    budget: tuple[Contribution, ...]

    def __post_init__(self) -> None:
        if not math.isfinite(self.mean_mm):
            raise ValueError(f"mean_mm must be finite, found {self.mean_mm}")
        if not combine_sd_mm(self.budget) > 0:
            raise ValueError("a length needs a budget with a standard uncertainty above 0 mm")

    def widened_by(self, line: Contribution) -> "UncertainLength":
        """With one line more, the largest lines first."""
        budget = sorted((*self.budget, line), key=lambda one: -one.sd_mm)
        return UncertainLength(self.mean_mm, tuple(budget))

    @property
    def sd_mm(self) -> float:
        """Combined standard uncertainty, millimetres."""
        return combine_sd_mm(self.budget)

    @property
    def interval95_mm(self) -> tuple[float, float]:
        """Central 95 % interval, millimetres."""
        half_width_mm = COVERAGE_FACTOR_95 * self.sd_mm
        return self.mean_mm - half_width_mm, self.mean_mm + half_width_mm

    @property
    def largest(self) -> Contribution:
        """The contribution that matters most."""
        return max(self.budget, key=lambda line: line.sd_mm)


def covariance_mm2(budgets: Sequence[Sequence[Contribution]]) -> NDArray[np.float64]:
    """(N, N) covariance of N lengths: a shared line of one name is one error in all of them."""
    names = list(dict.fromkeys(line.source for budget in budgets for line in budget if line.shared))
    shared = np.zeros((len(budgets), len(names)))
    own = np.zeros(len(budgets))
    for row, budget in enumerate(budgets):
        for line in budget:
            if line.shared:
                # A name that a budget lists twice is one source in two parts.
                place = names.index(line.source)
                shared[row, place] = math.hypot(shared[row, place], line.sd_mm)
            else:
                own[row] += line.sd_mm**2
    return np.asarray(shared @ shared.T + np.diag(own))
