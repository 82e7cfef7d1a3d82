"""Draw a child on a bicycle to scale, as SVG: standing over it, and pedalling.

Draws what ``figure.py`` and ``judge.py`` worked out, and works nothing out itself but where the
labels go.
"""

import math
from typing import Final

from pose_fit.drawing.colours import SHOWN_COLOUR
from pose_fit.drawing.figure import BicycleFigure, Figure, LegFigure, Point, RiderFigure
from pose_fit.drawing.svg import Page, taper
from pose_fit.fit.judge import Fit
from pose_fit.fit.words import headline
from pose_fit.metrology.units import Unit, both_units

__all__ = ["pedalling_svg", "standing_svg"]

_INK: Final = "#25303b"
_QUIET: Final = "#6b7783"
_FRAME: Final = "#1d7a74"
_TYRE: Final = "#2f3640"
_METAL: Final = "#9aa5af"
_NEAR: Final = "#4f6d94"
_TRUNK: Final = "#5f7ea6"
_ARM: Final = "#3f5b80"
_FAR: Final = "#b3c0d1"
_SHOE: Final = "#2f3b4c"
_FAR_SHOE: Final = "#8b97a7"
_HELMET: Final = "#d95f43"
_FACE: Final = "#8fa6c4"
#: Length of the scale below the drawing, ten inches.
_SCALE_MM: Final = 254.0


def standing_svg(shape: Figure, fit: Fit, *, unit: Unit = "in") -> str:
    """The child standing over the top tube, with inseam, standover and the space between."""
    page = _page(shape)
    child, bicycle = shape.standing, shape.bicycle
    _ground(page)
    _leg(page, child.far, shape, near=False)
    _draw_bicycle(page, bicycle, child, pedals_level=True)
    _leg(page, child.near, shape, near=True)
    _draw_trunk(page, child, shape)
    _draw_head(page, child)
    _draw_arm(page, child, shape)

    back_x = bicycle.rear_axle[0] - bicycle.wheel_radius_mm - 60
    front_x = bicycle.front_axle[0] + bicycle.wheel_radius_mm + 60
    crotch, tube_y = child.crotch, bicycle.straddle[1]
    for y, reach_x in ((crotch[1], back_x), (tube_y, front_x)):
        page.polyline([(reach_x, y), (crotch[0], y)], stroke=_QUIET, width=4, dash="4 14")
    page.dimension((back_x, 0), (back_x, crotch[1]), stroke=_INK)
    page.dimension((front_x, 0), (front_x, tube_y), stroke=_INK)
    page.dimension(
        (crotch[0], tube_y), crotch, stroke="#ffffff" if bicycle.has_top_tube else _QUIET
    )
    page.badge((back_x, crotch[1] + 62), "A")
    page.badge((front_x, tube_y + 62), "B")
    spare = _spare_words(fit, unit)
    name = "standover" if bicycle.has_top_tube else "step-through"
    legend = [
        ("A", f"inseam and sole {both_units(crotch[1], unit)}"),
        ("B", f"{name} height {both_units(tube_y, unit)}"),
    ]
    if bicycle.has_top_tube:
        page.badge((crotch[0] - 130, (tube_y + crotch[1]) / 2), "C")
        legend.append(("C", spare[0].lower() + spare[1:]))
    elif fit.bicycle.saddle_min_mm is not None:
        legend.append(("", f"lowest saddle {both_units(fit.bicycle.saddle_min_mm, unit)}"))
    _legend(page, legend, unit)
    _banner(page, fit, spare)
    return page.svg(
        title=f"A child of inseam {both_units(shape.inseam_mm, unit)} standing over {fit.bicycle.name}",
        description=(
            f"Side view to scale. {'; '.join(text for _, text in legend)}. {spare}."
            f" {headline(fit)}."
        ),
    )


