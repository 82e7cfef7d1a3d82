"""Paragraphs of the PDF at a given size."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph

from pose_fit.card.card_words import unbroken
from pose_fit.card.fonts import BOLD, REGULAR, marked_up
from pose_fit.card.palette import INK

__all__ = ["Run", "Stack", "line_text", "paragraph"]

_LEADING: Final = 1.24


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a paragraph in one weight and colour."""

    text: str
    bold: bool = False
    ink: str = INK


def paragraph(runs: Sequence[Run], *, size: float, right: bool = False) -> Any:
    """A paragraph of runs, ``size`` in points; words too long for a line are broken."""
    style = ParagraphStyle(
        "card",
        fontName=REGULAR,
        fontSize=size,
        leading=size * _LEADING,
        textColor=HexColor(INK),
        alignment=TA_RIGHT if right else TA_LEFT,
        splitLongWords=1,
    )
    markup = "".join(
        f'<font name="{BOLD if run.bold else REGULAR}" color="{run.ink}">'
        f"{marked_up(unbroken(run.text), bold=run.bold)}</font>"
        for run in runs
    )
    return Paragraph(markup, style)


def line_text(text: str, *, size: float, bold: bool = False, ink: str = INK) -> Any:
    """A paragraph of one run."""
    return paragraph([Run(text, bold, ink)], size=size)


@dataclass(frozen=True, slots=True)
class Stack:
    """Paragraphs below each other, with a gap in points between them."""

    paragraphs: tuple[Any, ...]
    gap: float

    def height(self, width: float) -> float:
        """Height in points at this width."""
        heights = [float(each.wrap(width, 1e6)[1]) for each in self.paragraphs]
        return sum(heights) + self.gap * max(len(heights) - 1, 0)

    def draw(self, canvas: Any, left: float, top: float, width: float) -> None:
        """Draw it hanging from ``top``."""
        for each in self.paragraphs:
            height = each.wrap(width, 1e6)[1]
            each.drawOn(canvas, left, top - height)
            top -= height + self.gap
