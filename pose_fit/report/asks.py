"""What the terminal says where a fact would help: the option by which to state it."""

from typing import Final

from pose_fit.budget_sources import BudgetSource
from pose_fit.checks.retake import advice_on
from pose_fit.checks.which_size import WHICH_SIZE
from pose_fit.inseam.photo_reading import BETWEEN_SOURCE
from pose_fit.refusal import Ask, Refusal

__all__ = ["TERMINAL_ASKS", "terminal_advice", "terminal_remedies"]

TERMINAL_ASKS: Final[dict[Ask, str]] = {
    "age": "State the age with --age.",
    "crotch": 'State where the legs part with --crotch "x,y", in pixels.',
    "floor": 'State where the tip of the toes meets the floor with --floor "x,y", in pixels.',
    "heels_down": "If you know that both heels were on the floor, add --heels-down.",
    "person": 'Or point at the child with --person "x,y", in pixels.',
    "points": 'Or state where the object is with --points "x,y x,y ...", in pixels.',
    "ruler": "State what the sheet's ruler measures with --ruler.",
    "same_child": "If all show the same child, add --same-child.",
    "size": "State its size with --size, such as 47-507 or 80in, and the object with --reference.",
    "soles": "State the thickness of the soles with --soles.",
    "taken": "If the picture is of another day, state it with --taken.",
}


#: The options by which to carry out the advice on a source of uncertainty.
_OPTIONS: Final[dict[BudgetSource, str]] = {
    "reference size": "--ruler or --size",
    WHICH_SIZE: "--size, and --age or --stature",
    "shoe soles": "--soles",
    "crotch click": "--crotch",
    "floor click": "--floor",
    "ankle height": "--tape",
    BETWEEN_SOURCE: "--crotch and --floor",
}
_BY_ADVICE: Final = {advice_on(source): options for source, options in _OPTIONS.items()}


def terminal_advice(advice: str) -> str:
    """Advice for a surer value, with the options by which to state what it asks for."""
    options = _BY_ADVICE.get(advice)
    return advice if options is None else f"{advice.removesuffix('.')} ({options})."


#: Nothing was looked for but what is found by itself.
_NOTHING_FOUND: Final = frozenset({"reference_none"})
_NAME_IT: Final = (
    "If something else of known size is there, name it: --reference door, wheel or length, with"
    " --size and --points; or state the child’s height with --stature."
)


def terminal_remedies(refusal: Refusal) -> tuple[str, ...]:
    """What can be stated of this photo, then what to do for the next."""
    codes = {reason.code for reason in refusal.reasons}
    named = (_NAME_IT,) if codes & _NOTHING_FOUND else ()
    return (*(TERMINAL_ASKS[ask] for ask in refusal.asks), *named, *refusal.remedies)
