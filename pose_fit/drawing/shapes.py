"""The shapes that drawings of a child and a bicycle share: body, wheel, saddle, floor and legend."""

import math
from collections.abc import Callable
from typing import Final

from pose_fit.drawing.colours import INK, QUIET, SHOWN_COLOUR
from pose_fit.drawing.drawing_texts import DrawingTexts
from pose_fit.drawing.figure import LegFigure, RiderFigure
from pose_fit.drawing.svg import SCALE_MM, Page, Point, taper
from pose_fit.fit.judge import Fit
from pose_fit.metrology.units import Unit, both_units

__all__ = [
    "FRAME",
    "METAL",
    "TYRE",
    "draw_astride",
    "draw_banner",
    "draw_lettered",
    "draw_saddle",
    "draw_wheel",
    "page_around",
]

FRAME: Final = "#1d7a74"
TYRE: Final = "#2f3640"
METAL: Final = "#9aa5af"
NEAR: Final = "#4f6d94"
TRUNK: Final = "#5f7ea6"
ARM: Final = "#3f5b80"
FAR: Final = "#b3c0d1"
SHOE: Final = "#2f3b4c"
FAR_SHOE: Final = "#8b97a7"
HELMET: Final = "#d95f43"
FACE: Final = "#8fa6c4"


def page_around(left_mm: float, right_mm: float, top_mm: float) -> Page:
    """A page with room for the legend below the floor and the banner above what is drawn."""
    # That room is in units of the picture's own width.
    unit = (right_mm - left_mm) / 1500
    return Page(
        left_mm=left_mm, right_mm=right_mm, bottom_mm=-330 * unit, top_mm=top_mm + 220 * unit
    )


def draw_banner(page: Page, fit: Fit, second: str, texts: DrawingTexts) -> None:
    """What is said of the bicycle, and one line more."""
    ink = SHOWN_COLOUR[fit.shown]
    left, top, unit = page.left_mm + 44 * page.unit, page.top_mm, page.unit
    page.text((left, top - 84 * unit), texts.headlines[fit.shown], size=60, fill=ink, bold=True)
    page.text((left, top - 156 * unit), second, size=46)


def draw_astride(
    page: Page,
    child: RiderFigure,
    draw_bicycle: Callable[[], None],
    *,
    inseam_mm: float,
    sole_mm: float,
) -> None:
    """The floor, and the child with one leg on each side of the bicycle."""
    page.polyline([(page.left_mm + 40, 0), (page.right_mm - 40, 0)], stroke=INK, width=8)
    _draw_leg(page, child.far, inseam_mm=inseam_mm, sole_mm=sole_mm, near=False)
    draw_bicycle()
    _draw_leg(page, child.near, inseam_mm=inseam_mm, sole_mm=sole_mm, near=True)
    _draw_trunk(page, child, inseam_mm=inseam_mm)
    _draw_head(page, child)
    _draw_arm(page, child, inseam_mm=inseam_mm)


def draw_lettered(page: Page, lines: list[tuple[str, str]], unit: Unit) -> None:
    """Lettered lines below the floor, and a scale of ten inches."""
    step, left = page.unit, page.left_mm + 66 * page.unit
    for place, (letter, text) in enumerate(lines):
        y = (-78 - 70 * place) * step
        if letter:
            page.badge((left, y), letter)
        page.text((left + 50 * step, y - 14 * step), text, size=40)
    y = (-78 - 70 * 3) * step
    page.dimension((left, y), (left + SCALE_MM, y), stroke=QUIET)
    words = both_units(SCALE_MM, unit)
    page.text((left + SCALE_MM + 30 * step, y - 13 * step), words, size=36, fill=QUIET)


def _draw_leg(page: Page, leg: LegFigure, *, inseam_mm: float, sole_mm: float, near: bool) -> None:
    skin, shoe = (NEAR, SHOE) if near else (FAR, FAR_SHOE)
    size = inseam_mm
    page.shape(taper(leg.knee, leg.ankle, 0.070 * size, 0.048 * size), fill=skin, stroke="#fbfaf7")
    page.shape(taper(leg.hip, leg.knee, 0.098 * size, 0.072 * size), fill=skin, stroke="#fbfaf7")
    page.shape(_shoe(leg, sole_mm), fill=shoe)


