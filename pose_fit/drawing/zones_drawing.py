"""One bicycle's strip, drawn: zones with colour, hatching and word, the child's interval above."""

from typing import Final

from pose_fit.drawing.colours import (
    INK,
    QUIET,
    THEME_CLASS,
    THEME_STYLE,
    VERDICT_COLOUR,
    VERDICT_SIGN,
    themed,
)
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.fit.verdicts import Verdict
from pose_fit.fit.zones import HIGH_MM, LOW_MM, Strip, Zone
from pose_fit.metrology.units import MM_PER_INCH

__all__ = ["zones_drawing"]

_WIDTH, _HEIGHT = 340.0, 84.0
_MARGIN: Final = 8.0
_BAND_TOP, _BAND_HIGH = 30.0, 24.0
#: Room a word needs; a narrower zone shows its sign alone.
_WORD_PX: Final[dict[Verdict, float]] = {
    "contact": 80,
    "tight": 44,
    "good": 46,
    "roomy": 54,
    "cramped": 84,
}
#: Hatching of each zone, as lines inside an 8 by 8 tile.
_HATCH: Final[dict[Verdict, str]] = {
    "contact": '<path d="M0 0L8 8M8 0L0 8"/>',
    "tight": '<path d="M0 8L8 0"/>',
    "good": "",
    "roomy": '<path d="M0 4H8" stroke-dasharray="1 3"/>',
    "cramped": '<path d="M0 0L8 8"/>',
}


def zones_drawing(strip: Strip, *, texts: DrawingTexts = ENGLISH) -> str:
    """An SVG drawing, legible at the width of a phone: the dot is the child, the bar its interval."""
    ink = themed(INK)
    parts = [
        f'<svg class="{THEME_CLASS}" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:.0f} {_HEIGHT:.0f}"'
        f' font-family="sans-serif" font-size="12" fill="{ink}">{THEME_STYLE}<defs>',
        *(_pattern(verdict) for verdict in _HATCH),
        "</defs>",
        *(_zone(zone, texts) for zone in strip.zones),
        *(_tick(inch) for inch in range(-2, 9, 2)),
        _child(strip, ink),
        "</svg>",
    ]
    return "".join(parts)


def _x(clearance_mm: float) -> float:
    inside = min(max(clearance_mm, LOW_MM), HIGH_MM)
    return _MARGIN + (inside - LOW_MM) / (HIGH_MM - LOW_MM) * (_WIDTH - 2 * _MARGIN)


def _pattern(verdict: Verdict) -> str:
    colour = VERDICT_COLOUR[verdict]
    return (
        f'<pattern id="{verdict}" width="8" height="8" patternUnits="userSpaceOnUse">'
        f'<rect width="8" height="8" fill="{colour}" fill-opacity=".18"/>'
        f'<g stroke="{colour}" stroke-opacity=".5" fill="none">{_HATCH[verdict]}</g></pattern>'
    )


def _zone(zone: Zone, texts: DrawingTexts) -> str:
    left, right = _x(zone.low_mm), _x(zone.high_mm)
    middle, colour = (left + right) / 2, VERDICT_COLOUR[zone.verdict]
    words = VERDICT_SIGN[zone.verdict]
    wide = right - left
    if wide >= _WORD_PX[zone.verdict]:
        words = f"{words} {texts.zones[zone.word]}"
    text = (
        f'<text x="{middle:.1f}" y="{_BAND_TOP + 16.5}" text-anchor="middle" font-weight="700"'
        f' fill="{colour}" stroke="#fff" stroke-width="3" paint-order="stroke">{words}</text>'
    )
    return (
        f'<rect x="{left:.1f}" y="{_BAND_TOP}" width="{wide:.1f}" height="{_BAND_HIGH}"'
        f' fill="url(#{zone.verdict})" stroke="{colour}" stroke-width="1.2"/>'
        + (text if wide >= 14 else "")
    )


def _tick(inch: int) -> str:
    at, base = _x(inch * MM_PER_INCH), _BAND_TOP + _BAND_HIGH
    return (
        f'<line x1="{at:.1f}" x2="{at:.1f}" y1="{base}" y2="{base + 4}" stroke="{themed(INK)}"/>'
        f'<text x="{at:.1f}" y="{base + 15}" text-anchor="middle" font-size="11">{inch} in</text>'
        f'<text x="{at:.1f}" y="{base + 27}" text-anchor="middle" font-size="11"'
        f' fill="{themed(QUIET)}">'
        f"{inch * 2.54:.0f} cm</text>"
    )


def _child(strip: Strip, ink: str) -> str:
    y = 14.0
    left, right, middle = _x(strip.low_mm), _x(strip.high_mm), _x(strip.mean_mm)
    if strip.mean_mm > HIGH_MM or strip.mean_mm < LOW_MM:
        way = 1 if strip.mean_mm > HIGH_MM else -1
        marker = f'<path d="M{middle + 5 * way} {y}l{-11 * way} -6v12z" fill="{ink}"/>'
    else:
        marker = f'<circle cx="{middle:.1f}" cy="{y}" r="5.5" fill="{ink}"/>'
    ends = "".join(
        f'<line x1="{at:.1f}" x2="{at:.1f}" y1="{y - 6}" y2="{y + 6}" stroke="{ink}"'
        ' stroke-width="2"/>'
        for at, inside in (
            (left, LOW_MM < strip.low_mm < HIGH_MM),
            (right, LOW_MM < strip.high_mm < HIGH_MM),
        )
        if inside
    )
    drop = (
        f'<line x1="{middle:.1f}" x2="{middle:.1f}" y1="{y}" y2="{_BAND_TOP}"'
        f' stroke="{ink}" stroke-width="1.5"/>'
    )
    return (
        f'<line x1="{left:.1f}" x2="{right:.1f}" y1="{y}" y2="{y}" stroke="{ink}"'
        f' stroke-width="3"/>{ends}{drop}{marker}'
    )
