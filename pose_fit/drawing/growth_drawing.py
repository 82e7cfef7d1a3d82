"""The growth chart: the child's legs month by month, and where each bicycle is outgrown."""

import html
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.drawing.colours import ACCENT, INK, LINE, QUIET, THEME_CLASS, THEME_STYLE, themed
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.growth.forecast import GrowthForecast
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import MM_PER_INCH, Unit, both_units

__all__ = ["PastPoint", "growth_drawing"]

_WIDTH, _HEIGHT = 360.0, 300.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 50.0, 30.0, 10.0, 44.0
_ROW: Final = 17.0
_DASHES: Final = ("8 4", "2 4", "10 3 2 3", "5 5")
_LIMIT: Final = "#8a70c0"
#: Where the words of the legend begin, and how wide one letter of them is at most on the whole.
_LEGEND_X: Final = 44
_LETTER: Final = 6.7


@dataclass(frozen=True, slots=True)
class PastPoint:
    """An inseam measured so many months before the chart's today."""

    months_before: float
    inseam: Inseam


def growth_drawing(
    forecast: GrowthForecast,
    bicycles: Sequence[Lasting],
    *,
    past: Sequence[PastPoint] = (),
    unit: Unit = "in",
    texts: DrawingTexts = ENGLISH,
) -> str:
    """An SVG chart; each bicycle's line has its own dash and number, explained below the chart.

    What was measured earlier stands left of today, each point with its 95 % interval.
    """
    low_mm, high_mm = forecast.interval95_mm
    ends_mm = [point.inseam.interval95_mm for point in past]
    shown = sorted(
        (line for line in bicycles if math.isfinite(line.until_mm)), key=lambda line: line.until_mm
    )
    lowest_mm = min([float(low_mm.min()), *(low for low, _ in ends_mm)])
    highest_mm = max([float(high_mm.max()), *(high for _, high in ends_mm)])
    bottom_in = math.floor(lowest_mm / MM_PER_INCH - 0.3)
    top_in = math.ceil(max([highest_mm, *(line.until_mm for line in shown)]) / MM_PER_INCH + 0.3)
    scale = _Scale(
        -_whole_half_years(max([point.months_before for point in past], default=0.0)),
        float(forecast.months[-1]),
        bottom_in * MM_PER_INCH,
        top_in * MM_PER_INCH,
    )
    band = [*scale.points(forecast.months, high_mm), *scale.points(forecast.months, low_mm)[::-1]]
    accent = themed(ACCENT)
    height = _HEIGHT + _ROW * (len(shown) + 1 + bool(past)) + 4
    parts = [
        f'<svg class="{THEME_CLASS}" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:.0f} {height:.0f}"'
        f' font-family="sans-serif" font-size="12" fill="{themed(INK)}">{THEME_STYLE}',
        *_grid(scale, bottom_in, top_in, unit, texts),
        f'<polygon points="{" ".join(band)}" fill="{accent}" fill-opacity=".2"/>',
        f'<polyline points="{" ".join(scale.points(forecast.months, forecast.mean_mm))}"'
        f' fill="none" stroke="{accent}" stroke-width="3"/>',
        *_limits(scale, shown),
        *_past_points(scale, past),
        *_legend(shown, unit, texts, with_past=bool(past)),
        "</svg>",
    ]
    return "".join(parts)


@dataclass(frozen=True, slots=True)
class _Scale:
    first: float
    last: float
    low_mm: float
    high_mm: float

    def x(self, month: float) -> float:
        part = (month - self.first) / (self.last - self.first)
        return _LEFT + part * (_WIDTH - _LEFT - _RIGHT)

    def y(self, length_mm: float) -> float:
        part = (length_mm - self.low_mm) / (self.high_mm - self.low_mm)
        return _HEIGHT - _BOTTOM - part * (_HEIGHT - _TOP - _BOTTOM)

    def points(self, months: NDArray[np.float64], lengths_mm: NDArray[np.float64]) -> list[str]:
        return [
            f"{self.x(month):.1f},{self.y(length_mm):.1f}"
            for month, length_mm in zip(months.tolist(), lengths_mm.tolist(), strict=True)
        ]


