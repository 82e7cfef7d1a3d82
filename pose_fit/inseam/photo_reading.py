"""The inseam from what was found in one photo: sights in, every hypothesis weighed, reading out.

One propagation gives the hip height by every floor and the drop to every crotch. A hypothesis
is a choice among them; its readings are linear forms, its covariance a part of the whole.
Toes, ankles and wall base stand on one floor, so that their agreement also tells how far from
the wall the child stands: the wide uncertainty of that distance is shared by the readings, and
fusing them takes it out. All hypotheses together make a mixture; its mean, its spread and its
tails are the result.
"""

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import logsumexp

from pose_fit.budget_sources import BudgetSource
from pose_fit.inseam.cloth_hang import loose_cloth_sd_mm
from pose_fit.inseam.error_model import WORLD_SOURCE, ErrorModel
from pose_fit.inseam.hypotheses import (
    READINGS,
    Hypothesis,
    Readings,
    hypotheses_of,
    readings_of,
)
from pose_fit.inseam.mixture import NormalMixture, best_weights, log_likelihoods, normalised
from pose_fit.inseam.photo_equation import Floor, Top
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.inseam.quantities import CLOTHING_SOURCE, GAP_SOURCE, quantities_of
from pose_fit.inseam.stand import Stand
from pose_fit.metrology.propagation import Propagated, propagate
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, Contribution, UncertainLength

__all__ = ["BETWEEN_SOURCE", "PhotoReading", "Reading", "WeighedHypothesis", "read_inseam"]

#: Name of the budget's line for not knowing which candidates are the right ones.
BETWEEN_SOURCE: Final = "which of several readings"
#: One tail of a 95 % interval.
_TAIL: Final = 0.025
#: What raised heels add to the height over the floor, in straight legs: feet bent by 20 to 50
#: degrees lift the body so (mean and standard uncertainty; geometry of the foot).
_RISE_PARTS: Final = (0.095, 0.035)
#: The pose model draws a usual foot where a raised one is, so that its ankles take part in this
#: share of the rise (rendered children on tiptoe).
_SHARE_OF_ANKLES: Final = 0.5
#: Part of their errors by which raised heels are weighed: the limits on their odds were chosen by it.
_HEELS_FACTOR: Final = 0.8

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to the inseam: its top and floor, value, own uncertainty and weight."""

    top: Top
    floor: Floor
    value_mm: float
    sd_mm: float
    weight: float


@dataclass(frozen=True, slots=True)
class WeighedHypothesis:
    """A choice of candidates, what it makes of the inseam, and how much it is believed.

    Its standard uncertainty leaves out what loose cloth adds to all choices alike.
    """

    hypothesis: Hypothesis
    mean_mm: float
    sd_mm: float
    weight: float


@dataclass(frozen=True, slots=True)
class PhotoReading:
    """The fused inseam of one photo and what it came from.

    Attributes
    ----------
    length
        Fused inseam with its budget, biggest source first.
    readings
        Each reading under the likeliest hypothesis; their weights and that of what is known
        of the child add up to 1 and may be negative where two readings share an error that
        their difference reveals.
    hypotheses
        Every choice of candidates, the likeliest first; their weights add up to 1.
    interval95_mm
        Central 95 % of the mixture. That of ``length`` is never inside of it.
    disagreement
        Best reading by the likeliest crotch minus best by the legs, in standard uncertainties
        of that difference; 0 without a crotch.
    raised_odds
        How much more often a child on tiptoe would make this picture than one on both heels; 0
        where no floor is seen.
    """

    length: UncertainLength
    readings: tuple[Reading, ...]
    hypotheses: tuple[WeighedHypothesis, ...]
    interval95_mm: tuple[float, float]
    disagreement: float
    raised_odds: float

    def best(self, top: Top) -> Reading | None:
        """The surest reading with this top, or None."""
        having = [reading for reading in self.readings if reading.top == top]
        return min(having, key=lambda reading: reading.sd_mm, default=None)

    @property
    def likeliest(self) -> Hypothesis:
        """The hypothesis with the largest weight."""
        return self.hypotheses[0].hypothesis

    @property
    def crotch_weight(self) -> float:
        """How much it is believed that one of the crotch's candidates is right."""
        return sum(one.weight for one in self.hypotheses if one.hypothesis.crotch is not None)


