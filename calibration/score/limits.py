"""The figures the bench has to show, with their limits, and what the budget blames."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from calibration.score.groups import GROUPINGS, Group, budget_medians_mm, groups_by
from calibration.score.metrics import Metrics, bootstrap_mae_mm, metrics_of
from calibration.scored import Scored, in_scope

__all__ = [
    "Figure",
    "blame",
    "contact_figure",
    "figures_of",
    "three_photos_figures",
    "worst_group",
]

_COVERAGE: Final = (0.92, 0.98)
_GROUP_COUNT, _GROUP_COVERAGE = 10, 0.85


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure, millimetres or a share, beside its limits.

    Attributes
    ----------
    value
        NaN where no photo speaks about it.
    low, high
        Where the value has to lie.
    count, wanted_count
        Photos it rests on, and how many it should rest on.
    doubt
        95 % interval of the value where few photos leave one; None where not worked out.
    blamed
        The largest sources of the budget, in words.
    """

    name: str
    value: float
    low: float
    high: float
    count: int
    wanted_count: int
    is_share: bool = False
    doubt: tuple[float, float] | None = None
    blamed: str = ""

    @property
    def met(self) -> bool:
        """Whether the value lies within its limits; an unknown one does not."""
        return self.low <= self.value <= self.high

    @property
    def enough(self) -> bool:
        """Whether it rests on the wanted number of photos."""
        return self.count >= self.wanted_count

    @property
    def missed_by(self) -> float:
        """Distance from the nearer limit, 0 where it is met, NaN where unknown."""
        if math.isnan(self.value):
            return math.nan
        return max(self.low - self.value, self.value - self.high, 0.0)


def figures_of(items: Sequence[Scored]) -> list[Figure]:
    """Every figure about millimetres, from the measured photos of the scored part."""
    scope = [item for item in items if in_scope(item.truth)]
    figures = _sheet(_of_kinds(scope, "sheet"))
    for name, kinds, count, limit_mm in (
        ("letter and a4, found by the program: MAE", ("letter", "a4"), 16, 8.0),
        ("door: MAE", ("door",), 10, 10.0),
        ("wheel: MAE", ("wheel",), 12, 10.0),
    ):
        figures.append(_mae(name, _of_kinds(scope, *kinds), wanted=count, limit_mm=limit_mm))
    figures.append(_coverage("95 % interval: coverage over all", scope, *_COVERAGE))
    group = worst_group(items)
    if group is not None:
        name = f"least coverage of a group of {_GROUP_COUNT} or more ({group.label})"
        figures.append(_coverage(name, group.items, _GROUP_COVERAGE, 1.0))
    unclear = [item for item in items if item.truth["legwear"] in ("loose", "hidden")]
    figures.append(_coverage("loose or hidden crotch: coverage", unclear, _COVERAGE[0], 1.0))
    figures.append(_wider(unclear, scope))
    return figures


def contact_figure(share: float, *, count: int, doubt: tuple[float, float] | None) -> Figure:
    """Of the children advised after a photo, the share that touches the advised bicycle's bar."""
    name = "advised by a photo with the sheet onto a bicycle whose bar they touch"
    return Figure(name, share, 0.0, 0.005, count, 24, is_share=True, doubt=doubt)


def three_photos_figures(metrics: Metrics, *, children: int) -> tuple[Figure, ...]:
    """Of the inseam combined from three photos of a child, one child counting once."""
    half_width_mm = metrics.half_width_mm or math.nan
    return (
        Figure("three photos: MAE", metrics.mae_mm, 0.0, 5.0, children, 60),
        Figure("three photos: median half width", half_width_mm, 0.0, 15.0, children, 60),
    )


def worst_group(items: Sequence[Scored]) -> Group | None:
    """The group of ten or more with the least coverage, of all ways to group the photos.

    Loose and hidden legwear and heels far from the wall count as groups of their own and
    are left out of the others.
    """
    scope = [item for item in items if in_scope(item.truth)]
    candidates = []
    for title, label_of in GROUPINGS.items():
        pool = items if title in ("Legwear", "Heels off the wall") else scope
        for group in groups_by(label_of, pool):
            if group.metrics.count >= _GROUP_COUNT:
                label = f"{title.lower()}: {group.label}"
                candidates.append(Group(label, group.items, group.metrics))
    return min(candidates, key=_coverage95, default=None)


def _coverage95(group: Group) -> float:
    coverage = group.metrics.coverage(0.95)
    return coverage.share if coverage is not None else math.inf


def _of_kinds(items: Sequence[Scored], *kinds: str) -> list[Scored]:
    return [item for item in items if item.truth["reference"]["kind"] in kinds]


def _sheet(items: Sequence[Scored]) -> list[Figure]:
    count, blamed = len(items), blame(items)
    metrics = _metrics(items)
    bias, p95, half_width = (
        (metrics.bias_mm, metrics.p95_mm, metrics.half_width_mm or math.nan)
        if metrics
        else (math.nan,) * 3
    )
    return [
        _mae("sheet: MAE", items, wanted=24, limit_mm=6.0),
        Figure("sheet: bias", bias, -2.0, 2.0, count, 24, doubt=_mean_doubt(metrics)),
        Figure("sheet: 95th percentile of the error", p95, 0.0, 14.0, count, 24, blamed=blamed),
        Figure("sheet: median half width of the interval", half_width, 0.0, 16.0, count, 24),
    ]


def _mean_doubt(metrics: Metrics | None) -> tuple[float, float] | None:
    if metrics is None or metrics.count < 2:
        return None
    half = 1.96 * metrics.sd_mm / math.sqrt(metrics.count)
    return metrics.bias_mm - half, metrics.bias_mm + half


def _metrics(items: Sequence[Scored]) -> Metrics | None:
    if not items:
        return None
    return metrics_of([item.error_mm for item in items], [item.sd_mm for item in items])


def _mae(name: str, items: Sequence[Scored], *, wanted: int, limit_mm: float) -> Figure:
    metrics = _metrics(items)
    return Figure(
        name,
        metrics.mae_mm if metrics else math.nan,
        0.0,
        limit_mm,
        len(items),
        wanted,
        doubt=_mae_doubt([item.error_mm for item in items]),
        blamed=blame(items),
    )


def _mae_doubt(errors_mm: list[float]) -> tuple[float, float] | None:
    """A bootstrap of one or two photos shows no doubt."""
    return bootstrap_mae_mm(errors_mm) if len(errors_mm) > 2 else None


def _coverage(name: str, items: Sequence[Scored], low: float, high: float) -> Figure:
    metrics = _metrics(items)
    coverage = metrics.coverage(0.95) if metrics else None
    return Figure(
        name,
        coverage.share if coverage else math.nan,
        low,
        high,
        len(items),
        1,
        is_share=True,
        doubt=coverage.interval95 if coverage else None,
    )


def _wider(unclear: Sequence[Scored], scope: Sequence[Scored]) -> Figure:
    wide, usual = _metrics(unclear), _metrics(scope)
    ratio = math.nan
    if wide and usual and wide.half_width_mm and usual.half_width_mm:
        ratio = wide.half_width_mm / usual.half_width_mm
    name = "loose or hidden crotch: median half width over the others’"
    return Figure(name, ratio, 1.0, math.inf, len(unclear), 1)


def blame(items: Sequence[Scored]) -> str:
    """The three sources with the largest median contribution."""
    if not items:
        return ""
    largest = list(budget_medians_mm(items).items())[:3]
    return ", ".join(f"{name} {sd_mm:.1f}" for name, sd_mm in largest)
