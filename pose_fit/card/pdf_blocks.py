"""The blocks of the PDF: each knows its height at a width, and draws itself hanging from a top."""

from dataclasses import dataclass
from typing import Any, Final, Protocol

from reportlab.lib.colors import HexColor

from pose_fit.card.card import CardBicycle, FitCard, Standing
from pose_fit.card.card_texts import CARD_TEXTS, CardTexts
from pose_fit.card.palette import INK, LINE, PAPER, QUIET, STANDING_INK, WASH
from pose_fit.card.pdf_text import Run, Stack, line_text, paragraph

__all__ = ["BicycleGrid", "Block", "Panels"]

_GUTTER: Final = 12.0
#: From so many bicycles on they stand in two columns.
_TWO_COLUMNS: Final = 3


class Block(Protocol):
    """What the page is composed of."""

    def height(self, width: float) -> float:
        """Height in points at this width."""
        ...

    def draw(self, canvas: Any, left: float, top: float, width: float) -> None:
        """Draw it hanging from ``top``."""
        ...


@dataclass(frozen=True, slots=True)
class _BicyclePanel:
    """One bicycle: sign, name, what is said of it, what to do, reasons, cautions."""

    bicycle: CardBicycle
    say: CardTexts
    size: float

    @property
    def _sign(self) -> float:
        return self.size * 1.9

    @property
    def _edge(self) -> float:
        return self.size * 0.6

    def _text(self) -> Stack:
        bicycle, size = self.bicycle, self.size
        ink = STANDING_INK[bicycle.standing]
        parts = [
            line_text(bicycle.name, size=size * 1.15, bold=True),
            paragraph(
                [
                    Run(f"{bicycle.headline.rstrip('.')}. ", bold=True, ink=ink),
                    Run(_sentence(bicycle.to_do)),
                ],
                size=size,
            ),
        ]
        if bicycle.reasons:
            parts.append(line_text(" ".join(bicycle.reasons), size=size * 0.93))
        if bicycle.cautions:
            runs = [Run(self.say.caution, bold=True), Run(" ".join(bicycle.cautions), ink=QUIET)]
            parts.append(paragraph(runs, size=size * 0.88))
        return Stack(tuple(parts), gap=size * 0.15)

    def _text_width(self, width: float) -> float:
        return width - self._sign - 3.5 * self._edge

    def height(self, width: float) -> float:
        inner = self._text().height(self._text_width(width))
        return max(inner, self._sign) + 2 * self._edge

    def draw(self, canvas: Any, left: float, top: float, width: float, height: float) -> None:
        """Draw it as high as its neighbour."""
        canvas.setStrokeColor(HexColor(LINE))
        canvas.setFillColor(HexColor(PAPER))
        canvas.setLineWidth(0.75)
        canvas.roundRect(left, top - height, width, height, 4, stroke=1, fill=1)
        canvas.setFillColor(HexColor(STANDING_INK[self.bicycle.standing]))
        canvas.rect(left, top - height, 3, height, stroke=0, fill=1)
        sign, edge = self._sign, self._edge
        centre = left + 1.6 * edge + sign / 2, top - edge - sign / 2
        draw_sign(canvas, self.bicycle.standing, centre, sign)
        text_left = left + sign + 2.4 * edge
        self._text().draw(canvas, text_left, top - edge, self._text_width(width))


def _sentence(phrase: str) -> str:
    """A phrase with a capital letter and a full stop; nothing stays nothing."""
    return f"{phrase[:1].upper()}{phrase[1:].rstrip('.')}." if phrase else ""


def draw_sign(canvas: Any, standing: Standing, centre: tuple[float, float], size: float) -> None:
    """A sign that differs by its shape: round with a tick, triangle with ?, square with a cross."""
    x, y = centre
    r = size / 2
    canvas.saveState()
    canvas.setFillColor(HexColor(STANDING_INK[standing]))
    canvas.setStrokeColor(HexColor(PAPER))
    canvas.setLineWidth(size * 0.12)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    match standing:
        case "try":
            canvas.circle(x, y, r, stroke=0, fill=1)
            _polyline(
                canvas,
                [(x - r * 0.45, y), (x - r * 0.1, y - r * 0.38), (x + r * 0.48, y + r * 0.36)],
            )
        case "check":
            path = canvas.beginPath()
            path.moveTo(x, y + r * 1.02)
            path.lineTo(x + r * 1.08, y - r * 0.86)
            path.lineTo(x - r * 1.08, y - r * 0.86)
            path.close()
            canvas.drawPath(path, stroke=0, fill=1)
            canvas.setFillColor(HexColor(PAPER))
            canvas.setFont("Helvetica-Bold", size * 0.62)
            canvas.drawCentredString(x, y - r * 0.66, "?")
        case "leave":
            canvas.rect(x - r * 0.92, y - r * 0.92, r * 1.84, r * 1.84, stroke=0, fill=1)
            reach = r * 0.42
            _polyline(canvas, [(x - reach, y - reach), (x + reach, y + reach)])
            _polyline(canvas, [(x - reach, y + reach), (x + reach, y - reach)])
    canvas.restoreState()


