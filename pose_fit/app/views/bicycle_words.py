"""One bicycle in a few words: what to do, the room above the bar, how long it lasts."""

import math
from typing import Final

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.texts.family_texts import Sureness
from pose_fit.app.texts.fit_texts import FIT
from pose_fit.app.texts.language import in_language
from pose_fit.drawing.colours import VERDICT_COLOUR, VERDICT_SIGN
from pose_fit.fit.judge import Fit
from pose_fit.fit.settle import settle_by
from pose_fit.fit.verdicts import Verdict
from pose_fit.growth.lasting import Lasting

__all__ = ["how_long", "how_sure", "is_open", "mark_of", "room", "word"]

#: From this probability of fitting an answer is called sure.
_SURE_FROM: Final = 0.9
_OPEN_COLOUR: Final = "#4d6066"
_OPEN_SIGN: Final = "?"


def is_open(fit: Fit) -> bool:
    """Whether a bicycle is neither cleared nor plainly too big or too small."""
    plainly: tuple[Verdict, ...] = ("contact", "tight", "cramped")
    return not fit.recommended and not (fit.changes.judged and fit.verdict in plainly)


def word(fit: Fit) -> str:
    """The word of a bicycle that is cleared; what to do about any other."""
    say = in_language(FIT)
    if is_open(fit):
        return say.to_do[settle_by(fit).action]
    if fit.recommended and fit.verdict == "tight":
        return say.tight_to_grow
    return say.words[fit.verdict]


def mark_of(fit: Fit) -> tuple[str, str]:
    """Sign and colour that go with the word."""
    if is_open(fit):
        return _OPEN_SIGN, _OPEN_COLOUR
    return VERDICT_SIGN[fit.verdict], VERDICT_COLOUR[fit.verdict]


def how_sure(fit: Fit) -> Sureness:
    """How sure the answer about this bicycle is."""
    if fit.unsure or not fit.recommended:
        return "not_sure"
    return "sure" if fit.fitting >= _SURE_FROM else "fairly"


def room(fit: Fit) -> str:
    """Between crotch and top tube; on a step-through whether the ground is in reach."""
    say = in_language(FIT)
    if not fit.bicycle.has_bar:
        reaches = fit.inseam.mean_mm > fit.changes.contact_below_mm
        return say.step_through_reaches if reaches else say.step_through_short
    spare_mm = fit.clearance_mm
    words = say.above_bar if spare_mm > 0 else say.below_bar
    return words.format(length=length_text(abs(spare_mm)))


def how_long(line: Lasting) -> str:
    """Months until it is outgrown, or until it is right."""
    say = in_language(FIT)
    if line.ready_months > 0:
        if not math.isfinite(line.ready_months):
            return say.ready_never
        return say.ready_in.format(months=f"{max(line.ready_months, 1):.0f}")
    if not math.isfinite(line.until_mm):
        return say.unknown
    if math.isinf(line.outgrown_months):
        return say.months_long
    if line.outgrown_months < 1:
        return say.months_soon if line.recommended else say.outgrown
    return say.months.format(months=f"{line.outgrown_months:.0f}")
