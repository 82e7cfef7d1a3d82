"""Can the reading be believed: an inseam that children have, and sure enough?"""

from typing import Final

from pose_fit.checks.retake import retake_advice
from pose_fit.inseam.inseam import INSEAM_RANGE_MM
from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice, Refusal

__all__ = [
    "CHECK_WHO",
    "check_reading",
    "reading_warnings",
]

#: The best readings by crotch and by legs apart, in standard uncertainties of their difference.
MAX_DISAGREEMENT: Final = 4.6
WARN_DISAGREEMENT: Final = 2.3
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


def check_reading(sights: PhotoSights, reading: PhotoReading) -> Refusal | None:
    """A refusal where the reading cannot be believed, else None."""
    low_mm, high_mm = INSEAM_RANGE_MM
    mean_mm = reading.length.mean_mm
    if not low_mm <= mean_mm <= high_mm:
        return Refusal.because(
            "implausible",
            f"The legs would have an inseam of {both_units(max(mean_mm, 0.0))},"
            " which no child has.",
            CHECK_WHO,
        )
    if reading.length.sd_mm > MAX_SD_MM:
        return Refusal.because(
            "too_unsure",
            f"The photo leaves the inseam unsure by {_told(2 * reading.length.sd_mm)},"
            f" most of it from the {reading.length.largest.source}.",
            *retake_advice(reading.length, legwear=sights.legwear),
        )
    crotch, legs = reading.best("crotch"), reading.best("legs")
    if crotch and legs and abs(reading.disagreement) > MAX_DISAGREEMENT:
        return Refusal.because(
            "crotch_and_hips_disagree",
            f"The hips say {both_units(legs.value_mm)} and the place where the legs part"
            f" {both_units(crotch.value_mm)},"
            f" {both_units(abs(legs.value_mm - crotch.value_mm))} apart: one of them is"
            " wrong.",
            "Take the picture again in close-fitting legwear, feet a hand apart.",
        )
    return None


def _told(unsure_mm: float) -> str:
    """Beyond a metre the number says no more."""
    return both_units(unsure_mm) if unsure_mm < 1000 else "more than its own length"


def _shows_hem_alone(sights: PhotoSights) -> bool:
    """A hem across both legs and no line above it: what the network sees there is a guess."""
    is_shown = any(one.kind == "line" or one.is_clicked for one in sights.crotches)
    return not is_shown and any(one.kind == "hem" for one in sights.crotches)


def reading_warnings(sights: PhotoSights, reading: PhotoReading) -> tuple[Notice, ...]:
    """What makes the reading less sure."""
    is_unfamiliar = sights.is_unfamiliar and sights.book is None
    unfamiliar = (_LEGS_UNFAMILIAR,) if is_unfamiliar else ()
    if sights.book is None and (reading.crotch_weight < 0.5 or _shows_hem_alone(sights)):
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