def pedalling_svg(shape: Figure, fit: Fit, *, unit: Unit = "in") -> str:
    """The child pedalling, with the saddle in its range and the knee's way to the grips."""
    page = _page(shape)
    child, bicycle, seat = shape.pedalling, shape.bicycle, shape.seat
    _ground(page)
    _leg(page, child.far, shape, near=False)
    _draw_bicycle(page, bicycle, child, pedals_level=False)
    _leg(page, child.near, shape, near=True)
    _draw_trunk(page, child, shape)
    _draw_head(page, child)
    _draw_arm(page, child, shape)

    back_x = bicycle.rear_axle[0] - bicycle.wheel_radius_mm - 60
    low_mm, high_mm = seat.saddle_range_mm
    saddle_y, knee = bicycle.saddle[1], shape.knee_front
    page.box((back_x - 14, high_mm), 28, high_mm - low_mm, fill="#d9e7e4", stroke=_FRAME, radius=14)
    page.polyline(
        [(back_x, saddle_y), (bicycle.saddle[0] - 120, saddle_y)],
        stroke=_QUIET, width=4, dash="4 14",
    )  # fmt: skip
    page.circle((back_x, saddle_y), 14, fill=_INK)
    page.badge((back_x, high_mm + 62), "A")
    page.dimension(knee, bicycle.grip, stroke=_INK)
    page.badge(((knee[0] + bicycle.grip[0]) / 2 + 62, (knee[1] + bicycle.grip[1]) / 2 - 40), "B")
    legend = [
        (
            "A",
            f"saddle at {both_units(saddle_y, unit)}, of {_short(low_mm, unit)} to"
            f" {_short(high_mm, unit)}",
        ),
        ("B", f"front of the knee to the grips {both_units(seat.knee_gap_mm, unit)}"),
        (
            "",
            f"knee bent {math.degrees(seat.knee_flexion_bottom_rad):.0f}° at the bottom;"
            f" trunk to thigh {math.degrees(seat.hip_angle_rad):.0f}° at the top",
        ),
    ]
    where = _saddle_words(shape, unit)
    _legend(page, legend, unit)
    _banner(page, fit, where)
    return page.svg(
        title=f"A child of inseam {both_units(shape.inseam_mm, unit)} pedalling {fit.bicycle.name}",
        description=(
            f"Side view to scale. {where}. {'; '.join(text for _, text in legend)}."
            f" {headline(fit)}."
        ),
    )


def _page(shape: Figure) -> Page:
    bicycle = shape.bicycle
    children = (shape.standing, shape.pedalling)
    left_mm = bicycle.rear_axle[0] - bicycle.wheel_radius_mm - 150
    right_mm = bicycle.front_axle[0] + bicycle.wheel_radius_mm + 150
    top_mm = max(
        bicycle.grip[1], *(child.head_centre[1] + 0.65 * child.head_mm for child in children)
    )
    # Room for the legend below and the banner above is in units of the picture's own width.
    unit = (right_mm - left_mm) / 1500
    return Page(
        left_mm=left_mm, right_mm=right_mm, bottom_mm=-330 * unit, top_mm=top_mm + 220 * unit
    )


def _short(length_mm: float, unit: Unit) -> str:
    """The length in the chosen unit alone."""
    return both_units(length_mm, unit).partition(" (")[0]


def _spare_words(fit: Fit, unit: Unit) -> str:
    if not fit.bicycle.has_top_tube:
        return "No top tube to clear: judged by its saddle"
    if fit.clearance_mm > 0:
        return f"{both_units(fit.clearance_mm, unit)} above the top tube"
    return f"The top tube is {both_units(-fit.clearance_mm, unit)} too high"


def _saddle_words(shape: Figure, unit: Unit) -> str:
    short_mm = shape.seat.saddle_wanted_mm - shape.seat.saddle_mm
    if short_mm > 1:
        return f"Saddle at its highest, {both_units(short_mm, unit)} too low"
    if short_mm < -1:
        return f"Saddle at its lowest, {both_units(-short_mm, unit)} too high"
    return "Saddle as high as the toes reach the ground"


def _banner(page: Page, fit: Fit, second: str) -> None:
    ink = SHOWN_COLOUR[fit.shown]
    left, top, unit = page.left_mm + 44 * page.unit, page.top_mm, page.unit
    page.text((left, top - 84 * unit), headline(fit), size=60, fill=ink, bold=True)
    page.text((left, top - 156 * unit), second, size=46)


