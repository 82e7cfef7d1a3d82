"""Colours of the card. Text on its ground has a contrast of at least 4.5 to 1 (WCAG 2.2, 1.4.3)."""

from typing import Final

from pose_fit.card.card import Standing

__all__ = ["BAND", "INK", "LINE", "PAPER", "QUIET", "STANDING_INK", "TAPE", "WASH"]

PAPER: Final = "#ffffff"
#: The band at the top, with white text.
BAND: Final = "#0b5f5a"
INK: Final = "#17252b"
QUIET: Final = "#4d6066"
LINE: Final = "#b9c7c8"
#: Ground of panels.
WASH: Final = "#eef3f2"
#: The measuring tape.
TAPE: Final = "#fbedc4"

#: Each with a sign of its own shape and its words; colour says nothing alone.
STANDING_INK: Final[dict[Standing, str]] = {
    "try": "#17693a",
    "check": "#8a5300",
    "leave": "#a3262a",
}
