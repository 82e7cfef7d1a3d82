"""The one thing that would make the answer surer: what its answers are likely to change.

A question is worth the fall of the standard uncertainty that its answers bring on average, and
the chance that they lead to another bicycle. What an unlikely answer would add counts by its
chance alone.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from pose_fit.anthropometry.soles import SOLES_BY_RULER_SD_MM
from pose_fit.app.family.supposed import read_with
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import said_of
from pose_fit.budget_sources import BudgetSource
from pose_fit.checks.which_size import WHICH_SIZE
from pose_fit.inseam.cloth_hang import SHARES
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.uncertain import Contribution, UncertainLength

__all__ = [
    "LEAST_WORTH",
    "WANTED_PICTURES",
    "WANTED_READINGS",
    "NextQuestion",
    "Weighing",
    "next_question",
    "worth",
]

NextQuestion = Literal[
    "heels", "feet", "legs", "ruler", "pictures", "tape", "tape_again", "nothing"
]

#: From where one stands, a step to the left, a step to the right.
WANTED_PICTURES: Final = 3
#: Each with the book put in anew.
WANTED_READINGS: Final = 3
#: A question worth less than this is not asked: one part in twenty of the uncertainty, or one
#: other bicycle in twenty answers (judgement).
LEAST_WORTH: Final = 0.05
#: Share of children in pictures who are barefoot or in socks (judgement).
_BAREFOOT: Final = 0.5
#: Skirts and long tops among the legwear of children measured by photo (judgement).
_HIDDEN: Final = 0.05
#: What a ruler that was measured takes away.
_BY_RULER: Final[frozenset[BudgetSource]] = frozenset({"reference size", WHICH_SIZE})


@dataclass(frozen=True, slots=True)
class Weighing:
    """How the page makes one inseam of its pictures and other clues, and a bicycle of that.

    Attributes
    ----------
    inseam
        Of all that is known, were these the outcomes; None where that is no number.
    advice
        What the page would say to an inseam, in a form to be compared.
    """

    inseam: Callable[[Sequence[Outcome]], Inseam | None]
    advice: Callable[[Inseam], object]


def next_question(
    inseam: Inseam, outcomes: Sequence[Outcome], weighing: Weighing, *, tape_readings: int
) -> NextQuestion:
    """What one press answers, where it is worth it; then ruler or pictures; then the tape.

    ``tape_readings`` says how often the tape was read so far.
    """
    measured = [one for one in outcomes if isinstance(one.result, PhotoMeasurement)]
    if measured:
        if any(one.heels_open for one in measured):
            return "heels"
        for supposed in (_by_press(measured, weighing), _by_work(inseam, measured)):
            worths = {
                question: worth(inseam, answers, weighing.advice)
                for question, answers in supposed.items()
            }
            best = max(worths, key=worths.__getitem__, default=None)
            if best is not None and worths[best] >= LEAST_WORTH:
                return best
    if tape_readings == 0:
        return "tape"
    return "tape_again" if tape_readings < WANTED_READINGS else "nothing"


def worth(
    now: Inseam, answers: Sequence[tuple[float, Inseam]], advice: Callable[[Inseam], object]
) -> float:
    """Share of the uncertainty that is likely taken away, plus the chance of other advice.

    ``answers`` are the chance of each answer, all together 1, and the inseam that it would give.
    """
    fall = 1 - sum(chance * inseam.sd_mm for chance, inseam in answers) / now.sd_mm
    here = advice(now)
    return max(fall, 0.0) + sum(chance for chance, inseam in answers if advice(inseam) != here)


_Supposed = Mapping[NextQuestion, Sequence[tuple[float, Inseam]]]


def _by_press(measured: Sequence[Outcome], weighing: Weighing) -> _Supposed:
    """Feet and legs, where nobody has said it yet: every answer read from the pictures again."""

    def answers(*chances: tuple[float, dict[str, object]]) -> Iterator[tuple[float, Inseam]]:
        now = weighing.inseam(measured)
        for chance, sights in chances:
            then = weighing.inseam([read_with(one, **sights) for one in measured])
            if now is not None:
                yield chance, then or now

    said = said_of(measured[0].shot)
    supposed: dict[NextQuestion, Sequence[tuple[float, Inseam]]] = {}
    if "feet" not in said.answered:
        # Shoes leave the thickness of their soles as open as it was.
        supposed["feet"] = list(
            answers(
                (_BAREFOOT, {"soles_mm": 0.0, "soles_sd_mm": SOLES_BY_RULER_SD_MM}),
                (1 - _BAREFOOT, {}),
            )
        )
    if "legs" not in said.answered and said.stated.legwear is None:
        snug, fitted, loose = ((1 - _HIDDEN) * share for share in SHARES)
        supposed["legs"] = list(
            answers(
                (snug, {"legwear": "snug"}),
                (fitted, {"legwear": "fitted"}),
                (loose, {"legwear": "loose"}),
                (_HIDDEN, {"legwear": "hidden", "crotches": ()}),
            )
        )
    return supposed


def _by_work(inseam: Inseam, measured: Sequence[Outcome]) -> _Supposed:
    """The ruler of the printed sheet, and further pictures."""
    supposed: dict[NextQuestion, Sequence[tuple[float, Inseam]]] = {}
    if any(_has_unmeasured_ruler(one) for one in measured):
        kept = [line for line in inseam.length.budget if line.source not in _BY_RULER]
        supposed["ruler"] = _either_way(inseam, kept)
    if len(measured) < WANTED_PICTURES and said_of(measured[0].shot).child is None:
        part = math.sqrt(len(measured) / WANTED_PICTURES)
        supposed["pictures"] = _either_way(
            inseam,
            [
                line if line.shared else replace(line, sd_mm=part * line.sd_mm)
                for line in inseam.length.budget
            ],
        )
    return supposed


def _either_way(inseam: Inseam, budget: Sequence[Contribution]) -> list[tuple[float, Inseam]]:
    """The inseam with a smaller budget, moved up or down by what that takes away."""
    mean_mm = inseam.mean_mm
    then = UncertainLength(mean_mm, tuple(budget))
    off_mm = math.sqrt(max(inseam.sd_mm**2 - then.sd_mm**2, 0.0))
    return [
        (0.5, replace(inseam, length=UncertainLength(mean_mm + side * off_mm, then.budget)))
        for side in (-1, 1)
    ]


def _has_unmeasured_ruler(outcome: Outcome) -> bool:
    """Whether the printed sheet was found, and nobody said what its ruler measures."""
    result = outcome.result
    return (
        isinstance(result, PhotoMeasurement)
        and result.sights.reference.kind == "sheet"
        and outcome.task.reference.ruler_mm is None
        and said_of(outcome.shot).known_object is None
    )
