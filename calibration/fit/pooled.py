"""One error over photos of several worlds: its mean and spread, each world counting alike."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.fit.true_errors import Seen
from calibration.observe import world_of

__all__ = ["Pooled", "core", "pooled", "rising", "spread"]

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Pooled:
    """Values of one error by world."""

    mean: float
    sd: float


def pooled(seen: Sequence[Seen], error_of: Callable[[Seen], float | None]) -> Pooled:
    """Mean of the worlds' medians; spread within a world and between the worlds."""
    by_world: dict[str, list[float]] = {}
    for item in seen:
        error = error_of(item)
        if error is not None:
            by_world.setdefault(world_of(item.truth), []).append(error)
    groups = [np.array(values) for values in by_world.values() if len(values) >= 8]
    if not groups:
        raise ValueError("wanted at least eight photos of a world for each error, found fewer")
    centres = np.array([np.median(group) for group in groups])
    within = np.mean([spread(group) ** 2 for group in groups])
    between = centres.var(ddof=1) if len(centres) > 1 else 0.0
    return Pooled(float(centres.mean()), float(np.sqrt(within + between)))


def spread(values: _Array) -> float:
    """Standard deviation by the 10th and 90th percentile: blunders do not count in full."""
    low, high = np.quantile(values, [0.1, 0.9])
    return float(high - low) / (2 * 1.2816)


def rising(values: _Array, counts: _Array) -> _Array:
    """The nearest values that do not fall: looser cloth hangs no higher and is no surer.

    Isotonic regression by pooling adjacent violators (Barlow et al. 1972).
    """
    pools = [
        ([place], value, count)
        for place, (value, count) in enumerate(zip(values, counts, strict=True))
    ]
    place = 0
    while place + 1 < len(pools):
        (one, low, few), (other, high, many) = pools[place : place + 2]
        if low <= high:
            place += 1
            continue
        pools[place : place + 2] = [
            (one + other, (low * few + high * many) / (few + many), few + many)
        ]
        place = max(place - 1, 0)
    rising = np.empty(len(values))
    for places, value, _ in pools:
        rising[places] = value
    return rising


#: Ends that are no crotch lie anywhere in this range, millimetres below the crotch.
_CLUTTER_MM: Final = (-120.0, 180.0)


def core(values: _Array, worlds: _Array) -> tuple[float, float]:
    """Mean and spread of the right ends among wrong ones, each world counting alike.

    Expectation and maximisation (Dempster, Laird and Rubin 1977) of a normal among even clutter:
    how often an end is wrong the finder's shares of belief say, not the spread.
    """
    counts = {world: int((worlds == world).sum()) for world in set(worlds)}
    even = np.array([1 / counts[world] for world in worlds])
    density = 1 / (_CLUTTER_MM[1] - _CLUTTER_MM[0])
    mean, sd, share = float(np.median(values)), 15.0, 0.8
    for _ in range(60):
        normal = share * np.exp(-0.5 * ((values - mean) / sd) ** 2) / (sd * np.sqrt(2 * np.pi))
        right = normal / (normal + (1 - share) * density)
        weights = even * right
        mean = float(weights @ values / weights.sum())
        sd = max(float(np.sqrt(weights @ (values - mean) ** 2 / weights.sum())), 4.0)
        share = float(weights.sum() / even.sum())
    return mean, sd
