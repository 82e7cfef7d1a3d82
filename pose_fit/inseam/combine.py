"""Several inseams of one child made into one: generalised least squares.

Random parts average. A source that is marked as shared errs the same way in every
reading that names it, so equally named shared sources are fully correlated and stay
whole. With C the covariance that follows and 1 a vector of ones,

    w = C^-1 1 / (1^T C^-1 1)                                    Eq. (1)

(Aitken 1935; Cox et al. 2006, Metrologia 43 S268). A reading that Eq. (1) would give a
negative weight, because another one holds the same shared error and less besides, gets
weight 0. Consistency is tested by chi-square = r^T C^-1 r with n - 1 degrees of
freedom; where the Birge ratio sqrt(chi-square / (n - 1)) exceeds 1 the standard
uncertainty is multiplied by it (Birge 1932; Particle Data Group), so that readings
that contradict each other never look surer together; what that adds is held to half
the range of the readings, which it would otherwise leave where they share nearly all
their error.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtrc

from pose_fit.budget_sources import BudgetSource
from pose_fit.errors import PersonError
from pose_fit.inseam.inseam import Inseam, Method
from pose_fit.metrology.uncertain import Contribution, UncertainLength, covariance_mm2
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice

__all__ = ["Combination", "combine_inseams"]


#: A reading of which everything is shared still differs from the next by its last digit:
#: one millimetre, rectangular (JCGM 100:2008, F.2.2.1).
_RESOLUTION: Final = Contribution("resolution of the reading", 1 / math.sqrt(12))

#: Readings that agree are this unlike each other once in twenty.
_NOTICE_P: Final = 0.05

_WORDS: Final[dict[Method, str]] = {
    "photo": "photo",
    "tape": "tape",
    "trousers": "trousers",
    "lift": "lift test",
    "stature": "stature",
    "age": "age",
    "combined": "combined reading",
    "stated": "stated inseam",
}


@dataclass(frozen=True, slots=True)
class Combination:
    """One inseam from several, with how it came about.

    Attributes
    ----------
    inseam
        The combined inseam, method ``combined``; its budget keeps the sources' names.
    weights
        Share of each reading in the mean, in the order given; at least 0, sum 1.
    p_value
        Chance that readings with these uncertainties scatter at least so much.
    """

    inseam: Inseam
    weights: tuple[float, ...]
    p_value: float


def combine_inseams(readings: Sequence[Inseam]) -> Combination:
    """Combine independent readings of one child.

    Parameters
    ----------
    readings
        Two or more inseams of the same child at the same time.

    Raises
    ------
    PersonError
        Fewer than two readings.
    """
    if len(readings) < 2:
        raise PersonError(f"combining needs at least two inseams, found {len(readings)}")
    covariance = covariance_mm2([_lines(reading) for reading in readings])
    means_mm = np.array([reading.mean_mm for reading in readings])
    weights = _weights(covariance)
    mean_mm = float(weights @ means_mm)
    residual_mm = means_mm - float(_plain_weights(covariance) @ means_mm)
    chi_square = float(residual_mm @ np.linalg.solve(covariance, residual_mm))
    degrees = len(readings) - 1
    p_value = float(chdtrc(degrees, chi_square))
    budget = _budget(readings, weights)
    # Birge's ratio: above 1 the readings scatter more than they say.
    stretch = math.sqrt(chi_square / degrees)
    if stretch > 1:
        sd_mm = math.sqrt(float(weights @ covariance @ weights))
        added_mm = min(sd_mm * math.sqrt(stretch**2 - 1), float(np.ptp(means_mm)) / 2)
        budget += (Contribution("disagreement of the readings", added_mm),)
    inseam = Inseam(
        UncertainLength(mean_mm, budget),
        "combined",
        warnings=_once([*_contradiction(readings, covariance, p_value), *_carried(readings)]),
        retake=tuple(dict.fromkeys(line for reading in readings for line in reading.retake)),
    )
    return Combination(inseam, tuple(weights.tolist()), p_value)


def _lines(reading: Inseam) -> tuple[Contribution, ...]:
    """The budget, with something of its own in it."""
    budget = reading.length.budget
    return (*budget, _RESOLUTION) if all(line.shared for line in budget) else budget


def _plain_weights(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    solved = np.linalg.solve(covariance, np.ones(len(covariance)))
    weights: NDArray[np.float64] = solved / solved.sum()  # Eq. (1)
    return weights


def _weights(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    """Eq. (1) with the most negative weight set to 0 until none is negative."""
    kept = list(range(len(covariance)))
    while True:
        part = _plain_weights(covariance[np.ix_(kept, kept)])
        worst = int(part.argmin())
        if part[worst] >= 0:
            break
        kept.pop(worst)
    weights = np.zeros(len(covariance))
    weights[kept] = part
    return weights


def _budget(readings: Sequence[Inseam], weights: NDArray[np.float64]) -> tuple[Contribution, ...]:
    """Shared sources add up by name, others by the root of the sum of squares."""
    together: dict[BudgetSource, float] = {}
    own: dict[BudgetSource, float] = {}
    for weight, reading in zip(weights.tolist(), readings, strict=True):
        parts: dict[BudgetSource, float] = {}
        for line in _lines(reading):
            # A name that a budget lists twice is one source in two parts.
            into = parts if line.shared else own
            into[line.source] = math.hypot(into.get(line.source, 0.0), weight * line.sd_mm)
        for source, sd_mm in parts.items():
            together[source] = together.get(source, 0.0) + sd_mm
    lines = [Contribution(source, sd_mm, shared=True) for source, sd_mm in together.items()]
    lines += [Contribution(source, sd_mm) for source, sd_mm in own.items()]
    return tuple(line for line in lines if line.sd_mm > 0)


def _contradiction(
    readings: Sequence[Inseam], covariance: NDArray[np.float64], p_value: float
) -> tuple[Notice, ...]:
    """The two readings furthest apart for their uncertainties, where the test fails."""
    if p_value >= _NOTICE_P:
        return ()

    def apart(pair: tuple[int, int]) -> float:
        i, j = pair
        variance = covariance[i, i] + covariance[j, j] - 2 * covariance[i, j]
        return abs(readings[i].mean_mm - readings[j].mean_mm) / math.sqrt(float(variance))

    i, j = max(combinations(range(len(readings)), 2), key=apart)
    first, second = readings[i], readings[j]
    apart_mm = abs(first.mean_mm - second.mean_mm)
    return (
        Notice(
            "readings_disagree",
            f"{_named(readings, i)} says {both_units(first.mean_mm)} and"
            f" {_named(readings, j).lower()} {both_units(second.mean_mm)}:"
            f" {both_units(apart_mm)} apart, {apart((i, j)):.1f} times the standard"
            " uncertainty of that difference. One of them is likely wrong; take one again.",
        ),
    )


def _named(readings: Sequence[Inseam], index: int) -> str:
    """The tape; photo 2, where several have one method."""
    method = readings[index].method
    alike = [place for place, reading in enumerate(readings) if reading.method == method]
    if len(alike) == 1:
        return f"The {_WORDS[method]}"
    return f"{_WORDS[method].capitalize()} {alike.index(index) + 1}"


def _carried(readings: Sequence[Inseam]) -> list[Notice]:
    return [notice for reading in readings for notice in reading.warnings]


def _once(notices: Sequence[Notice]) -> tuple[Notice, ...]:
    return tuple(dict.fromkeys(notices))
