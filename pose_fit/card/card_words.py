"""Dates, lengths and intervals as the card writes them."""

import datetime as dt
import re
from typing import Final

from pose_fit.card.card_texts import CARD_TEXTS, CardLanguage
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import Unit, both_units

__all__ = ["date_text", "interval_text", "result_texts", "unbroken"]

#: The blank between a number and its unit.
_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(?:in|cm|mm)\b)")


def date_text(day: dt.date, language: CardLanguage = "en") -> str:
    """``2 March 2026``: no order of numbers to mistake, whatever the machine speaks."""
    say = CARD_TEXTS[language]
    return say.date.format(day=day.day, month=say.months[day.month - 1], year=day.year)


def result_texts(inseam: Inseam, unit: Unit) -> tuple[str, str]:
    """Best estimate in the chosen unit and in the other one."""
    first, _, second = both_units(inseam.mean_mm, unit).partition(" (")
    return first, second.rstrip(")")


def interval_text(inseam: Inseam, unit: Unit, language: CardLanguage = "en") -> str:
    """The 95 % interval in words."""
    low, high = (both_units(end_mm, unit) for end_mm in inseam.interval95_mm)
    return CARD_TEXTS[language].interval.format(low=low, high=high)


def unbroken(text: str) -> str:
    """The text with numbers and their units kept on one line."""
    return _BEFORE_UNIT.sub("\u00a0", text)
