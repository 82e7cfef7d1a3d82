"""Can the reading be believed: an inseam that children have, sure enough, and one answer?"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from pose_fit.checks.retake import retake_advice
from pose_fit.inseam.inseam import INSEAM_RANGE_MM
from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice, Refusal

__all__ = [
    "CHECK_WHO",
    "TWO_ANSWERS",
    "TwoAnswers",
    "check_one_answer",
    "check_reading",
    "reading_warnings",
    "two_answers",
]

#: Code of a refusal that ends once somebody clicks the place that decides.
TWO_ANSWERS: Final = "two_answers"
#: Two groups of hypotheses are two answers where each has this weight, and where their means
#: are this many times their own uncertainty apart: two normals less far apart have one peak.
LEAST_WEIGHT: Final = 0.10
LEAST_APART: Final = 2.3

#: The best readings by crotch and by legs apart, in standard uncertainties of their difference.
MAX_DISAGREEMENT: Final = 4.0
WARN_DISAGREEMENT: Final = 2.0
#: A photo that leaves the inseam this unsure says less than the child's stature does.
MAX_SD_MM: Final = 60.0

CHECK_WHO: Final = (
    "Check the reference’s kind and size, where it hangs, and the child’s age and stature."
)


#: Why there may be no crotch to be seen, and why a clicked one may be less sure.
_CROTCH_HIDDEN: Final = Notice(
    "crotch_hidden",
    "The legs do not part visibly at the crotch: clothes hide it, or the feet are together.",
)
_CROTCH_GUESSED: Final = Notice(
    "crotch_guessed",
    "The crotch was clicked where no line between the legs is to be seen: it counts as a guess"
    " through the clothes.",
)


_LEGS_UNFAMILIAR: Final = Notice(
    "legs_unfamiliar",
    "The legs look unlike those the program learned from. It uses fewer signs of the crotch, and"
    " the range is wider.",
)


@dataclass(frozen=True, slots=True)
class TwoAnswers:
    """Two separate inseams, each with its weight, and the click that tells which is right."""

    low_mm: float
    high_mm: float
    low_weight: float
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
            best = apart, TwoAnswers(low_mm, high_mm, low_weight, click)
    return None if best is None else best[1]


def check_reading(sights: PhotoSights, reading: PhotoReading) -> Refusal | None:
    """A refusal where the reading cannot be believed, else None."""
    low_mm, high_mm = INSEAM_RANGE_MM
    mean_mm = reading.length.mean_mm
    if not low_mm <= mean_mm <= high_mm:
        return Refusal(
            (
                Notice(
                    "implausible",
                    f"The legs would have an inseam of {both_units(max(mean_mm, 0.0))},"
                    " which no child has.",
                ),
            ),
            (CHECK_WHO,),
        )
    if reading.length.sd_mm > MAX_SD_MM:
        return Refusal(
            (
                Notice(
                    "too_unsure",
                    f"The photo leaves the inseam unsure by {_told(2 * reading.length.sd_mm)},"
                    f" most of it from the {reading.length.largest.source}.",
                ),
            ),
            retake_advice(reading.length, legwear=sights.legwear),
        )
    crotch, legs = reading.best("crotch"), reading.best("legs")
    if crotch and legs and abs(reading.disagreement) > MAX_DISAGREEMENT:
        return Refusal(
            (
                Notice(
                    "crotch_and_hips_disagree",
                    f"The hips say {both_units(legs.value_mm)} and the place where the legs part"
                    f" {both_units(crotch.value_mm)},"
                    f" {both_units(abs(legs.value_mm - crotch.value_mm))} apart: one of them is"
                    " wrong.",
                ),
            ),
            ("Take the picture again in close-fitting legwear, feet a hand apart.",),
        )
    return None


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


def _told(unsure_mm: float) -> str:
    """Beyond a metre the number says no more."""
    return both_units(unsure_mm) if unsure_mm < 1000 else "more than its own length"


def reading_warnings(sights: PhotoSights, reading: PhotoReading) -> tuple[Notice, ...]:
    """What makes the reading less sure."""
    is_unfamiliar = sights.is_unfamiliar and sights.book is None
    unfamiliar = (_LEGS_UNFAMILIAR,) if is_unfamiliar else ()
    if sights.book is None and (not sights.crotches or reading.crotch_weight < 0.5):
        return (*unfamiliar, _CROTCH_HIDDEN)
    is_guess = sights.book is None and sights.crotches[0].kind == "guess"
    notices = (*unfamiliar, *((_CROTCH_GUESSED,) if is_guess else ()))
    crotch, legs = reading.best("crotch"), reading.best("legs")
    if not (crotch and legs and abs(reading.disagreement) > WARN_DISAGREEMENT):
        return notices
    return (
        *notices,
        Notice(
            "readings_differ",
            f"The hips say {both_units(legs.value_mm)}, the place where the legs part"
            f" {both_units(crotch.value_mm)}:"
            f" {both_units(abs(legs.value_mm - crotch.value_mm))} apart.",
        ),
    )