def _polyline(canvas: Any, points: list[tuple[float, float]]) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    canvas.drawPath(path, stroke=1, fill=0)


@dataclass(frozen=True, slots=True)
class BicycleGrid:
    """The bicycles under their title, row by row, the best first."""

    bicycles: tuple[CardBicycle, ...]
    say: CardTexts
    size: float

    def _title(self) -> Stack:
        return Stack((line_text(self.say.bicycles, size=self.size * 1.3, bold=True),), 0)

    def _columns(self) -> int:
        return 1 if len(self.bicycles) < _TWO_COLUMNS else 2

    def _rows(self, width: float) -> tuple[float, list[tuple[list[_BicyclePanel], float]]]:
        columns = self._columns()
        column = (width - _GUTTER * (columns - 1)) / columns
        panels = [_BicyclePanel(bicycle, self.say, self.size) for bicycle in self.bicycles]
        rows = [panels[start : start + columns] for start in range(0, len(panels), columns)]
        return column, [(row, max(panel.height(column) for panel in row)) for row in rows]

    @property
    def _gap(self) -> float:
        return self.size * 0.6

    def height(self, width: float) -> float:
        """Height in points at this width; none without bicycles."""
        if not self.bicycles:
            return 0.0
        _, rows = self._rows(width)
        heights = sum(height + self._gap for _, height in rows)
        return self._title().height(width) + heights

    def draw(self, canvas: Any, left: float, top: float, width: float) -> None:
        """Draw it hanging from ``top``."""
        if not self.bicycles:
            return
        title = self._title()
        title.draw(canvas, left, top, width)
        top -= title.height(width) + self._gap
        column, rows = self._rows(width)
        for row, height in rows:
            for place, panel in enumerate(row):
                panel.draw(canvas, left + place * (column + _GUTTER), top, column, height)
            top -= height + self._gap


@dataclass(frozen=True, slots=True)
class Panels:
    """Advice beside the cautions; the cautions alone where there is no advice."""

    card: FitCard
    size: float

    @property
    def _edge(self) -> float:
        return self.size * 0.9

    def _advice(self) -> Stack:
        say = CARD_TEXTS[self.card.language]
        title = line_text(say.advice, size=self.size * 1.15, bold=True)
        lines = [
            paragraph([Run(f"{number}. ", bold=True), Run(text)], size=self.size * 0.93)
            for number, text in enumerate(self.card.advice, start=1)
        ]
        return Stack((title, *lines), self.size * 0.3)

    def _cautions(self) -> Stack:
        say = CARD_TEXTS[self.card.language]
        title = line_text(say.cautions_title, size=self.size * 1.15, bold=True)
        lines = [line_text(text, size=self.size * 0.93) for text in say.cautions]
        return Stack((title, *lines), self.size * 0.3)

    def _widths(self, width: float) -> tuple[float, float]:
        if not self.card.advice:
            return 0.0, width
        # Even columns, so that both stay short.
        half = (width - _GUTTER) / 2
        return half, half

    def height(self, width: float) -> float:
        """Height in points at this width."""
        advice, cautions = self._widths(width)
        heights = [self._cautions().height(cautions - 2 * self._edge)]
        if advice:
            heights.append(self._advice().height(advice - 2 * self._edge))
        return max(heights) + 2 * self._edge

    def draw(self, canvas: Any, left: float, top: float, width: float) -> None:
        """Draw it hanging from ``top``."""
        advice, cautions = self._widths(width)
        height, edge = self.height(width), self._edge
        if advice:
            canvas.setFillColor(HexColor(WASH))
            canvas.roundRect(left, top - height, advice, height, 4, stroke=0, fill=1)
            self._advice().draw(canvas, left + edge, top - edge, advice - 2 * edge)
            left += advice + _GUTTER
        canvas.setStrokeColor(HexColor(INK))
        canvas.setLineWidth(1.6)
        canvas.roundRect(left, top - height, cautions, height, 4, stroke=1, fill=0)
        self._cautions().draw(canvas, left + edge, top - edge, cautions - 2 * edge)
