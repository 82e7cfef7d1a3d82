"""The result on the PDF: the number, the tape, how it was measured, and the drawing beside it."""

import io
from dataclasses import dataclass
from typing import Any, Final

from reportlab.graphics import renderPDF
from reportlab.lib.colors import HexColor
from reportlab.pdfbase.pdfmetrics import stringWidth

from pose_fit.card.card import FitCard
from pose_fit.card.card_texts import CARD_TEXTS
from pose_fit.card.card_words import date_text, interval_text, result_texts
from pose_fit.card.fonts import BOLD, DEJAVU, REGULAR, dejavu_path
from pose_fit.card.palette import BAND, INK, LINE, QUIET, TAPE
from pose_fit.card.pdf_text import Run, Stack, line_text, paragraph
from pose_fit.card.tape_strip import Tape, Tick, tape_of
from pose_fit.errors import InputError

__all__ = ["Result", "placed_drawing"]

_GUTTER: Final = 16.0
#: Share of the width that the drawing may take.
_DRAWING_SHARE: Final = 0.42
#: Between drawing and caption, in type sizes.
_CAPTION_GAP: Final = 0.35


def placed_drawing(svg: str) -> Any:
    """The SVG as a reportlab drawing.

    Raises
    ------
    InputError
        The text is no SVG.
    """
    from svglib.fonts import register_font
    from svglib.svglib import svg2rlg

    for face, bold, weight in ((DEJAVU, False, "normal"), (DEJAVU, True, "bold")):
        path = dejavu_path(bold=bold)
        if path is not None:
            register_font("DejaVu Sans", str(path), weight=weight, rlgFontName=face + weight)
    try:
        drawing = svg2rlg(io.StringIO(svg))
    except Exception as fault:
        raise InputError(f"fit card, drawing: wanted an SVG text, found none ({fault})") from fault
    if drawing is None or not (drawing.width > 0 and drawing.height > 0):
        raise InputError("fit card, drawing: wanted an SVG text with a size, found none")
    return drawing


@dataclass(frozen=True, slots=True)
class Result:
    """Number, tape and interval at the left, drawing at the right, at least ``drawing_height``."""

    card: FitCard
    drawing: Any
    size: float
    drawing_height: float

    def _text(self) -> Stack:
        card, size, say = self.card, self.size, CARD_TEXTS[self.card.language]
        interval = interval_text(card.inseam, card.unit, card.language)
        parts = [
            line_text(interval, size=size * 1.05, bold=True),
            paragraph([Run(say.measured, bold=True), Run(card.measured)], size=size),
        ]
        parts += [
            paragraph([Run(say.note, bold=True), Run(warning, ink=QUIET)], size=size * 0.93)
            for warning in card.warnings
        ]
        return Stack(tuple(parts), size * 0.35)

    def _widths(self, width: float) -> tuple[float, float, float]:
        """Of the text, and of the drawing and its height."""
        if self.drawing is None:
            return width, 0.0, 0.0
        aspect = self.drawing.width / self.drawing.height
        drawing_width = min(self.drawing_height * aspect, _DRAWING_SHARE * width)
        return width - drawing_width - _GUTTER, drawing_width, drawing_width / aspect

    def _caption(self) -> Stack:
        if self.card.drawing is None:
            return Stack((), 0)
        to_scale = CARD_TEXTS[self.card.language].to_scale
        runs = [Run(self.card.drawing.caption, bold=True), Run(to_scale, ink=QUIET)]
        return Stack((paragraph(runs, size=self.size * 0.88),), 0)

    def _number_height(self) -> float:
        return self.size * 6.4

    def _tape_height(self) -> float:
        return self.size * 6.0

    def height(self, width: float) -> float:
        """Height in points at this width."""
        text_width, drawing_width, drawing_height = self._widths(width)
        written = self._number_height() + self._tape_height() + self._text().height(text_width)
        if self.drawing is None:
            return written
        caption = self._caption().height(drawing_width) + self.size * _CAPTION_GAP
        return max(written, drawing_height + caption)

    def draw(self, canvas: Any, left: float, top: float, width: float) -> None:
        """Draw it hanging from ``top``."""
        text_width, drawing_width, drawing_height = self._widths(width)
        if self.drawing is not None:
            canvas.saveState()
            canvas.translate(left + width - drawing_width, top - drawing_height)
            scale = drawing_width / self.drawing.width
            canvas.scale(scale, scale)
            renderPDF.draw(self.drawing, canvas, 0, 0)
            canvas.restoreState()
            below = top - drawing_height - self.size * _CAPTION_GAP
            self._caption().draw(canvas, left + width - drawing_width, below, drawing_width)
        _draw_number(canvas, self.card, left, top, self.size)
        top -= self._number_height()
        _draw_tape(canvas, tape_of(self.card.inseam), left, top, text_width, self.size)
        top -= self._tape_height()
        self._text().draw(canvas, left, top, text_width)


