"""What a picture would say under another answer: read again from what was found in it."""

from dataclasses import replace
from typing import Any

from pose_fit.app.measuring import Outcome
from pose_fit.checks.stance import RAISED_HEELS_SD
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.from_child import known_of
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.measure import PhotoMeasurement, told_length
from pose_fit.metrology.uncertain import UncertainLength

__all__ = ["read_with", "with_heels_up"]


def read_with(outcome: Outcome, **sights: Any) -> Outcome:
    """The outcome with other sights of the same photo; a refused one as it is."""
    result, task = outcome.result, outcome.task
    if not isinstance(result, PhotoMeasurement):
        return outcome
    observed = replace(result.observed, **sights)
    known = known_of(task.child) if task.use_child else None
    reading = read_inseam(observed, model=error_model(), known=known)
    length = told_length(result.legs, reading, result.sizes)
    inseam = replace(result.inseam, length=length)
    return replace(
        outcome, result=replace(result, observed=observed, reading=reading, inseam=inseam)
    )


def with_heels_up(result: PhotoMeasurement) -> Inseam:
    """The inseam if the heels were as high off the floor as a tiptoe may bring them."""
    inseam = result.inseam
    high_mm = 2 * RAISED_HEELS_SD * result.legs.straight_mm
    length = UncertainLength(inseam.mean_mm - high_mm, inseam.length.budget)
    return replace(inseam, length=length)
