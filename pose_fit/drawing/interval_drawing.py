"""Several inseams on one scale, drawn: a dot for the value, a bar for its 95 % interval."""

import html
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from pose_fit.drawing.colours import ACCENT, INK, LINE, QUIET, THEME_CLASS, THEME_STYLE, themed
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import MM_PER_INCH

__all__ = ["Row", "interval_drawing"]

_WIDTH: Final = 360.0
_LEFT, _RIGHT, _ROW, _HEAD, _FOOT = 84.0, 24.0, 30.0, 4.0, 54.0
_SIGNS: Final = ("circle", "square", "diamond")


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the drawing, millimetres."""

    name: str
    mean_mm: float
    low_mm: float
    high_mm: float

    @classmethod
    def of(cls, name: str, inseam: Inseam) -> "Row":
        """The row of an inseam."""
        return cls(name, inseam.mean_mm, *inseam.interval95_mm)


def interval_drawing(rows: Sequence[Row], *, texts: DrawingTexts = ENGLISH) -> str:
    """An SVG drawing of the rows over a scale in inches and centimetres, with its legend."""
    ink, quiet = themed(INK), themed(QUIET)
    low_in = math.floor(min(row.low_mm for row in rows) / MM_PER_INCH - 0.25)
    high_in = math.ceil(max(row.high_mm for row in rows) / MM_PER_INCH + 0.25)
    span_mm = (high_in - low_in) * MM_PER_INCH
    height = _HEAD + _ROW * len(rows) + _FOOT
    base = _HEAD + _ROW * len(rows)

    def x(length_mm: float) -> float:
        return _LEFT + (length_mm - low_in * MM_PER_INCH) / span_mm * (_WIDTH - _LEFT - _RIGHT)

    parts = [
        f'<svg class="{THEME_CLASS}" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:.0f} {height:.0f}"'
        f' font-family="sans-serif" font-size="12" fill="{ink}">{THEME_STYLE}'
    ]
    step = max(1, math.ceil((high_in - low_in) / 6))
    for inch in range(low_in, high_in + 1, step):
        at = x(inch * MM_PER_INCH)
        parts.append(
            f'<line x1="{at:.1f}" x2="{at:.1f}" y1="{_HEAD}" y2="{base}" stroke="{themed(LINE)}"/>'
            f'<text x="{at:.1f}" y="{base + 14:.0f}" text-anchor="middle">{inch} in</text>'
            f'<text x="{at:.1f}" y="{base + 29:.0f}" text-anchor="middle" fill="{quiet}"'
            f' font-size="11">{inch * 2.54:.1f} cm</text>'
        )
    for place, row in enumerate(rows):
        y = _HEAD + _ROW * (place + 0.5)
        parts.append(
            f'<text x="0" y="{y + 4:.1f}" font-weight="600">{html.escape(row.name)}</text>'
            f'<line x1="{x(row.low_mm):.1f}" x2="{x(row.high_mm):.1f}" y1="{y}" y2="{y}"'
            f' stroke="{themed(ACCENT)}" stroke-width="4" stroke-linecap="round"/>'
            + _sign(_SIGNS[place % len(_SIGNS)], x(row.mean_mm), y)
        )
    parts.append(f'<text x="0" y="{base + 46:.0f}" fill="{quiet}">{texts.interval_legend}</text>')
    return "".join([*parts, "</svg>"])


def _sign(shape: str, x: float, y: float) -> str:
    style = f'fill="#ffffff" stroke="{themed(ACCENT)}" stroke-width="2.5"'
    match shape:
        case "circle":
            return f'<circle cx="{x:.1f}" cy="{y}" r="6" {style}/>'
        case "square":
            return f'<rect x="{x - 5.5:.1f}" y="{y - 5.5}" width="11" height="11" {style}/>'
    return f'<path d="M{x:.1f} {y - 7.5}l7.5 7.5l-7.5 7.5l-7.5 -7.5z" {style}/>'
