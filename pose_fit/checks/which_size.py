"""Which size the object has: the stated one against its usual neighbours.

Shape of the points, usual camera and view, height of the camera, and the person who would
stand there: each size gets its weight from all of them. Another one that is as likely is a
question, never an average. Where the stated one is clearly the likeliest, the rest of the
weight stands in the budget.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import brentq
from scipy.special import ndtr

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.person_likelihood import SeenPerson, person_log_likelihood
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, Contribution, UncertainLength
from pose_fit.metrology.units import both_units
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.seen_object import SeenObject
from pose_fit.reference.size_hypotheses import SizeHypothesis
from pose_fit.refusal import Notice, Refusal

__all__ = ["WHICH_SIZE", "SizeWeight", "check_size", "size_warnings", "weigh_sizes", "with_sizes"]

#: Name of the budget's line for the object's other possible sizes.
WHICH_SIZE: Final = "which object it is"
#: Of so many pictures one is read so wrongly that it says nothing of the size (judgement).
_MISREAD: Final = 0.002
#: Less than this is no line of a budget.
_NOTHING_MM: Final = 1e-3
#: One tail of a 95 % interval.
_TAIL: Final = 0.025
#: Nothing in the picture tells a wheel's class but the child, and a class too large puts it on a bar: the
#: interval leaves out less (2 of 184 wrong classes did so before).
_TAIL_OF_WHEELS: Final = 0.015
#: Sizes whose inseams are nearer than this to the stated one's, in its standard uncertainties,
#: say the same.
_SAME: Final = 1.0
#: Another size of this weight over the stated one's may well be it: somebody has to say. Who
#: states a size knows it, so that the picture has to speak for the other one ten times as loud.
AS_LIKELY: Final = 0.35
#: Less is enough where the inseam would be another by this factor, as by A3 or A5 in place of A4: such
#: a mistake puts a child on a bicycle of quite another size.
FAR_OFF: Final = 1.3
AS_LIKELY_FAR_OFF: Final = 0.15
#: From here on it is rather the other one.
LIKELIER: Final = 3.0
#: It is told where another size puts the true inseam outside the interval this probably; of a door
#: always, since doors of all heights look alike.
TOLD_FROM: Final = 0.01
#: Of papers there are so many that only more is worth a word.
TOLD_FROM_OF_PAPERS: Final = 0.03
_PAPERS: Final = frozenset({"letter", "a4"})
_LOOK_ALIKE: Final = frozenset({"door"})


@dataclass(frozen=True, slots=True, eq=False)
class SizeWeight:
    """One size with the inseam it would mean and its weight; all weights add up to 1."""

    hypothesis: SizeHypothesis
    inseam_mm: float
    weight: float


def weigh_sizes(
    thing: SeenObject,
    seen: SeenPerson,
    child: Child,
    *,
    taller_by: Callable[[PlaneScale], float],
) -> tuple[SizeWeight, ...]:
    """The weight of each size, the first one's first.

    Parameters
    ----------
    seen
        The person by the first size.
    taller_by
        How much larger the person is by another shape's plane.
    """
    logs, lengths_mm = [], []
    for size in thing.sizes:
        factor = size.factor if size.factor is not None else taller_by(size.plane)
        person = person_log_likelihood(seen.scaled(factor), child)
        logs.append(math.log(size.hypothesis.odds) + size.log_evidence + person)
        lengths_mm.append(seen.inseam_mm * factor)
    odds = np.array([size.hypothesis.odds for size in thing.sizes])
    weights = (1 - _MISREAD) * np.exp(np.array(logs) - np.logaddexp.reduce(logs))
    weights += _MISREAD * odds / odds.sum()
    return tuple(
        SizeWeight(size.hypothesis, length_mm, float(weight))
        for size, length_mm, weight in zip(thing.sizes, lengths_mm, weights, strict=True)
    )


def check_size(sizes: Sequence[SizeWeight], length: UncertainLength) -> Refusal | None:
    """A question where another size is as likely as the stated one and says another inseam."""
    stated, *others = sizes
    same = [size for size in others if _is_same(size, length)]
    likely = stated.weight + sum(size.weight for size in same)
    rival = max(
        (size for size in others if size not in same),
        key=lambda size: size.weight / _likely_from(size, stated),
        default=None,
    )
    if rival is None or rival.weight < _likely_from(rival, stated) * likely:
        return None
    names = rival.hypothesis.name, stated.hypothesis.name
    found = (
        f"It looks like {names[0]} rather than {names[1]}"
        if rival.weight > LIKELIER * likely
        else f"It may be {names[0]} as well as {names[1]}"
    )
    return Refusal.because(
        "size_unsure",
        f"{found}: the inseam would be {both_units(rival.inseam_mm)} or"
        f" {both_units(stated.inseam_mm)}.",
        f"Look which one it is: {rival.hypothesis.tell}; {stated.hypothesis.tell}.",
    )


def _likely_from(rival: SizeWeight, stated: SizeWeight) -> float:
    """The weight over the stated size's from which another one is a question."""
    off = abs(math.log(rival.inseam_mm / stated.inseam_mm))
    return AS_LIKELY_FAR_OFF if off > math.log(FAR_OFF) else AS_LIKELY