def read_inseam(
    sights: PhotoSights, *, model: ErrorModel, known: UncertainLength | None = None
) -> PhotoReading:
    """Weigh all hypotheses about the sights and fuse their readings.

    Parameters
    ----------
    known
        What measured people say of a child of this body height or age, as a reading of its
        own; None where nothing is known or it is to be left out.
    """
    straight_mm, hypotheses, batch = _read(sights, model)
    batch = batch.with_known(known) if known is not None else batch
    weights = best_weights(batch.contributions, batch.present)
    log_prior = np.array([one.log_prior for one in hypotheses])
    logs = log_prior + log_likelihoods(batch.values, batch.contributions, batch.independent)
    odds = _raised_odds(sights, model)
    hang_mm = sights.hang_part * straight_mm
    worn = 0.0 if sights.book is not None else loose_cloth_sd_mm(sights.legwear, hang_mm)
    beyond: dict[tuple[BudgetSource, bool], float] = {
        (WORLD_SOURCE, True): model.world_sd_mm,
        (CLOTHING_SOURCE, True): worn,
        # The truth lies anywhere between the feet's floor and that of an edge far above it.
        (GAP_SOURCE, False): sights.base_above_mm / math.sqrt(12),
    }
    return _told(batch, weights, normalised(logs), hypotheses, odds, beyond)


def _read(sights: PhotoSights, model: ErrorModel) -> tuple[float, tuple[Hypothesis, ...], "_Batch"]:
    """Length of the straight leg in mm, every choice, and its readings."""
    legs = legs_of(sights.plane, sights.body, beside=sights.is_beside, model=model)
    equation, quantities = sights.equation, quantities_of(sights, model=model)
    hypotheses = hypotheses_of(sights, legs.straight_mm, model=model)
    found = propagate(equation, quantities)
    forms = readings_of(hypotheses, equation)
    stand = None if sights.is_beside else Stand.of(quantities, legs.straight_mm, model)
    factor = model.factor(legs_only=sights.legs_only)
    return legs.straight_mm, hypotheses, _batch(found, forms, hypotheses, stand, factor)


def _raised_odds(sights: PhotoSights, model: ErrorModel) -> float:
    """How much more often a child on tiptoe would make this picture, by the pose model's joints."""
    if len(sights.equation.heights) <= 1:
        return 0.0
    if sights.seen_body is not None:
        sights, model = replace(sights, body=sights.seen_body), model.of_pose_alone()
    model = replace(model, interval_factor=_HEELS_FACTOR, legs_only_factor=_HEELS_FACTOR)
    straight_mm, hypotheses, flat = _read(sights, model)
    raised = flat.raised(straight_mm)
    log_prior = np.array([one.log_prior for one in hypotheses])
    down, up = (
        logsumexp(log_prior + log_likelihoods(one.values, one.contributions, one.independent))
        for one in (flat, raised)
    )
    return float(np.exp(up - down))


@dataclass(frozen=True, eq=False, slots=True)
class _Batch:
    """The readings of H hypotheses: (H, R) values, (H, R, K) contributions of K named sources."""

    values: _Array
    contributions: _Array
    present: NDArray[np.bool_]
    independent: NDArray[np.bool_]
    sources: tuple[tuple[BudgetSource, bool], ...]

    def raised(self, straight_mm: float) -> "_Batch":
        """The readings of a child who stands on tiptoe."""
        mean, sd = (part * straight_mm for part in _RISE_PARTS)
        shares = np.zeros(self.values.shape[1])
        shares[: len(READINGS)] = [
            _SHARE_OF_ANKLES if floor == "ankles" else 1.0 for _, floor in READINGS
        ]
        column = np.broadcast_to((sd * shares)[:, None], (*self.values.shape, 1))
        return replace(
            self,
            values=self.values - mean * shares,
            contributions=np.concatenate([self.contributions, column], axis=2),
        )

    def with_known(self, known: UncertainLength) -> "_Batch":
        """One reading more, which has all its sources for itself."""
        count, readings, columns = self.contributions.shape
        contributions = np.zeros((count, readings + 1, columns + len(known.budget)))
        contributions[:, :readings, :columns] = self.contributions
        contributions[:, readings, columns:] = [line.sd_mm for line in known.budget]
        there = np.ones((count, 1), bool)
        return _Batch(
            np.column_stack([self.values, np.full(count, known.mean_mm)]),
            contributions,
            np.column_stack([self.present, there]),
            np.column_stack([self.independent, there]),
            (*self.sources, *((line.source, line.shared) for line in known.budget)),
        )


