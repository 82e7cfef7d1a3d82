"""Several photos of one child: what averages, and what does not."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from calibration.score.metrics import Metrics, metrics_of
from calibration.scored import Scored
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import UncertainLength

__all__ = [
    "ByCount",
    "ErrorParts",
    "by_count",
    "children_of",
    "parts_claimed",
    "parts_seen",
    "simulated_children",
]

Child = tuple[float, tuple[UncertainLength, ...]]


@dataclass(frozen=True, slots=True)
class ByCount:
    """Metrics of the inseam combined from ``photos`` photos of a child.

    A child counts once, however many choices of that many photos there are: the metrics are of
    all choices, ``children`` says on how many children they rest.
    """

    photos: int
    children: int
    metrics: Metrics


@dataclass(frozen=True, slots=True)
class ErrorParts:
    """Standard deviations, millimetres: what each photo has of its own, and what all share."""

    own_mm: float
    shared_mm: float


def children_of(items: Sequence[Scored]) -> list[Child]:
    """True inseam and readings of each child, by seed and index of the scene."""
    grouped: dict[tuple[int, int], list[Scored]] = defaultdict(list)
    for item in items:
        grouped[item.truth["seed"], item.truth["index"]].append(item)
    return [
        (own[0].true_mm, tuple(item.reading.length for item in own)) for own in grouped.values()
    ]


def simulated_children(
    items: Sequence[Scored], *, photos: int, draws: int, seed: int
) -> list[Child]:
    """Children drawn from the budgets: no evidence, only what the budgets claim.

    Each draw takes the budget of one photo for all photos of the child; a shared line errs once,
    one that is not shared errs in each photo.
    """
    rng = np.random.default_rng(seed)
    made: list[Child] = []
    for _ in range(draws):
        item = items[int(rng.integers(len(items)))]
        budget = item.reading.length.budget
        shared_mm = sum(rng.normal(0, line.sd_mm) for line in budget if line.shared)
        own_sd_mm = float(np.hypot.reduce([0.0, *(x.sd_mm for x in budget if not x.shared)]))
        own_mm = rng.normal(0, own_sd_mm, photos)
        readings = tuple(UncertainLength(item.true_mm + shared_mm + e, budget) for e in own_mm)
        made.append((item.true_mm, readings))
    return made


def by_count(children: Sequence[Child]) -> list[ByCount]:
    """Metrics for one photo, two, and so on, over every choice of that many."""
    most = max((len(lengths) for _, lengths in children), default=0)
    made = []
    for count in range(1, most + 1):
        having = [child for child in children if len(child[1]) >= count]
        pairs = [
            (inseam.mean_mm - true_mm, inseam.sd_mm)
            for true_mm, lengths in having
            for chosen in combinations(lengths, count)
            for inseam in [_together(chosen)]
        ]
        metrics = metrics_of([error for error, _ in pairs], [sd for _, sd in pairs])
        made.append(ByCount(count, len(having), metrics))
    return made


def _together(lengths: Sequence[UncertainLength]) -> Inseam:
    readings = [Inseam(length, "photo") for length in lengths]
    return readings[0] if len(readings) == 1 else combine_inseams(readings).inseam


def parts_seen(children: Sequence[Child]) -> ErrorParts | None:
    """Own and shared spread of the errors, by one-way analysis of variance (Searle 1992, 3.3).

    The spread of the children's mean errors, less what their photos' own errors bring to it.
    None without two children of two photos each.
    """
    errors = [
        np.array([length.mean_mm - true_mm for length in lengths])
        for true_mm, lengths in children
        if len(lengths) > 1
    ]
    if len(errors) < 2:
        return None
    sizes = np.array([own.size for own in errors])
    within = sum(float(((own - own.mean()) ** 2).sum()) for own in errors)
    own_variance = within / float((sizes - 1).sum())
    grand_mm = float(np.concatenate(errors).mean())
    between = sum(own.size * (float(own.mean()) - grand_mm) ** 2 for own in errors)
    count = sizes.size - 1
    usual_size = (sizes.sum() - (sizes**2).sum() / sizes.sum()) / count
    shared_variance = max((between / count - own_variance) / usual_size, 0.0)
    return ErrorParts(float(np.sqrt(own_variance)), float(np.sqrt(shared_variance)))


def parts_claimed(children: Sequence[Child]) -> ErrorParts:
    """Root mean square of the budgets' own and shared parts."""
    squares: Mapping[bool, list[float]] = {True: [], False: []}
    for _, lengths in children:
        for length in lengths:
            for shared in (True, False):
                lines = [line.sd_mm**2 for line in length.budget if line.shared == shared]
                squares[shared].append(sum(lines))
    return ErrorParts(
        float(np.sqrt(np.mean(squares[False]))), float(np.sqrt(np.mean(squares[True])))
    )
