"""How photo and tape agree: bias, spread and coverage with exact intervals, whole and by group.

Bias: Student's t. Spread: chi-square. Coverage: the exact binomial interval (Clopper and Pearson
1934, Biometrika 26, 404). Limits of agreement: bias +- 1.96 standard deviations (Bland and Altman
1986, Lancet 327, 307).
"""

import math
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from scipy import special

from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.pairs.pair import Pair

__all__ = [
    "Agreement",
    "Grouping",
    "Interval",
    "agreement",
    "agreement_by_group",
    "binomial95",
    "odd_pairs",
]

Interval = tuple[float, float]
#: What pairs can have in common.
Grouping = Literal["object", "legwear", "taken_by", "care", "shop"]

#: A difference this many of its own standard uncertainties from the usual one is looked at again.
_ODD_FACTOR: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """Photo minus tape in one group of pairs; millimetres.

    Attributes
    ----------
    grouping, group
        What these pairs have in common, and its value; None and empty for all pairs. An empty group
        holds those where nobody said, or where there were several objects.
    count
        Pairs.
    bias_mm, bias95_mm
        Mean difference with its 95 % interval; the interval is None for a single pair.
    sd_mm, sd95_mm
        Standard deviation of the differences, likewise; both None for a single pair.
    covered
        Pairs whose difference lies within its stated 95 % interval.
    coverage95
        95 % interval of the share that is covered.
    """

    grouping: Grouping | None = None
    group: str = ""
    count: int
    bias_mm: float
    bias95_mm: Interval | None
    sd_mm: float | None
    sd95_mm: Interval | None
    covered: int
    coverage95: Interval

    @property
    def coverage(self) -> float:
        """Share of pairs that the stated intervals cover; 0.95 is promised."""
        return self.covered / self.count

    @property
    def limits_mm(self) -> Interval | None:
        """Limits of agreement: 95 in 100 differences lie between; None for a single pair."""
        if self.sd_mm is None:
            return None
        half_mm = COVERAGE_FACTOR_95 * self.sd_mm
        return self.bias_mm - half_mm, self.bias_mm + half_mm


def agreement(
    pairs: Sequence[Pair], *, grouping: Grouping | None = None, group: str = ""
) -> Agreement:
    """The statistics of these pairs.

    Raises
    ------
    ValueError
        No pair.
    """
    if not pairs:
        raise ValueError("agreement needs at least one pair, found none")
    count = len(pairs)
    differences_mm = [pair.difference_mm for pair in pairs]
    bias_mm = statistics.fmean(differences_mm)
    sd_mm = bias95_mm = sd95_mm = None
    if count > 1:
        sd_mm = statistics.stdev(differences_mm)
        half_mm = float(special.stdtrit(count - 1, 0.975)) * sd_mm / math.sqrt(count)
        bias95_mm = bias_mm - half_mm, bias_mm + half_mm
        # chdtri(v, p) is the point that a chi-square variable exceeds with probability p.
        low, high = (float(special.chdtri(count - 1, p)) for p in (0.025, 0.975))
        sd95_mm = sd_mm * math.sqrt((count - 1) / low), sd_mm * math.sqrt((count - 1) / high)
    covered = sum(pair.is_covered for pair in pairs)
    return Agreement(
        grouping=grouping,
        group=group,
        count=count,
        bias_mm=bias_mm,
        bias95_mm=bias95_mm,
        sd_mm=sd_mm,
        sd95_mm=sd95_mm,
        covered=covered,
        coverage95=binomial95(covered, count),
    )


def binomial95(hits: int, count: int) -> Interval:
    """Exact 95 % interval of a share (Clopper and Pearson 1934) from hits among count."""
    low = float(special.betaincinv(hits, count - hits + 1, 0.025)) if hits else 0.0
    high = float(special.betaincinv(hits + 1, count - hits, 0.975)) if hits < count else 1.0
    return low, high


_GROUPINGS: Final[tuple[tuple[Grouping, Callable[[Pair], str]], ...]] = (
    ("object", lambda pair: pair.reference or ""),
    ("legwear", lambda pair: pair.legwear or ""),
    ("taken_by", lambda pair: pair.taken_by),
    ("care", lambda pair: pair.care),
    ("shop", lambda pair: pair.shop),
)


def agreement_by_group(pairs: Sequence[Pair]) -> tuple[Agreement, ...]:
    """The same by object of known size, legwear, who held the tape, care and shop.

    What all pairs have in common is left out: it would repeat the whole.
    """
    found = []
    for grouping, name_of in _GROUPINGS:
        groups: dict[str, list[Pair]] = {}
        for pair in pairs:
            groups.setdefault(name_of(pair), []).append(pair)
        if len(groups) > 1:
            found += [
                agreement(group, grouping=grouping, group=name)
                for name, group in sorted(groups.items())
            ]
    return tuple(found)


def odd_pairs(pairs: Sequence[Pair]) -> tuple[Pair, ...]:
    """Pairs for a second look: far from the usual difference for what photo and tape promise."""
    if not pairs:
        return ()
    usual_mm = statistics.median(pair.difference_mm for pair in pairs)
    return tuple(
        pair
        for pair in pairs
        if abs(pair.difference_mm - usual_mm) > _ODD_FACTOR * pair.expected_sd_mm
    )
