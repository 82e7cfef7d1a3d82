"""The card's own words, the same in PDF and HTML."""

import datetime as dt
import re
from typing import Final

from pose_fit.card.card import Standing
from pose_fit.fit.words import GENERAL_CAUTIONS
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import MM_PER_INCH, both_units

__all__ = [
    "ADVICE_TITLE",
    "BICYCLES_TITLE",
    "CARD_TITLE",
    "CAUTIONS",
    "CAUTIONS_TITLE",
    "FOOTNOTE",
    "INSEAM_IS",
    "STANDING_WORDS",
    "date_text",
    "interval_text",
    "result_texts",
    "unbroken",
]

CARD_TITLE: Final = "Fit card"
INSEAM_IS: Final = "Inseam: floor to crotch, barefoot, standing straight"
BICYCLES_TITLE: Final = "The bicycles, best first"
ADVICE_TITLE: Final = "What to do next"
CAUTIONS_TITLE: Final = "Before anybody rides"

FOOTNOTE: Final = "This card says nothing of the child but what was measured and what you typed."

STANDING_WORDS: Final[dict[Standing, str]] = {
    "try": "Worth trying",
    "unsure": "Try with care: not certain",
    "leave": "Not recommended",
}

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


def result_texts(inseam: Inseam) -> tuple[str, str]:
    """Best estimate in inches and in centimetres."""
    return f"{inseam.mean_mm / MM_PER_INCH:.1f} in", f"{inseam.mean_mm / 10:.1f} cm"


def interval_text(inseam: Inseam) -> str:
    """The 95 % interval in words."""
    low_mm, high_mm = inseam.interval95_mm
    return f"19 times in 20 (95 %) it lies between {both_units(low_mm)} and {both_units(high_mm)}."


def unbroken(text: str) -> str:
    """The text with numbers and their units kept on one line."""
    return _BEFORE_UNIT.sub("\u00a0", text)
