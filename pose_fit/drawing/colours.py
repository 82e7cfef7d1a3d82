"""Colours and signs of drawings and pages."""

from typing import Final

from pose_fit.fit.verdicts import Verdict

__all__ = ["INK", "QUIET", "VERDICT_COLOUR", "VERDICT_SIGN"]

INK: Final = "#17252b"
QUIET: Final = "#4d6066"
#: Each at least 4.5 to 1 on white (WCAG 2.2, 1.4.3); sign and word say the same.
VERDICT_COLOUR: Final[dict[Verdict, str]] = {
    "contact": "#a3262a",
    "tight": "#8a5300",
    "good": "#17693a",
    "roomy": "#1d5b9c",
    "cramped": "#5d4a86",
}
VERDICT_SIGN: Final[dict[Verdict, str]] = {
    "contact": "✕",
    "tight": "▼",
    "good": "✓",
    "roomy": "◆",
    "cramped": "▲",
}