def _draw_number(canvas: Any, card: FitCard, left: float, top: float, size: float) -> None:
    first, second = result_texts(card.inseam, card.unit)
    canvas.setFillColor(HexColor(QUIET))
    canvas.setFont(REGULAR, size)
    say = CARD_TEXTS[card.language]
    what = say.inseam_is
    if card.inseam_on is not None:
        what = say.inseam_on.format(day=date_text(card.inseam_on, card.language))
    canvas.drawString(left, top - size, what)
    base, large = top - size * 5.2, size * 4.4
    canvas.setFillColor(HexColor(INK))
    canvas.setFont(BOLD, large)
    canvas.drawString(left, base, first)
    left += stringWidth(first, BOLD, large) + size * 1.4
    canvas.setFillColor(HexColor(BAND))
    canvas.setFont(BOLD, large * 0.62)
    canvas.drawString(left, base, second)


def _draw_tape(canvas: Any, tape: Tape, left: float, top: float, width: float, size: float) -> None:
    """A strip with inches along its upper edge and centimetres along its lower one."""
    upper, tall = top - size * 0.6, size * 4.4
    lower, middle = upper - tall, upper - tall / 2
    canvas.setFillColor(HexColor(QUIET))
    canvas.setFont(REGULAR, size * 0.85)
    canvas.drawString(left, upper - size * 1.25, "in")
    canvas.drawString(left, lower + size * 0.6, "cm")
    left, width = left + size * 1.7, width - size * 1.7
    canvas.saveState()
    clip = canvas.beginPath()
    clip.roundRect(left, lower, width, tall, 3)
    canvas.clipPath(clip, stroke=0, fill=0)
    canvas.setFillColor(HexColor(TAPE))
    canvas.rect(left, lower, width, tall, stroke=0, fill=1)
    _draw_ticks(canvas, tape.inches, left, upper, width, size, down=True)
    _draw_ticks(canvas, tape.centimetres, left, lower, width, size, down=False)
    canvas.restoreState()
    canvas.setStrokeColor(HexColor(LINE))
    canvas.setLineWidth(0.75)
    canvas.roundRect(left, lower, width, tall, 3, stroke=1, fill=0)
    # The interval as a bar between two stops, the estimate as a diamond on it.
    low, high, mean = (left + part * width for part in (tape.low, tape.high, tape.mean))
    canvas.setStrokeColor(HexColor(BAND))
    canvas.setLineWidth(size * 0.42)
    canvas.line(low, middle, high, middle)
    canvas.setLineWidth(size * 0.2)
    for end in (low, high):
        canvas.line(end, middle + size * 0.62, end, middle - size * 0.62)
    reach = size * 0.72
    canvas.setFillColor(HexColor(INK))
    canvas.setStrokeColor(HexColor(TAPE))
    canvas.setLineWidth(1.0)
    diamond = canvas.beginPath()
    diamond.moveTo(mean - reach, middle)
    diamond.lineTo(mean, middle + reach)
    diamond.lineTo(mean + reach, middle)
    diamond.lineTo(mean, middle - reach)
    diamond.close()
    canvas.drawPath(diamond, stroke=1, fill=1)


def _draw_ticks(
    canvas: Any,
    ticks: tuple[Tick, ...],
    left: float,
    edge: float,
    width: float,
    size: float,
    *,
    down: bool,
) -> None:
    towards = -1 if down else 1
    canvas.setStrokeColor(HexColor(INK))
    canvas.setFillColor(HexColor(INK))
    canvas.setLineWidth(0.6)
    canvas.setFont(REGULAR, size * 0.88)
    for tick in ticks:
        x = left + tick.at * width
        canvas.line(x, edge, x, edge + towards * size * (0.6 if tick.long else 0.35))
        if tick.text:
            base = edge + towards * size * 0.75 - (size * 0.58 if down else 0)
            canvas.drawCentredString(x, base, tick.text)