def _grid(scale: _Scale, bottom_in: int, top_in: int, unit: Unit, texts: DrawingTexts) -> list[str]:
    parts = []
    step = max(1, math.ceil((top_in - bottom_in) / 6))
    right = _WIDTH - _RIGHT
    for inch in range(bottom_in, top_in + 1, step):
        y = scale.y(inch * MM_PER_INCH)
        lengths = [f"{inch} in", f"{inch * 2.54:.0f} cm"]
        first, second = lengths if unit == "in" else lengths[::-1]
        parts.append(
            f'<line x1="{_LEFT}" x2="{right}" y1="{y:.1f}" y2="{y:.1f}" stroke="{themed(LINE)}"/>'
            f'<text x="{_LEFT - 6}" y="{y:.1f}" text-anchor="end">{first}</text>'
            f'<text x="{_LEFT - 6}" y="{y + 12:.1f}" text-anchor="end" font-size="11"'
            f' fill="{themed(QUIET)}">{second}</text>'
        )
    base = _HEIGHT - _BOTTOM
    step = 6 if scale.last - scale.first <= 48 else 12
    for month in range(round(scale.first / step) * step, round(scale.last) + 1, step):
        parts.append(
            f'<line x1="{scale.x(month):.1f}" x2="{scale.x(month):.1f}" y1="{base}" y2="{base + 4}"'
            f' stroke="{themed(INK)}"/>'
            f'<text x="{scale.x(month):.1f}" y="{base + 17}" text-anchor="{_anchor(scale, month)}">'
            f"{month}</text>"
        )
    parts.append(
        f'<text x="{(_LEFT + right) / 2}" y="{_HEIGHT - 8}" text-anchor="middle"'
        f' fill="{themed(QUIET)}">{texts.months_from_now}</text>'
    )
    return parts


def _anchor(scale: _Scale, month: float) -> str:
    """A month before today at the left edge would meet the lengths beside it."""
    return "start" if month < 0 and month <= scale.first else "middle"


def _limits(scale: _Scale, lines: Sequence[Lasting]) -> list[str]:
    """A line for each bicycle, its number at the right end; numbers of close lines moved apart."""
    ys = [scale.y(line.until_mm) for line in lines]
    parts = []
    right, free_y = _WIDTH - _RIGHT, _HEIGHT
    for place, y in enumerate(ys):
        number_y = min(y, free_y)
        free_y = number_y - 14
        parts.append(
            f'<line x1="{_LEFT}" x2="{right}" y1="{y:.1f}" y2="{y:.1f}" stroke="{_LIMIT}"'
            f' stroke-width="2" stroke-dasharray="{_DASHES[place % len(_DASHES)]}"/>'
            f'<line x1="{right}" x2="{right + 12}" y1="{y:.1f}" y2="{number_y:.1f}"'
            f' stroke="{_LIMIT}"/>'
            f'<text x="{right + 15}" y="{number_y + 4:.1f}" font-weight="600">{place + 1}</text>'
        )
    return parts


def _past_points(scale: _Scale, past: Sequence[PastPoint]) -> list[str]:
    """Each earlier inseam as a point with its interval; today as a line where there are any."""
    if not past:
        return []
    today = scale.x(0)
    parts = [
        f'<line x1="{today:.1f}" x2="{today:.1f}" y1="{_TOP}" y2="{_HEIGHT - _BOTTOM}"'
        f' stroke="{themed(QUIET)}" stroke-dasharray="3 3"/>'
    ]
    for point in past:
        x, y = scale.x(-point.months_before), scale.y(point.inseam.mean_mm)
        low, high = (scale.y(end_mm) for end_mm in point.inseam.interval95_mm)
        parts.append(
            f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{low:.1f}" y2="{high:.1f}"'
            f' stroke="{themed(INK)}" stroke-width="1.5"/>{_dot(x, y)}'
        )
    return parts


def _dot(x: float, y: float) -> str:
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4.5" fill="{themed(INK)}"/>'


def _whole_half_years(months: float) -> float:
    return 6.0 * math.ceil(months / 6)


def _legend(
    lines: Sequence[Lasting], unit: Unit, texts: DrawingTexts, *, with_past: bool
) -> list[str]:
    """Below the chart: the child's own line and points, then each bicycle with its limit."""
    y = _HEIGHT + 4
    parts = [
        f'<rect x="6" y="{y - 5}" width="30" height="10" fill="{themed(ACCENT)}"'
        f' fill-opacity=".2"/><line x1="6" x2="36" y1="{y}" y2="{y}" stroke="{themed(ACCENT)}"'
        f' stroke-width="3"/><text x="44" y="{y + 4}">{texts.inseam_expected}</text>'
    ]
    if with_past:
        y += _ROW
        parts.append(f'{_dot(21, y)}<text x="44" y="{y + 4}">{texts.measured_before}</text>')
    for place, line in enumerate(lines):
        y += _ROW
        words = texts.outgrown_at.format(name=line.name, length=both_units(line.until_mm, unit))
        parts.append(
            f'<line x1="6" x2="36" y1="{y}" y2="{y}" stroke="{_LIMIT}" stroke-width="2"'
            f' stroke-dasharray="{_DASHES[place % len(_DASHES)]}"/>'
            f'<text x="{_LEGEND_X}" y="{y + 4}"{_squeezed(f"{place + 1} {words}")}>'
            f'<tspan font-weight="600">{place + 1}</tspan>'
            f" {html.escape(words)}</text>"
        )
    return parts


def _squeezed(words: str) -> str:
    """Attributes of a text that would stick out of the drawing; nothing for a shorter one."""
    room = _WIDTH - _LEGEND_X - 4
    if len(words) * _LETTER <= room:
        return ""
    return f' textLength="{room:.0f}" lengthAdjust="spacingAndGlyphs"'