def with_sizes(length: UncertainLength, sizes: Sequence[SizeWeight]) -> UncertainLength:
    """The length, less sure by the sizes that the object may have instead.

    The interval reaches as far as that of the mixture of all sizes on either side, and the
    uncertainty is no smaller than the mixture's second moment about the stated size.
    """
    off_mm = np.array([size.inseam_mm for size in sizes]) - sizes[0].inseam_mm
    weights = np.array([size.weight for size in sizes])
    own_sd_mm = length.sd_mm
    is_wheel = sizes[0].hypothesis.reference.kind == "wheel"
    tail = _TAIL_OF_WHEELS if is_wheel else _TAIL

    def beyond(reach_mm: float, side: int) -> float:
        return float(weights @ ndtr((side * off_mm - reach_mm) / own_sd_mm)) - tail

    far_mm = float(np.abs(off_mm).max()) + 8 * own_sd_mm
    reach_mm = max(brentq(beyond, -far_mm, far_mm, args=(side,)) for side in (-1, 1))
    squares = float(weights @ off_mm**2)
    sd_mm = math.sqrt(max(squares, (reach_mm / COVERAGE_FACTOR_95) ** 2 - own_sd_mm**2))
    if sd_mm < _NOTHING_MM:
        return length
    return length.widened_by(Contribution(WHICH_SIZE, sd_mm, shared=True))


def size_warnings(sizes: Sequence[SizeWeight], length: UncertainLength) -> tuple[Notice, ...]:
    """What to look at, where a size that cannot be ruled out may mean another inseam."""
    risks = [size.weight * _outside(size, length) for size in sizes[1:]]
    kind = sizes[0].hypothesis.reference.kind
    looks_alike = kind in _LOOK_ALIKE
    told_from = TOLD_FROM_OF_PAPERS if kind in _PAPERS else TOLD_FROM
    if sum(risks) < told_from and not (looks_alike and _is_any_outside(sizes, length)):
        return ()
    rival = sizes[1 + int(np.argmax(risks))]
    return (
        Notice(
            "size_on_trust",
            f"Check that {sizes[0].hypothesis.tell}. With {rival.hypothesis.name} the inseam would be"
            f" {both_units(rival.inseam_mm)}, and the picture alone does not tell.",
        ),
    )


def _outside(size: SizeWeight, length: UncertainLength) -> float:
    """Probability that the true inseam lies outside the interval if this is the size."""
    off = (size.inseam_mm - length.mean_mm) / length.sd_mm
    return float(ndtr(off - COVERAGE_FACTOR_95) + ndtr(-off - COVERAGE_FACTOR_95))


def _is_any_outside(sizes: Sequence[SizeWeight], length: UncertainLength) -> bool:
    """Whether another size would put the inseam outside the interval."""
    half_mm = COVERAGE_FACTOR_95 * length.sd_mm
    return any(abs(size.inseam_mm - length.mean_mm) > half_mm for size in sizes[1:])


def _is_same(size: SizeWeight, length: UncertainLength) -> bool:
    return abs(size.inseam_mm - length.mean_mm) < _SAME * length.sd_mm
