"""Heels that a picture leaves open stand before the answer only where they would change it."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from pose_fit.app.family.supposed import with_heels_up
from pose_fit.app.measuring import Outcome, supposing_heels_down
from pose_fit.app.session import said_of
from pose_fit.checks.stance import with_heels_open
from pose_fit.errors import PersonError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement, is_about_heels_alone

__all__ = ["with_heels_where_they_matter"]


def with_heels_where_they_matter(
    outcomes: Sequence[Outcome], advice: Callable[[Inseam], object]
) -> tuple[Outcome, ...]:
    """The outcomes; one refused for its heels alone is measured where they change no advice.

    The same bicycle is advised then with the heels down, with the heels up, and by an inseam that
    is as unsure as that leaves it.
    """
    return tuple(
        _supposed(outcome, advice) if _is_open(outcome) else outcome for outcome in outcomes
    )


def _is_open(outcome: Outcome) -> bool:
    is_answered = "heels" in said_of(outcome.shot).answered
    return not is_answered and is_about_heels_alone(outcome.result)


def _supposed(outcome: Outcome, advice: Callable[[Inseam], object]) -> Outcome:
    down = supposing_heels_down(outcome).result
    if not isinstance(down, PhotoMeasurement):
        return outcome
    either = replace(down.inseam, length=with_heels_open(down.inseam.length, down.legs))
    here = advice(down.inseam)
    try:
        is_same = here == advice(with_heels_up(down)) == advice(either)
    except PersonError:
        # Shorter than any inseam: the heels change everything.
        return outcome
    if here is None or not is_same:
        return outcome
    return replace(outcome, result=replace(down, inseam=either), heels_open=True)
