"""What a picture would say under another answer: read again from what was found in it."""

from dataclasses import replace
from typing import Any

from pose_fit.app.measuring import Outcome
from pose_fit.checks.stance import RAISED_HEELS, RAISED_HEELS_SD, with_raised_heels
from pose_fit.checks.which_size import with_sizes
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.from_child import known_of
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.uncertain import Contribution, UncertainLength

__all__ = ["read_with", "with_heels_open", "with_heels_up"]


def read_with(outcome: Outcome, **sights: Any) -> Outcome:
    """The outcome with other sights of the same photo; a refused one as it is."""
    result, task = outcome.result, outcome.task
    if not isinstance(result, PhotoMeasurement):
        return outcome
    observed = replace(result.observed, **sights)
    known = known_of(task.child) if task.use_child else None
    reading = read_inseam(observed, model=error_model(), known=known)
    length = with_sizes(with_raised_heels(result.legs, reading), result.sizes)
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


def with_heels_open(result: PhotoMeasurement) -> PhotoMeasurement:
    """The same measurement, as unsure as heels that nobody speaks for leave it."""
    length = result.inseam.length
    if any(line.source == RAISED_HEELS for line in length.budget):
        return result
    raised = Contribution(RAISED_HEELS, RAISED_HEELS_SD * result.legs.straight_mm, shared=True)
    budget = tuple(sorted((*length.budget, raised), key=lambda line: -line.sd_mm))
    widened = replace(result.inseam, length=UncertainLength(length.mean_mm, budget))
    return replace(result, inseam=widened)
