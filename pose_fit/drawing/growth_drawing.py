"""The growth chart: the child's legs month by month, and where each bicycle is outgrown."""

import html
import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.drawing.colours import INK, QUIET
from pose_fit.growth.forecast import GrowthForecast
from pose_fit.growth.lasting import Lasting
from pose_fit.metrology.units import MM_PER_INCH

__all__ = ["growth_drawing"]

_WIDTH, _HEIGHT = 360.0, 300.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 50.0, 12.0, 10.0, 44.0
_DASHES: Final = ("8 4", "2 4", "10 3 2 3", "5 5")


def growth_drawing(forecast: GrowthForecast, bicycles: Sequence[Lasting]) -> str:
    """An SVG chart; each bicycle's line has its own dash and its name on it."""
    low_mm, high_mm = forecast.interval95_mm
    shown = [line for line in bicycles if math.isfinite(line.until_mm)]
    bottom_in = math.floor(float(low_mm.min()) / MM_PER_INCH - 0.3)
    top_in = math.ceil(
        max(float(high_mm.max()), *(line.until_mm for line in shown), 0.0) / MM_PER_INCH + 0.3
    )
    scale = _Scale(float(forecast.months[-1]), bottom_in * MM_PER_INCH, top_in * MM_PER_INCH)
    band = [*scale.points(forecast.months, high_mm), *scale.points(forecast.months, low_mm)[::-1]]
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:.0f} {_HEIGHT:.0f}"'
        f' font-family="sans-serif" font-size="12" fill="{INK}">',
        *_grid(scale, bottom_in, top_in),
        f'<polygon points="{" ".join(band)}" fill="#0b5f5a" fill-opacity=".16"/>',
        f'<polyline points="{" ".join(scale.points(forecast.months, forecast.mean_mm))}"'
        ' fill="none" stroke="#0b5f5a" stroke-width="3"/>',
        *_limits(scale, shown),
        "</svg>",
    ]
    return "".join(parts)


class _Scale:
    def __init__(self, months: float, low_mm: float, high_mm: float) -> None:
        self.months, self.low_mm, self.high_mm = months, low_mm, high_mm

    def x(self, month: float) -> float:
        return _LEFT + month / self.months * (_WIDTH - _LEFT - _RIGHT)

    def y(self, length_mm: float) -> float:
        part = (length_mm - self.low_mm) / (self.high_mm - self.low_mm)
        return _HEIGHT - _BOTTOM - part * (_HEIGHT - _TOP - _BOTTOM)

    def points(self, months: NDArray[np.float64], lengths_mm: NDArray[np.float64]) -> list[str]:
        return [
            f"{self.x(month):.1f},{self.y(length_mm):.1f}"
            for month, length_mm in zip(months.tolist(), lengths_mm.tolist(), strict=True)
        ]


def _grid(scale: _Scale, bottom_in: int, top_in: int) -> list[str]:
    parts = []
    step = max(1, math.ceil((top_in - bottom_in) / 6))
    right = _WIDTH - _RIGHT
    for inch in range(bottom_in, top_in + 1, step):
        y = scale.y(inch * MM_PER_INCH)
        parts.append(
            f'<line x1="{_LEFT}" x2="{right}" y1="{y:.1f}" y2="{y:.1f}" stroke="#d5dfe0"/>'
            f'<text x="{_LEFT - 6}" y="{y:.1f}" text-anchor="end">{inch} in</text>'
            f'<text x="{_LEFT - 6}" y="{y + 12:.1f}" text-anchor="end" font-size="11"'
            f' fill="{QUIET}">{inch * 2.54:.0f} cm</text>'
        )
    base = _HEIGHT - _BOTTOM
    for month in range(0, round(scale.months) + 1, 6):
        parts.append(
            f'<line x1="{scale.x(month):.1f}" x2="{scale.x(month):.1f}" y1="{base}" y2="{base + 4}"'
            f' stroke="{INK}"/>'
            f'<text x="{scale.x(month):.1f}" y="{base + 17}" text-anchor="middle">{month}</text>'
        )
    parts.append(
        f'<text x="{(_LEFT + right) / 2}" y="{_HEIGHT - 8}" text-anchor="middle"'
        f' fill="{QUIET}">months from now</text>'
    )
    return parts


def _limits(scale: _Scale, lines: Sequence[Lasting]) -> list[str]:
    """A line for each bicycle with its name above it, the names of close lines moved apart."""
    parts, free_y = [], _HEIGHT
    for place, line in enumerate(sorted(lines, key=lambda line: line.until_mm)):
        y = scale.y(line.until_mm)
        name_y = max(min(y - 4, free_y), _TOP + 10)
        free_y = name_y - 14
        parts.append(
            f'<line x1="{_LEFT}" x2="{_WIDTH - _RIGHT}" y1="{y:.1f}" y2="{y:.1f}" stroke="#5d4a86"'
            f' stroke-width="2" stroke-dasharray="{_DASHES[place % len(_DASHES)]}"/>'
            f'<text x="{_LEFT + 6}" y="{name_y:.1f}" fill="#5d4a86" font-weight="600" stroke="#fff"'
            f' stroke-width="3" paint-order="stroke">{html.escape(line.name)} outgrown</text>'
        )
    return parts
