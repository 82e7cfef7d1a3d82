"""The one word or phrase that stands on a bicycle, what to do about it, and why.

``touching``, ``tight``, ``good``, ``roomy`` and ``outgrown`` are kept for what is known well
enough. ``tight``, ``good`` and ``roomy`` are promises, so they stand on recommended bicycles
only. Anything unsure shows what to do instead.
"""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final, Literal, get_args

from pose_fit.fit.chance import chance_text
from pose_fit.fit.judged import Judged
from pose_fit.fit.settle import Action, settle_by

__all__ = ["CLEARED", "SHOWN", "UNSETTLED", "Advice", "Shown", "advice_of"]

Shown = Literal[
    "touching",
    "tight",
    "good",
    "roomy",
    "outgrown",
    "too big",
    "measure this bicycle",
    "measure the child again",
    "try with an adult holding it",
]
SHOWN: Final[tuple[Shown, ...]] = get_args(Shown)
_Cleared = Literal["tight", "good", "roomy"]
#: The words that promise something: only a recommended bicycle is called one of these.
CLEARED: Final[tuple[_Cleared, ...]] = ("tight", "good", "roomy")
#: What stands on a bicycle that may fit: measuring or trying it will tell.
UNSETTLED: Final[tuple[Shown, ...]] = (
    "measure this bicycle",
    "measure the child again",
    "try with an adult holding it",
)

#: From this probability of contact on, the bicycle is not to be tried.
_NO_TRIAL: Final = 0.5

_MEASURE_CHILD: Final[dict[Action, str]] = {
    "second_photo": "take a second photo",
    "tape": "measure the inseam with a tape, twice",
    "repeat_tape": "measure with the tape two more times",
}


@dataclass(frozen=True, slots=True)
class Advice:
    """What is said of one bicycle.

    Attributes
    ----------
    shown
        The word or phrase that stands on the bicycle.
    to_do
        What to do about it, a short phrase without a full stop.
    why
        The reason, one sentence.
    """

    shown: Shown
    to_do: str
    why: str


def advice_of(fit: Judged) -> Advice:
    """The advice on one judged bicycle.

    A recommended bicycle gets one of the three words of :data:`CLEARED`. Any other one
    is surely too big or surely outgrown (``Policy.sure_from``), or shows what would settle it.
    Outgrown is also what is likely outgrown today and surely so in half a year: no measurement
    could make it worth buying.
    """
    if fit.recommended:
        return _cleared(fit)
    sure, outgrown = fit.policy.sure_from, fit.probabilities["cramped"]
    if fit.bicycle.has_top_tube and fit.probabilities["contact"] >= sure:
        return Advice("touching", "choose a smaller bicycle", "The top tube touches.")
    if fit.too_big >= sure:
        return _too_big(fit)
    if outgrown >= sure or (fit.verdict == "cramped" and _outgrown_soon(fit) >= sure):
        return _outgrown(fit)
    if not fit.changes.judged:
        return _measure_bicycle(fit)
    if not fit.unsure:
        return _too_big(fit) if fit.too_big >= outgrown else _outgrown(fit)
    action = settle_by(fit).action
    if action == "measure_bicycle":
        return _measure_bicycle(fit)
    if action in _MEASURE_CHILD:
        return Advice("measure the child again", _MEASURE_CHILD[action], _doubt(fit))
    if fit.probabilities["contact"] >= _NO_TRIAL:
        return _too_big(fit)
    how = "stand over it, feet flat" if fit.bicycle.has_top_tube else "sit on it"
    return Advice("try with an adult holding it", f"let the child {how}, held", _doubt(fit))


def _cleared(fit: Judged) -> Advice:
    shares = fit.probabilities
    word: _Cleared = "good" if shares["good"] >= shares["roomy"] else "roomy"
    # Likelier clear than not is what recommends it; only a family that stretches gets a tight one.
    if shares["tight"] > shares["good"] + shares["roomy"]:
        word = "tight"
    if fit.bicycle.has_top_tube:
        why = {
            "tight": "The child is clear of the top tube, with less to spare than usual.",
            "good": "The child has the clearance that is wanted, and it is not outgrown.",
            "roomy": "The child has more clearance than needed, and it is not outgrown.",
        }[word]
    else:
        why = {
            "tight": "The child only just reaches the ground from the lowest saddle.",
            "good": "The child reaches the ground from the lowest saddle, and it is not outgrown.",
            "roomy": "The child reaches the ground easily, and it is not outgrown.",
        }[word]
    return Advice(word, "worth a try, an adult holding it", why)


def _too_big(fit: Judged) -> Advice:
    if not fit.bicycle.has_top_tube:
        why = "The child does not reach the ground well enough from the lowest saddle."
    elif fit.probabilities["contact"] > fit.policy.max_contact_risk:
        why = (
            f"The chance that the top tube touches is {chance_text(fit.probabilities['contact'])}."
        )
    elif fit.clearance_mm < fit.wanted_clearance_mm:
        why = "There is less clearance over the top tube than wanted."
    else:
        why = "The child does not reach the ground well enough from the lowest saddle."
    return Advice("too big", "choose a smaller one, or wait", why)


def _outgrown_soon(fit: Judged) -> float:
    """Probability of being outgrown when the policy's room is used up."""
    room_mm = fit.room_to_grow_mm - fit.policy.min_room_mm
    return NormalDist().cdf(-room_mm / math.hypot(fit.inseam.sd_mm, fit.changes.cramped_sd_mm))


def _outgrown(fit: Judged) -> Advice:
    chance = chance_text(fit.probabilities["cramped"])
    return Advice(
        "outgrown", "choose a larger bicycle", f"The chance that it is too small is {chance}."
    )


def _measure_bicycle(fit: Judged) -> Advice:
    bicycle = fit.bicycle
    missing = [
        name
        for name, value in (("lowest", bicycle.saddle_min_mm), ("highest", bicycle.saddle_max_mm))
        if value is None
    ]
    heights = f"measure its {' and '.join(missing)} saddle height"
    if not fit.changes.judged:
        return Advice("measure this bicycle", heights, "Its saddle heights are not known.")
    if settle_by(fit).decision == "too_big":
        why = "Its standover height was not measured in the shop."
        return Advice("measure this bicycle", "measure its standover height", why)
    why = "Without its saddle heights it is not known when it is outgrown."
    return Advice("measure this bicycle", heights, why)


def _doubt(fit: Judged) -> str:
    """Why a bicycle that may fit is not recommended."""
    contact, outgrown = fit.probabilities["contact"], fit.probabilities["cramped"]
    policy = fit.policy
    if contact > policy.max_contact_risk:
        what = "the top tube touches" if fit.bicycle.has_top_tube else "the feet do not reach"
        limit = f"{policy.max_contact_risk:.1%}"
        return f"The chance that {what} is {chance_text(contact)}; at most {limit} is accepted."
    if outgrown > policy.max_outgrown_risk:
        return f"The chance that it is too small already is {chance_text(outgrown)}."
    if fit.room_to_grow_mm < policy.min_room_mm:
        return "It would be outgrown within half a year."
    wanted_mm = fit.bicycle.standover_mm - fit.rider.soles_mm + fit.wanted_clearance_mm
    if fit.bicycle.has_top_tube and fit.changes.good_from_mm <= wanted_mm + 1:
        return "There may be less clearance over the top tube than wanted."
    return "The feet may not reach the ground well enough from the lowest saddle."