def _ground(page: Page) -> None:
    page.polyline([(page.left_mm + 40, 0), (page.right_mm - 40, 0)], stroke=_INK, width=8)


def _legend(page: Page, lines: list[tuple[str, str]], unit: Unit) -> None:
    """Lettered lines below the floor, and a scale of ten inches."""
    step, left = page.unit, page.left_mm + 66 * page.unit
    for place, (letter, text) in enumerate(lines):
        y = (-78 - 70 * place) * step
        if letter:
            page.badge((left, y), letter)
        page.text((left + 50 * step, y - 14 * step), text, size=40)
    y = (-78 - 70 * 3) * step
    page.dimension((left, y), (left + _SCALE_MM, y), stroke=_QUIET)
    words = both_units(_SCALE_MM, unit)
    page.text((left + _SCALE_MM + 30 * step, y - 13 * step), words, size=36, fill=_QUIET)


def _leg(page: Page, leg: LegFigure, shape: Figure, *, near: bool) -> None:
    skin, shoe = (_NEAR, _SHOE) if near else (_FAR, _FAR_SHOE)
    size = shape.inseam_mm
    page.shape(taper(leg.knee, leg.ankle, 0.070 * size, 0.048 * size), fill=skin, stroke="#fbfaf7")
    page.shape(taper(leg.hip, leg.knee, 0.098 * size, 0.072 * size), fill=skin, stroke="#fbfaf7")
    page.shape(_shoe(leg, shape.sole_mm), fill=shoe)


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


def _draw_trunk(page: Page, child: RiderFigure, shape: Figure) -> None:
    deep = 0.135 * shape.inseam_mm
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
        fill=_TRUNK,
        stroke="#fbfaf7",
    )  # fmt: skip


def _draw_arm(page: Page, child: RiderFigure, shape: Figure) -> None:
    size = shape.inseam_mm
    page.shape(
        taper(child.elbow, child.hand, 0.042 * size, 0.034 * size), fill=_ARM, stroke="#fbfaf7"
    )
    page.shape(
        taper(child.shoulder, child.elbow, 0.058 * size, 0.043 * size), fill=_ARM, stroke="#fbfaf7"
    )


def _draw_head(page: Page, child: RiderFigure) -> None:
    centre, tall = child.head_centre, child.head_mm
    page.shape(taper(child.shoulder, centre, 0.2 * tall, 0.22 * tall), fill=_FACE)
    page.circle(centre, 0.46 * tall, fill=_FACE)
    x, y = centre
    page.shape(
        [
            "M", (x - 0.56 * tall, y - 0.06 * tall),
            "Q", (x - 0.60 * tall, y + 0.66 * tall), (x + 0.08 * tall, y + 0.62 * tall),
            "Q", (x + 0.54 * tall, y + 0.58 * tall), (x + 0.60 * tall, y + 0.14 * tall),
            "L", (x + 0.26 * tall, y + 0.10 * tall), "Z",
        ],
        fill=_HELMET,
    )  # fmt: skip
    page.curve(
        [
            (x - 0.06 * tall, y + 0.04 * tall),
            (x + 0.02 * tall, y - 0.3 * tall),
            (x + 0.2 * tall, y - 0.42 * tall),
        ],
        stroke=_SHOE,
        width=7,
    )