def _shoe(leg: LegFigure, sole_mm: float) -> list[str | Point]:
    """Outline over the sole line from heel to toe, as high as the ankle."""
    length = math.dist(leg.heel, leg.toe)
    along = (leg.toe[0] - leg.heel[0]) / length, (leg.toe[1] - leg.heel[1]) / length
    up = -along[1], along[0]

    def at(forward: float, above: float) -> Point:
        return (
            leg.heel[0] + along[0] * forward * length + up[0] * above * length,
            leg.heel[1] + along[1] * forward * length + up[1] * above * length,
        )

    sole = sole_mm / length
    return [
        "M", at(0.0, 0.0), "L", at(1.0, 0.0), "Q", at(1.08, 0.0), at(1.06, sole + 0.08),
        "Q", at(1.02, sole + 0.20), at(0.78, sole + 0.22), "Q", at(0.55, sole + 0.26),
        at(0.46, sole + 0.42), "L", at(0.02, sole + 0.42), "Q", at(-0.08, sole + 0.2),
        at(-0.05, sole * 0.6), "Q", at(-0.04, 0.0), at(0.0, 0.0), "Z",
    ]  # fmt: skip


def _draw_trunk(page: Page, child: RiderFigure, *, inseam_mm: float) -> None:
    deep = 0.135 * inseam_mm
    across_x, across_y = child.shoulder[1] - child.hip[1], -(child.shoulder[0] - child.hip[0])
    length = math.hypot(across_x, across_y)
    front = across_x / length * deep * 0.86, across_y / length * deep * 0.86
    seat_x, seat_y = child.crotch
    top, shoulder = 0.86 * deep, child.shoulder
    page.shape(
        [
            "M", (seat_x - deep * 0.55, seat_y), "L", (seat_x + deep * 0.3, seat_y),
            "Q", (seat_x + deep * 1.0, seat_y), (seat_x + deep * 0.98, seat_y + deep * 0.8),
            "L", (shoulder[0] + front[0], shoulder[1] + front[1]),
            f"A{top:.1f} {top:.1f} 0 0 0", (shoulder[0] - front[0], shoulder[1] - front[1]),
            "L", (seat_x - deep * 1.02, seat_y + deep * 0.9),
            "Q", (seat_x - deep * 1.08, seat_y), (seat_x - deep * 0.55, seat_y), "Z",
        ],
        fill=TRUNK,
        stroke="#fbfaf7",
    )  # fmt: skip


def _draw_arm(page: Page, child: RiderFigure, *, inseam_mm: float) -> None:
    size = inseam_mm
    page.shape(
        taper(child.elbow, child.hand, 0.042 * size, 0.034 * size), fill=ARM, stroke="#fbfaf7"
    )
    page.shape(
        taper(child.shoulder, child.elbow, 0.058 * size, 0.043 * size), fill=ARM, stroke="#fbfaf7"
    )


def _draw_head(page: Page, child: RiderFigure) -> None:
    """Head and helmet."""
    centre, tall = child.head_centre, child.head_mm
    page.shape(taper(child.shoulder, centre, 0.2 * tall, 0.22 * tall), fill=FACE)
    page.circle(centre, 0.46 * tall, fill=FACE)
    x, y = centre
    page.shape(
        [
            "M", (x - 0.56 * tall, y - 0.06 * tall),
            "Q", (x - 0.60 * tall, y + 0.66 * tall), (x + 0.08 * tall, y + 0.62 * tall),
            "Q", (x + 0.54 * tall, y + 0.58 * tall), (x + 0.60 * tall, y + 0.14 * tall),
            "L", (x + 0.26 * tall, y + 0.10 * tall), "Z",
        ],
        fill=HELMET,
    )  # fmt: skip
    page.curve(
        [
            (x - 0.06 * tall, y + 0.04 * tall),
            (x + 0.02 * tall, y - 0.3 * tall),
            (x + 0.2 * tall, y - 0.42 * tall),
        ],
        stroke=SHOE,
        width=7,
    )


def draw_saddle(page: Page, top: Point, scale: float) -> None:
    """The saddle, from the middle of its top."""

    def at(x: float, y: float) -> Point:
        return top[0] + x * scale, top[1] + y * scale

    page.shape(
        [
            "M", at(-105, 6), "Q", at(-118, -34), at(-60, -36), "L", at(30, -30),
            "Q", at(118, -26), at(122, -6), "Q", at(60, 2), at(-10, -2),
            "Q", at(-60, 0), at(-105, 6), "Z",
        ],
        fill=TYRE,
    )  # fmt: skip


def draw_wheel(page: Page, axle: Point, *, radius_mm: float, tyre_width_mm: float) -> None:
    """Tyre, rim and spokes."""
    width, radius = tyre_width_mm * 0.8, radius_mm
    for spoke in range(10):
        angle = math.pi * spoke / 10 + 0.15
        run, rise = (radius - width) * math.cos(angle), (radius - width) * math.sin(angle)
        page.polyline(
            [(axle[0] - run, axle[1] - rise), (axle[0] + run, axle[1] + rise)],
            stroke="#d5dade", width=3,
        )  # fmt: skip
    page.circle(axle, radius - width / 2, stroke=TYRE, width=width)
    page.circle(axle, radius - width, stroke=METAL, width=7)
    page.circle(axle, 18, fill=METAL)
