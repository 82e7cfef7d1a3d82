"""The fit card as a PDF of one page, Letter or A4."""

import io
from collections.abc import Sequence
from typing import Any, Final, Literal

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, letter
from reportlab.pdfgen.canvas import Canvas

from pose_fit.card.card import FitCard
from pose_fit.card.card_texts import CARD_TEXTS
from pose_fit.card.card_words import date_text
from pose_fit.card.palette import BAND, LINE, PAPER, QUIET
from pose_fit.card.pdf_blocks import BicycleGrid, Block, Panels
from pose_fit.card.pdf_result import Result, placed_drawing
from pose_fit.card.pdf_text import Run, Stack, line_text, paragraph
from pose_fit.errors import InputError

__all__ = ["CardPaper", "card_pdf"]

CardPaper = Literal["letter", "a4"]

#: Width and height in points.
_PAPERS: Final[dict[CardPaper, tuple[float, float]]] = {"letter": letter, "a4": A4}
_MARGIN: Final = 34.0
_BAND_HEIGHT: Final = 62.0
_GAP: Final = 13.0
_DATE_WIDTH: Final = 150.0
#: Type sizes in points, tried from the largest until the page holds everything. Texts of usual
#: length stay above 7; only pages full of the longest texts and widest letters go below.
_SIZES: Final = tuple(11.5 - 0.25 * step for step in range(33))
#: Height of the drawing in type sizes: at least, and where there is room.
_DRAWING_LEAST: Final = 19.0
_DRAWING_MOST: Final = 27.0


def card_pdf(card: FitCard, *, paper: CardPaper = "letter") -> bytes:
    """The card as a PDF of one page; long texts are set smaller until they fit.

    Raises
    ------
    InputError
        The paper is unknown, or the drawing is no SVG.
    """
    if paper not in _PAPERS:
        raise InputError(f"paper: wanted one of {', '.join(_PAPERS)}, found {paper!r}")
    width, height = _PAPERS[paper]
    drawing = None if card.drawing is None else placed_drawing(card.drawing.svg)
    inner = width - 2 * _MARGIN
    footer = _footer(card)
    room = height - _BAND_HEIGHT - _MARGIN - footer.height(inner) - 2 * _GAP
    for size in _SIZES:
        blocks = _blocks(card, drawing, size, _DRAWING_LEAST * size)
        spare = room - _total(blocks, inner)
        if spare >= 0:
            break
    else:
        raise InputError("fit card: its texts do not fit one page; give fewer bicycles")
    # What is left over goes to the drawing first.
    for least in range(round(_DRAWING_MOST), round(_DRAWING_LEAST), -1):
        larger = _blocks(card, drawing, size, least * size)
        if _total(larger, inner) <= room:
            blocks, spare = larger, room - _total(larger, inner)
            break
    return _drawn(card, blocks, footer, width, height, min(spare / (len(blocks) + 1), 24.0))


def _blocks(card: FitCard, drawing: Any, size: float, drawing_height: float) -> list[Block]:
    blocks: list[Block] = [Result(card, drawing, size, drawing_height)]
    if card.bicycles:
        blocks.append(BicycleGrid(card.bicycles, CARD_TEXTS[card.language], size))
    blocks.append(Panels(card, size))
    return blocks


def _total(blocks: Sequence[Block], width: float) -> float:
    return sum(block.height(width) for block in blocks) + _GAP * (len(blocks) - 1)


def _footer(card: FitCard) -> Stack:
    parts = []
    if card.checked or card.shop:
        runs = [Run(card.checked, bold=True), Run("   " if card.checked else ""), Run(card.shop)]
        parts.append(paragraph(runs, size=8.5))
    parts.append(line_text(CARD_TEXTS[card.language].footnote, size=7.5, ink=QUIET))
    return Stack(tuple(parts), 2)


def _drawn(
    card: FitCard,
    blocks: Sequence[Block],
    footer: Stack,
    width: float,
    height: float,
    air: float,
) -> bytes:
    buffer = io.BytesIO()
    # "invariant": the same card gives the same file, and the file names no machine and no time.
    canvas = Canvas(buffer, pagesize=(width, height), invariant=True, lang=card.language)
    canvas.setTitle(CARD_TEXTS[card.language].title)
    inner = width - 2 * _MARGIN
    _draw_band(canvas, card, width, height)
    top = height - _BAND_HEIGHT - _GAP - air
    for block in blocks[:-1]:
        block.draw(canvas, _MARGIN, top, inner)
        top -= block.height(inner) + _GAP + air
    foot = _MARGIN * 0.7 + footer.height(inner)
    # The last block stands on the footer.
    blocks[-1].draw(canvas, _MARGIN, foot + _GAP + blocks[-1].height(inner), inner)
    canvas.setStrokeColor(HexColor(LINE))
    canvas.setLineWidth(0.6)
    canvas.line(_MARGIN, foot + 4, width - _MARGIN, foot + 4)
    footer.draw(canvas, _MARGIN, foot, inner)
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _draw_band(canvas: Any, card: FitCard, width: float, height: float) -> None:
    """Title, label and date on a band whose lower edge is marked like a tape."""
    foot = height - _BAND_HEIGHT
    canvas.setFillColor(HexColor(BAND))
    canvas.rect(0, foot, width, _BAND_HEIGHT, stroke=0, fill=1)
    canvas.setStrokeColor(HexColor(PAPER))
    canvas.setLineWidth(0.7)
    for number in range(int(width / 7.2) + 1):
        reach = 8.0 if number % 5 == 0 else 4.5
        canvas.line(number * 7.2, foot, number * 7.2, foot + reach)
    middle = foot + _BAND_HEIGHT * 0.57
    words = CARD_TEXTS[card.language].title
    title = Stack((line_text(words, size=23, bold=True, ink=PAPER),), 0)
    title.draw(canvas, _MARGIN, middle + 15, 130)
    made_on = Run(date_text(card.made_on, card.language), ink=PAPER)
    date = Stack((paragraph([made_on], size=11, right=True),), 0)
    date.draw(canvas, width - _MARGIN - _DATE_WIDTH, middle + 8, _DATE_WIDTH)
    if card.label:
        label_width = width - 2 * _MARGIN - 120 - _DATE_WIDTH - 10
        for size in (15.0, 12.0, 9.5, 8.0, 6.5, 5.0):
            label = Stack((line_text(card.label, size=size, bold=True, ink=PAPER),), 0)
            if label.height(label_width) <= 40:
                break
        label.draw(canvas, _MARGIN + 120, middle + label.height(label_width) / 2, label_width)
