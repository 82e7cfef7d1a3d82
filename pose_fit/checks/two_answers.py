"""Does the picture give two separate inseams? Then it is a question to somebody, never an average."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice, Refusal

__all__ = ["TWO_ANSWERS", "TwoAnswers", "check_one_answer", "two_answers"]

#: Code of a refusal that ends once somebody clicks the place that decides.
TWO_ANSWERS: Final = "two_answers"
#: Two groups of hypotheses are two answers where each has this weight, and where their means
#: are this many times their own uncertainty apart: two normals less than 2 apart have one peak.
LEAST_WEIGHT: Final = 0.10
LEAST_APART: Final = 2.3


@dataclass(frozen=True, slots=True)
class TwoAnswers:
    """Two separate inseams, and the click that tells which is right."""

    low_mm: float
    high_mm: float
    click: Literal["crotch", "floor"]


def two_answers(reading: PhotoReading) -> TwoAnswers | None:
    """The two answers of a reading whose hypotheses fall into two groups, or None."""
    found = sorted(reading.hypotheses, key=lambda one: one.mean_mm)
    weights, means_mm, sds_mm = np.array([(one.weight, one.mean_mm, one.sd_mm) for one in found]).T
    best: tuple[float, TwoAnswers] | None = None
    for cut in range(1, len(found)):
        low, high = slice(0, cut), slice(cut, None)
        low_weight, high_weight = float(weights[low].sum()), float(weights[high].sum())
        if min(low_weight, high_weight) < LEAST_WEIGHT:
            continue
        low_mm, high_mm = (
            float(np.average(means_mm[part], weights=weights[part])) for part in (low, high)
        )
        apart = (high_mm - low_mm) / float(np.sqrt(weights @ sds_mm**2))
        if apart > LEAST_APART and (best is None or apart > best[0]):
            one, other = (
                max(found[part], key=lambda hypothesis: hypothesis.weight).hypothesis
                for part in (low, high)
            )
            click: Literal["crotch", "floor"] = "floor" if one.crotch == other.crotch else "crotch"
            best = apart, TwoAnswers(low_mm, high_mm, click)
    return None if best is None else best[1]


def check_one_answer(
    sights: PhotoSights, reading: PhotoReading, *, also: tuple[Notice, ...] = ()
) -> Refusal | None:
    """A question where the picture gives two answers and nobody has clicked which, else None.

    ``also`` is what may be the reason for it, told after the question.
    """
    answers = two_answers(reading)
    return None if answers is None or _is_clicked(sights, answers) else _question(answers, also)


def _is_clicked(sights: PhotoSights, answers: TwoAnswers) -> bool:
    """Somebody has pointed at it already: the interval holds both answers."""
    if answers.click == "crotch":
        return any(one.is_clicked for one in sights.crotches)
    return any(one.is_clicked for one in sights.toes)


def _question(answers: TwoAnswers, also: tuple[Notice, ...]) -> Refusal:
    both = f"{both_units(answers.low_mm)} or {both_units(answers.high_mm)}"
    if answers.click == "crotch":
        told = f"The picture gives two answers, {both}: the legs may part at two places."
        remedy = "Take the picture again in close-fitting legwear, with the shirt pulled up."
    else:
        told = f"The picture gives two answers, {both}: the floor may be at two heights."
        remedy = "Take the picture again with the feet and a hand of floor in full view."
    return Refusal((Notice(TWO_ANSWERS, told), *also), (remedy,), asks=(answers.click,))
