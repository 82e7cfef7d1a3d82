"""The card's own words."""

import datetime as dt
import re
from typing import Final

from pose_fit.fit.words import GENERAL_CAUTIONS
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import Unit, both_units

__all__ = [
    "ADVICE_TITLE",
    "BICYCLES_TITLE",
    "CARD_TITLE",
    "CAUTIONS",
    "CAUTIONS_TITLE",
    "FOOTNOTE",
    "INSEAM_IS",
    "date_text",
    "interval_text",
    "result_texts",
    "unbroken",
]

CARD_TITLE: Final = "Fit card"
INSEAM_IS: Final = "Inseam: floor to crotch, barefoot, standing straight"
BICYCLES_TITLE: Final = "The bicycles, best first"
ADVICE_TITLE: Final = "What to do next"
CAUTIONS_TITLE: Final = "Before the first ride"

FOOTNOTE: Final = (
    "This card holds nothing about the child but what was measured and what you typed."
)

CAUTIONS: Final = GENERAL_CAUTIONS

_MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip

#: The blank between a number and its unit.
_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(?:in|cm|mm)\b)")


def date_text(day: dt.date) -> str:
    """``2 March 2026``: no order of numbers to mistake, in English whatever the machine speaks."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def result_texts(inseam: Inseam, unit: Unit) -> tuple[str, str]:
    """Best estimate in the chosen unit and in the other one."""
    first, _, second = both_units(inseam.mean_mm, unit).partition(" (")
    return first, second.rstrip(")")


def interval_text(inseam: Inseam, unit: Unit) -> str:
    """The 95 % interval in words."""
    low, high = (both_units(end_mm, unit) for end_mm in inseam.interval95_mm)
    return f"19 times in 20 (95 %) it lies between {low} and {high}."


def unbroken(text: str) -> str:
    """The text with numbers and their units kept on one line."""
    return _BEFORE_UNIT.sub("\u00a0", text)
