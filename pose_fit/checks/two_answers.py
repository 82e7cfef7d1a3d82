"""Does the picture give two separate inseams?

Where both are likely and a click tells which is right, that is a question to somebody. Else both lie
in the interval, which reaches over all hypotheses, and the second is told beside the first.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from pose_fit.inseam.photo_reading import PhotoReading, WeighedHypothesis
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice, Refusal

__all__ = ["TWO_ANSWERS", "TwoAnswers", "check_one_answer", "second_answer", "two_answers"]

#: Code of a refusal that ends once somebody clicks the place that decides.
TWO_ANSWERS: Final = "two_answers"
#: Two groups of hypotheses are two answers where each has this weight, and where their means
#: are this many times their own uncertainty apart: two normals less than 2 apart have one peak.
LEAST_WEIGHT: Final = 0.10
LEAST_APART: Final = 2.3
#: Weight of the less likely answer over the other one's from which somebody has to say.
AS_LIKELY: Final = 0.35
#: Two answers that leave the inseam less sure than this say less than the child's age does.
MAX_SD_MM: Final = 45.0

_Click = Literal["crotch", "floor"]
_Hypotheses = Sequence[WeighedHypothesis]


@dataclass(frozen=True, slots=True)
class TwoAnswers:
    """Two separate inseams.

    Attributes
    ----------
    odds
        Weight of the less likely one over the other one's, 0 to 1.
    click
        The click that tells which is right; None where none does: which edge the wall stands on,
        and how far from it the child does, nobody tells by pointing at the feet.
    """

    low_mm: float
    high_mm: float
    odds: float
    click: _Click | None


def two_answers(reading: PhotoReading) -> TwoAnswers | None:
    """The two answers of a reading whose hypotheses fall into two groups, or None."""
    found = reading.hypotheses
    groups = _two_groups(found)
    if groups is None:
        return None
    weights = [sum(one.weight for one in group) for group in groups]
    low_mm, high_mm = (
        float(np.average([one.mean_mm for one in group], weights=[one.weight for one in group]))
        for group in groups
    )
    clicks: tuple[_Click, ...] = ("crotch", "floor")
    click = next((one for one in clicks if _is_settled_by(one, found)), None)
    return TwoAnswers(low_mm, high_mm, min(weights) / max(weights), click)


def _two_groups(hypotheses: _Hypotheses) -> tuple[_Hypotheses, _Hypotheses] | None:
    """The hypotheses cut where their two sides lie farthest apart; None where nowhere far enough."""
    found = sorted(hypotheses, key=lambda one: one.mean_mm)
    weights, means_mm, sds_mm = np.array([(one.weight, one.mean_mm, one.sd_mm) for one in found]).T
    weights = weights / weights.sum()
    best, place = LEAST_APART, None
    for cut in range(1, len(found)):
        low, high = slice(0, cut), slice(cut, None)
        if min(weights[low].sum(), weights[high].sum()) < LEAST_WEIGHT:
            continue
        low_mm, high_mm = (
            float(np.average(means_mm[part], weights=weights[part])) for part in (low, high)
        )
        apart = (high_mm - low_mm) / float(np.sqrt(weights @ sds_mm**2))
        if apart > best:
            best, place = apart, cut
    return None if place is None else (found[:place], found[place:])


def _is_settled_by(click: _Click, hypotheses: _Hypotheses) -> bool:
    """Whether one answer is left once somebody has clicked the likeliest place."""

    def place_of(one: WeighedHypothesis) -> int | None:
        return one.hypothesis.crotch if click == "crotch" else one.hypothesis.toes

    place = next((place_of(one) for one in hypotheses if place_of(one) is not None), None)
    left = [one for one in hypotheses if place_of(one) == place]
    return place is not None and _two_groups(left) is None


def check_one_answer(
    sights: PhotoSights, reading: PhotoReading, *, also: tuple[Notice, ...] = ()
) -> Refusal | None:
    """A question where two answers are as likely, or too far apart for one range, else None.

    It is asked only where a click would settle it or none would do, and nobody has clicked.

    ``also`` is what may be the reason for it, told after the question.
    """
    answers = two_answers(reading)
    if answers is None or (answers.click is not None and _is_clicked(sights, answers.click)):
        return None
    is_open = answers.click is not None and answers.odds >= AS_LIKELY
    if not is_open and reading.length.sd_mm <= MAX_SD_MM:
        return None
    return _question(answers, answers.click, also)


def second_answer(reading: PhotoReading) -> tuple[Notice, ...]:
    """What is told of a number beside which the picture gives another one."""
    answers = two_answers(reading)
    if answers is None:
        return ()
    mean_mm = reading.length.mean_mm
    other_mm = max(answers.low_mm, answers.high_mm, key=lambda one_mm: abs(one_mm - mean_mm))
    return (
        Notice(
            "second_answer",
            f"The picture may also be read as {both_units(other_mm)}, which is in the range.",
        ),
    )


def _is_clicked(sights: PhotoSights, click: _Click) -> bool:
    """Somebody has pointed at it already: the interval holds both answers."""
    candidates = sights.crotches if click == "crotch" else sights.toes
    return any(one.is_clicked for one in candidates)


def _question(answers: TwoAnswers, click: _Click | None, also: tuple[Notice, ...]) -> Refusal:
    both = f"{both_units(answers.low_mm)} or {both_units(answers.high_mm)}"
    if click == "crotch":
        told = f"The picture gives two answers, {both}: the legs may part at two places."
        remedy = "Take the picture again in close-fitting legwear, with the shirt pulled up."
    else:
        told = f"The picture gives two answers, {both}: the floor may be at two heights."
        remedy = "Take the picture again with the feet and a hand of floor in full view."
    asks = () if click is None else (click,)
    return Refusal((Notice(TWO_ANSWERS, told), *also), (remedy,), asks=asks)
