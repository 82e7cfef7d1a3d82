"""Difference plot of photo against tape (Bland and Altman 1986), as SVG."""

import math
from collections.abc import Callable, Sequence
from html import escape
from typing import Final

from pose_fit.drawing.colours import ACCENT, INK, LINE, QUIET, THEME_CLASS, THEME_STYLE, themed
from pose_fit.metrology.units import length_text
from pose_fit.pairs.agreement import agreement, odd_pairs
from pose_fit.pairs.pair import Pair
from pose_fit.pairs.pair_texts import ENGLISH, PairTexts
from pose_fit.pairs.pair_words import signed

__all__ = ["difference_plot", "plot_in_words"]

_WIDTH, _HEIGHT = 400.0, 320.0
_LEFT, _RIGHT, _TOP, _FOOT = 54.0, 16.0, 20.0, 62.0
#: Between a line and its name above it.
_NAME_GAP: Final = 5.0
_LINE, _GRID, _QUIET, _ODD = themed(ACCENT), themed(LINE), themed(QUIET), "#d0453c"
_STEPS: Final = (1, 2, 5, 10, 20, 50, 100, 200)


def difference_plot(pairs: Sequence[Pair], texts: PairTexts = ENGLISH) -> str:
    """An SVG drawing: mean of photo and tape across, photo minus tape upwards.

    Lines show the bias and the limits of agreement; the band is the bias's 95 % interval. Pairs
    for a second look are marked and named.
    """
    whole = agreement(pairs)
    odd = odd_pairs(pairs)
    lines_mm = [whole.bias_mm, *(whole.limits_mm or ())]
    values_mm = [pair.difference_mm for pair in pairs] + lines_mm + [0.0]
    means_mm = [pair.mean_mm for pair in pairs]
    left_mm, right_mm = _widened(min(means_mm), max(means_mm), least=40.0)
    low_mm, high_mm = _widened(min(values_mm), max(values_mm), least=20.0)

    def x(mean_mm: float) -> float:
        return _LEFT + (mean_mm - left_mm) / (right_mm - left_mm) * (_WIDTH - _LEFT - _RIGHT)

    def y(difference_mm: float) -> float:
        share = (high_mm - difference_mm) / (high_mm - low_mm)
        return _TOP + share * (_HEIGHT - _TOP - _FOOT)

    parts = [
        f'<svg class="{THEME_CLASS}" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:.0f} {_HEIGHT:.0f}"'
        f' role="img" aria-label="{escape(plot_in_words(pairs, texts), quote=True)}"'
        f' font-family="sans-serif" font-size="12" fill="{themed(INK)}">{THEME_STYLE}',
        *_axes(x, y, (left_mm, right_mm), (low_mm, high_mm), texts),
    ]
    end = _WIDTH - _RIGHT
    if whole.bias95_mm is not None:
        top, bottom = y(whole.bias95_mm[1]), y(whole.bias95_mm[0])
        parts.append(
            f'<rect x="{_LEFT}" y="{top:.1f}" width="{end - _LEFT:.1f}"'
            f' height="{bottom - top:.1f}" fill="{_LINE}" opacity="0.14"/>'
        )
    names = (texts.plot_bias, texts.plot_low, texts.plot_high)
    for name, line_mm in zip(names, lines_mm, strict=False):
        dash = "" if name == texts.plot_bias else ' stroke-dasharray="5 4"'
        parts.append(
            f'<line x1="{_LEFT}" x2="{end}" y1="{y(line_mm):.1f}" y2="{y(line_mm):.1f}"'
            f' stroke="{_LINE}" stroke-width="2"{dash}/>'
            f'<text x="{end - 2}" y="{y(line_mm) - _NAME_GAP:.1f}" text-anchor="end">'
            f"{escape(name.format(value=signed(line_mm)))}</text>"
        )
    for pair in pairs:
        at, up = x(pair.mean_mm), y(pair.difference_mm)
        if pair in odd:
            parts.append(
                f'<path d="M{at:.1f} {up - 6:.1f}l6 6l-6 6l-6 -6z" fill="none" stroke="{_ODD}"'
                f' stroke-width="2"/><text x="{at + 9:.1f}" y="{up + 4:.1f}">'
                f"{escape(pair.name)}</text>"
            )
        else:
            parts.append(
                f'<circle cx="{at:.1f}" cy="{up:.1f}" r="4" fill="{_LINE}" fill-opacity="0.7"/>'
            )
    return "".join([*parts, "</svg>"])


def plot_in_words(pairs: Sequence[Pair], texts: PairTexts = ENGLISH) -> str:
    """The same for those who cannot see it."""
    whole = agreement(pairs)
    said = [texts.plot_words.format(count=whole.count, bias=signed(whole.bias_mm))]
    if whole.limits_mm is not None:
        low, high = (signed(end_mm) for end_mm in whole.limits_mm)
        said.append(texts.plot_limits.format(low=low, high=high))
    names = ", ".join(pair.name for pair in odd_pairs(pairs))
    if names:
        said.append(texts.plot_odd.format(names=names))
    return " ".join(said)


def _widened(low: float, high: float, *, least: float) -> tuple[float, float]:
    missing = max(least - (high - low), 0.0)
    margin = 0.06 * max(high - low, least) + missing / 2
    return low - margin, high + margin


def _axes(
    x: Callable[[float], float],
    y: Callable[[float], float],
    across_mm: tuple[float, float],
    upwards_mm: tuple[float, float],
    texts: PairTexts,
) -> list[str]:
    parts = []
    for value_mm in _ticks(*upwards_mm):
        colour = _QUIET if value_mm == 0 else _GRID
        parts.append(
            f'<line x1="{_LEFT}" x2="{_WIDTH - _RIGHT}" y1="{y(value_mm):.1f}"'
            f' y2="{y(value_mm):.1f}" stroke="{colour}"/>'
            f'<text x="{_LEFT - 6}" y="{y(value_mm) + 4:.1f}" text-anchor="end">{signed(value_mm)}</text>'
        )
    for value_mm in _ticks(*across_mm, most=5):
        parts.append(
            f'<text x="{x(value_mm):.1f}" y="{_HEIGHT - _FOOT + 18}" text-anchor="middle">'
            f"{length_text(value_mm, 'in')}</text>"
            f'<text x="{x(value_mm):.1f}" y="{_HEIGHT - _FOOT + 33}" text-anchor="middle"'
            f' fill="{_QUIET}" font-size="11">{value_mm / 10:.1f} cm</text>'
        )
    middle = (_LEFT + _WIDTH - _RIGHT) / 2
    parts.append(
        f'<text x="{middle:.0f}" y="{_HEIGHT - 8}" text-anchor="middle" fill="{_QUIET}">'
        f"{escape(texts.plot_across)}</text>"
        f'<text transform="translate(12 {(_TOP + _HEIGHT - _FOOT) / 2:.0f}) rotate(-90)"'
        f' text-anchor="middle" fill="{_QUIET}">{escape(texts.plot_upwards)}</text>'
    )
    return parts


def _ticks(low: float, high: float, *, most: int = 8) -> list[float]:
    step = next((s for s in _STEPS if (high - low) / s <= most), _STEPS[-1])
    return [float(n * step) for n in range(math.ceil(low / step), math.floor(high / step) + 1)]
