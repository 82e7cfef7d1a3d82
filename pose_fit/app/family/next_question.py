"""The one thing that would make the answer surer: what changes most comes first."""

from collections.abc import Sequence
from typing import Final, Literal

from pose_fit.app.measuring import Outcome
from pose_fit.app.session import said_of
from pose_fit.budget_sources import BudgetSource
from pose_fit.checks.which_size import WHICH_SIZE
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement

__all__ = ["WANTED_PICTURES", "NextQuestion", "next_question"]

NextQuestion = Literal["feet", "legs", "ruler", "pictures", "tape", "nothing"]

#: From where one stands, a step to the left, a step to the right.
WANTED_PICTURES: Final = 3

#: What takes away each source of a photo's uncertainty, where somebody has not said it yet.
_HELPS: Final[dict[BudgetSource, NextQuestion]] = {
    "shoe soles": "feet",
    "clothing": "legs",
    "reference size": "ruler",
    WHICH_SIZE: "ruler",
    "pose landmarks": "pictures",
    "pose model": "pictures",
    "reference points": "pictures",
    "camera tilt": "pictures",
    "focal length": "pictures",
    "crotch edge": "pictures",
    "posture": "pictures",
    "floor": "pictures",
}
#: A source with less than this share of the variance changes nothing.
_LEAST_SHARE: Final = 0.05


def next_question(inseam: Inseam, outcomes: Sequence[Outcome], *, has_tape: bool) -> NextQuestion:
    """Feet, legs or pictures by how unsure each leaves the answer; then the tape; then nothing."""
    shots = [outcome.shot for outcome in outcomes]
    if shots:
        answered = said_of(shots[0]).answered
        wanted: set[NextQuestion] = {"feet", "legs"} - answered  # type: ignore[assignment]
        if said_of(shots[0]).stated.legwear is not None:
            wanted.discard("legs")
        measured = [o for o in outcomes if isinstance(o.result, PhotoMeasurement)]
        if any(_has_unmeasured_ruler(o) for o in measured):
            wanted.add("ruler")
        if len(measured) < WANTED_PICTURES and said_of(shots[0]).child is None:
            wanted.add("pictures")
        total = sum(line.sd_mm**2 for line in inseam.length.budget)
        for line in sorted(inseam.length.budget, key=lambda line: -line.sd_mm):
            helps = _HELPS.get(line.source)
            if helps in wanted and line.sd_mm**2 >= _LEAST_SHARE * total:
                return helps
    return "nothing" if has_tape else "tape"


def _has_unmeasured_ruler(outcome: Outcome) -> bool:
    """Whether the printed sheet was found, and nobody said what its ruler measures."""
    result = outcome.result
    return (
        isinstance(result, PhotoMeasurement)
        and result.sights.reference.kind == "sheet"
        and outcome.task.reference.ruler_mm is None
        and said_of(outcome.shot).known_object is None
    )