def _batch(
    found: Propagated,
    forms: Readings,
    hypotheses: tuple[Hypothesis, ...],
    stand: Stand | None,
    factor: float,
) -> _Batch:
    """The readings of every hypothesis, each by the depths of its stand."""
    values = forms.forms @ found.values + forms.constants_mm
    contributions = forms.forms @ found.contributions
    if stand is not None:
        is_free = np.array([one.heels_free for one in hypotheses])
        steps, mixes = stand.of_each(is_free)
        depths = contributions[:, :, stand.columns]
        values += (depths @ steps)[..., 0]
        contributions[:, :, stand.columns] = depths @ mixes
    return _Batch(
        values,
        contributions * factor,
        forms.present,
        forms.independent,
        tuple(zip(found.sources, found.shared, strict=True)),
    )


def _told(
    batch: _Batch,
    weights: _Array,
    believed: _Array,
    hypotheses: tuple[Hypothesis, ...],
    raised_odds: float,
    beyond: Mapping[tuple[BudgetSource, bool], float],
) -> PhotoReading:
    """``beyond``: standard uncertainties that all readings share, in mm; they weigh none of them."""
    means_mm = (weights * batch.values).sum(axis=1)
    parts = (weights[:, None, :] @ batch.contributions)[:, 0]
    apart_sds_mm = np.hypot(np.linalg.norm(parts, axis=1), beyond[WORLD_SOURCE, True])
    # Cloth and distance make the answer less sure, but never one answer out of two.
    also_mm = math.hypot(beyond[CLOTHING_SOURCE, True], beyond[GAP_SOURCE, False])
    sds_mm = np.hypot(apart_sds_mm, also_mm)
    mixture = NormalMixture(believed, means_mm, sds_mm)
    order = [int(row) for row in np.argsort(-believed, kind="stable")]
    with_crotch = next((row for row in order if hypotheses[row].crotch is not None), None)
    return PhotoReading(
        length=UncertainLength(mixture.mean, _budget(mixture, parts, batch.sources, beyond)),
        readings=_readings(batch, weights, order[0]),
        hypotheses=tuple(
            WeighedHypothesis(
                hypotheses[place],
                float(means_mm[place]),
                float(apart_sds_mm[place]),
                float(believed[place]),
            )
            for place in order
        ),
        interval95_mm=(mixture.quantile(_TAIL), mixture.quantile(1 - _TAIL)),
        disagreement=0.0 if with_crotch is None else _tops_apart(batch, with_crotch),
        raised_odds=raised_odds,
    )


def _budget(
    mixture: NormalMixture,
    parts: _Array,
    sources: tuple[tuple[BudgetSource, bool], ...],
    beyond: Mapping[tuple[BudgetSource, bool], float],
) -> tuple[Contribution, ...]:
    """Mean variance by source within the hypotheses, what all share, and what differs between them."""
    squares: dict[tuple[BudgetSource, bool], float] = defaultdict(float)
    for name, square in zip(sources, mixture.weights @ parts**2, strict=True):
        squares[name] += float(square)
    for name, sd_mm in beyond.items():
        squares[name] += sd_mm**2
    honest = mixture.honest_sd(factor=COVERAGE_FACTOR_95, tail=_TAIL)
    squares[BETWEEN_SOURCE, False] += max(honest**2 - mixture.within**2, 0.0)
    lines = (
        Contribution(name, math.sqrt(square), shared) for (name, shared), square in squares.items()
    )
    return tuple(sorted((line for line in lines if line.sd_mm > 0), key=lambda line: -line.sd_mm))


def _readings(batch: _Batch, weights: _Array, row: int) -> tuple[Reading, ...]:
    """The readings of one hypothesis."""
    return tuple(
        Reading(
            top,
            floor,
            float(batch.values[row, place]),
            float(np.linalg.norm(batch.contributions[row, place])),
            float(weights[row, place]),
        )
        for place, (top, floor) in enumerate(READINGS)
        if batch.present[row, place]
    )


def _tops_apart(batch: _Batch, row: int) -> float:
    """Surest reading by crotch minus surest by the legs, in its standard uncertainty."""
    surest = {}
    for top in ("legs", "crotch"):
        places = [
            place
            for place, name in enumerate(READINGS)
            if name[0] == top and batch.present[row, place]
        ]
        sds_mm = np.linalg.norm(batch.contributions[row, places], axis=1)
        surest[top] = places[int(sds_mm.argmin())]
    one, other = surest["crotch"], surest["legs"]
    values_mm, contributions = batch.values[row], batch.contributions[row]
    sd_mm = np.linalg.norm(contributions[one] - contributions[other])
    return float((values_mm[one] - values_mm[other]) / sd_mm)
