"""One bicycle in a few words: what to do, the room above the bar, how long it lasts."""

import math

from pose_fit.app.inputs.lengths import length_parts, length_text
from pose_fit.app.texts.fit_texts import FIT, FitTexts
from pose_fit.app.texts.language import in_language
from pose_fit.drawing.colours import SHOWN_COLOUR, SHOWN_SIGN
from pose_fit.fit.feet import feet_on_ground
from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import UNSETTLED
from pose_fit.growth.lasting import Lasting

__all__ = ["feet", "how_long", "mark_of", "room", "short_room", "word"]


def word(fit: Fit) -> str:
    """What stands on the bicycle: its word where it is cleared, else what to do about it."""
    return in_language(FIT).shown[fit.shown]


def mark_of(fit: Fit) -> tuple[str, str]:
    """Sign and colour that go with the word."""
    return SHOWN_SIGN[fit.shown], SHOWN_COLOUR[fit.shown]


def feet(fit: Fit) -> str | None:
    """How the feet reach the ground from the lowest saddle; None where that is not known."""
    reach = feet_on_ground(fit)
    return None if reach is None else in_language(FIT).feet[reach]


def room(fit: Fit) -> str:
    """Between crotch and top tube."""
    say = in_language(FIT)
    if not fit.bicycle.has_top_tube:
        return say.no_top_tube
    spare_mm = fit.clearance_mm
    words = say.above_bar if spare_mm > 0 else say.below_bar
    return words.format(length=length_text(abs(spare_mm)))


def short_room(fit: Fit) -> str:
    """The same for a table, in the visitor's unit alone; below zero the bicycle is too high."""
    if not fit.bicycle.has_top_tube:
        return "–"
    return length_parts(fit.clearance_mm)[0].replace("-", "−")


def how_long(fit: Fit, line: Lasting, say: FitTexts | None = None) -> str:
    """Months until it is outgrown, or until it is right; in the visitor's language or these texts."""
    say = say or in_language(FIT)
    if line.ready_months > 0:
        if not math.isfinite(line.ready_months):
            return say.ready_never
        months = round(max(line.ready_months, 1))
        return say.ready_in_one if months == 1 else say.ready_in.format(months=months)
    if not math.isfinite(line.until_mm):
        return say.unknown
    if math.isinf(line.outgrown_months):
        return say.months_long
    if line.outgrown_months < 1:
        if fit.recommended:
            return say.months_soon
        return say.perhaps_outgrown if fit.shown in UNSETTLED else say.outgrown
    months = round(line.outgrown_months)
    return say.one_month if months == 1 else say.months.format(months=months)