def _draw_bicycle(
    page: Page, bicycle: BicycleFigure, child: RiderFigure, *, pedals_level: bool
) -> None:
    for axle in (bicycle.rear_axle, bicycle.front_axle):
        _wheel(page, axle, bicycle)
    scale = _part_scale(bicycle)
    axle, tube = bicycle.bottom_bracket, 30.0 * scale
    head_top, head_bottom = bicycle.head_top, bicycle.head_bottom
    post_foot = bicycle.seat_joint if bicycle.has_top_tube else bicycle.top_tube[0]
    page.polyline([axle, bicycle.rear_axle], stroke=_FRAME, width=16)
    page.polyline([bicycle.seat_joint, bicycle.rear_axle], stroke=_FRAME, width=14)
    page.polyline([post_foot, bicycle.saddle], stroke=_METAL, width=20)
    page.polyline([axle, bicycle.seat_joint], stroke=_FRAME, width=tube)
    page.polyline([head_bottom, bicycle.front_axle], stroke=_FRAME, width=18)
    lower = _between(head_bottom, head_top, 0.15)
    if bicycle.has_top_tube:
        page.polyline([axle, lower], stroke=_FRAME, width=tube + 6)
        page.polyline(_lowered(bicycle.top_tube, tube / 2), stroke=_FRAME, width=tube)
    else:
        # One low tube, sagging to where the rider steps through.
        start, low, end = _lowered((bicycle.top_tube[0], bicycle.straddle, lower), tube / 2)
        control = 2 * low[0] - (start[0] + end[0]) / 2, 2 * low[1] - (start[1] + end[1]) / 2
        page.curve([start, control, end], stroke=_FRAME, width=tube)
        page.polyline([axle, low], stroke=_FRAME, width=tube)
    page.polyline([head_bottom, head_top], stroke=_FRAME, width=tube + 8)
    stem = head_top[0] + 18, min(bicycle.grip[1] - 8, head_top[1] + 40)
    page.polyline(
        [head_top, stem, (bicycle.grip[0] + 34, bicycle.grip[1] + 6)], stroke=_METAL, width=18
    )
    page.polyline(
        [(bicycle.grip[0] + 26, bicycle.grip[1] + 4), (bicycle.grip[0] - 26, bicycle.grip[1] - 4)],
        stroke=_TYRE, width=30,
    )  # fmt: skip
    _draw_saddle(page, bicycle.saddle, 1.1 * scale)
    _cranks(page, bicycle, child, pedals_level=pedals_level)


def _part_scale(bicycle: BicycleFigure) -> float:
    """Thickness of tubes and size of saddle: smaller bicycles have smaller parts."""
    return min(1.0, 0.35 + bicycle.wheel_radius_mm / 450)


def _draw_saddle(page: Page, top: Point, scale: float) -> None:
    def at(x: float, y: float) -> Point:
        return top[0] + x * scale, top[1] + y * scale

    page.shape(
        [
            "M", at(-105, 6), "Q", at(-118, -34), at(-60, -36), "L", at(30, -30),
            "Q", at(118, -26), at(122, -6), "Q", at(60, 2), at(-10, -2),
            "Q", at(-60, 0), at(-105, 6), "Z",
        ],
        fill=_TYRE,
    )  # fmt: skip


def _cranks(page: Page, bicycle: BicycleFigure, child: RiderFigure, *, pedals_level: bool) -> None:
    axle = bicycle.bottom_bracket
    page.circle(axle, 46, fill="none", stroke=_METAL, width=14)
    near, far = child.near_pedal, child.far_pedal
    if pedals_level:
        length = bicycle.crank_mm
        near, far = (axle[0] + length, axle[1]), (axle[0] - length, axle[1])
    page.polyline([far, axle, near], stroke=_METAL, width=16)
    for pedal in (near, far):
        page.polyline(
            [(pedal[0] - 34, pedal[1]), (pedal[0] + 34, pedal[1])], stroke=_TYRE, width=16
        )


def _wheel(page: Page, axle: Point, bicycle: BicycleFigure) -> None:
    width, radius = bicycle.tyre_width_mm * 0.8, bicycle.wheel_radius_mm
    for spoke in range(10):
        angle = math.pi * spoke / 10 + 0.15
        run, rise = (radius - width) * math.cos(angle), (radius - width) * math.sin(angle)
        page.polyline(
            [(axle[0] - run, axle[1] - rise), (axle[0] + run, axle[1] + rise)],
            stroke="#d5dade", width=3,
        )  # fmt: skip
    page.circle(axle, radius - width / 2, stroke=_TYRE, width=width)
    page.circle(axle, radius - width, stroke=_METAL, width=7)
    page.circle(axle, 18, fill=_METAL)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _lowered(points: tuple[Point, ...], by_mm: float) -> list[Point]:
    """A tube's middle line from its upper edge, which is what standover is measured to."""
    return [(x, y - by_mm) for x, y in points]
