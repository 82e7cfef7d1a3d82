"""Draw a child standing over a bicycle to scale, as SVG.

Draws what ``figure.py`` and ``judge.py`` worked out, and works nothing out itself but where the
labels go.
"""

from pose_fit.drawing.colours import INK, QUIET
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.drawing.figure import BicycleFigure, Figure
from pose_fit.drawing.shapes import (
    FRAME,
    METAL,
    TYRE,
    draw_astride,
    draw_banner,
    draw_lettered,
    draw_saddle,
    draw_wheel,
    page_around,
)
from pose_fit.drawing.svg import Page, Point
from pose_fit.fit.judge import Fit
from pose_fit.metrology.units import Unit, both_units

__all__ = ["standing_svg"]


def standing_svg(
    shape: Figure, fit: Fit, *, unit: Unit = "in", texts: DrawingTexts = ENGLISH
) -> str:
    """The child standing over the top tube, with inseam, standover and the space between."""
    page = _page(shape)
    child, bicycle = shape.standing, shape.bicycle
    draw_astride(
        page,
        child,
        lambda: _draw_bicycle(page, bicycle),
        inseam_mm=shape.inseam_mm,
        sole_mm=shape.sole_mm,
    )
    back_x = bicycle.rear_axle[0] - bicycle.wheel_radius_mm - 60
    front_x = bicycle.front_axle[0] + bicycle.wheel_radius_mm + 60
    crotch, tube_y = child.crotch, bicycle.straddle[1]
    for y, reach_x in ((crotch[1], back_x), (tube_y, front_x)):
        page.polyline([(reach_x, y), (crotch[0], y)], stroke=QUIET, width=4, dash="4 14")
    page.dimension((back_x, 0), (back_x, crotch[1]), stroke=INK)
    page.dimension((front_x, 0), (front_x, tube_y), stroke=INK)
    page.dimension((crotch[0], tube_y), crotch, stroke="#ffffff" if bicycle.has_top_tube else QUIET)
    page.badge((back_x, crotch[1] + 62), "A")
    page.badge((front_x, tube_y + 62), "B")
    spare = _spare_words(fit, unit, texts)
    height = texts.standover_height if bicycle.has_top_tube else texts.step_through_height
    legend = [
        ("A", texts.inseam_and_sole.format(length=both_units(crotch[1], unit))),
        ("B", height.format(length=both_units(tube_y, unit))),
    ]
    if bicycle.has_top_tube:
        page.badge((crotch[0] - 130, (tube_y + crotch[1]) / 2), "C")
        legend.append(("C", spare[0].lower() + spare[1:]))
    elif fit.bicycle.saddle_min_mm is not None:
        lowest = both_units(fit.bicycle.saddle_min_mm, unit)
        legend.append(("", texts.lowest_saddle.format(length=lowest)))
    draw_lettered(page, legend, unit)
    draw_banner(page, fit, spare, texts)
    return page.svg(
        title=texts.standing_title.format(
            length=both_units(shape.inseam_mm, unit), name=fit.bicycle.name
        ),
        description=_description(fit, spare, legend, texts),
    )


def _description(fit: Fit, second: str, legend: list[tuple[str, str]], texts: DrawingTexts) -> str:
    lines = "; ".join(text for _, text in legend)
    return f"{texts.to_scale}. {second}. {lines}. {texts.headlines[fit.shown]}."


def _page(shape: Figure) -> Page:
    bicycle = shape.bicycle
    left_mm = bicycle.rear_axle[0] - bicycle.wheel_radius_mm - 150
    right_mm = bicycle.front_axle[0] + bicycle.wheel_radius_mm + 150
    child = shape.standing
    top_mm = max(bicycle.grip[1], child.head_centre[1] + 0.65 * child.head_mm)
    return page_around(left_mm, right_mm, top_mm)


def _spare_words(fit: Fit, unit: Unit, texts: DrawingTexts) -> str:
    if not fit.bicycle.has_top_tube:
        return texts.no_top_tube
    words = texts.above_top_tube if fit.clearance_mm > 0 else texts.top_tube_too_high
    return words.format(length=both_units(abs(fit.clearance_mm), unit))


def _draw_bicycle(page: Page, bicycle: BicycleFigure) -> None:
    for axle in (bicycle.rear_axle, bicycle.front_axle):
        draw_wheel(
            page, axle, radius_mm=bicycle.wheel_radius_mm, tyre_width_mm=bicycle.tyre_width_mm
        )
    scale = _part_scale(bicycle)
    axle, tube = bicycle.bottom_bracket, 30.0 * scale
    head_top, head_bottom = bicycle.head_top, bicycle.head_bottom
    post_foot = bicycle.seat_joint if bicycle.has_top_tube else bicycle.top_tube[0]
    page.polyline([axle, bicycle.rear_axle], stroke=FRAME, width=16)
    page.polyline([bicycle.seat_joint, bicycle.rear_axle], stroke=FRAME, width=14)
    page.polyline([post_foot, bicycle.saddle], stroke=METAL, width=20)
    page.polyline([axle, bicycle.seat_joint], stroke=FRAME, width=tube)
    page.polyline([head_bottom, bicycle.front_axle], stroke=FRAME, width=18)
    lower = _between(head_bottom, head_top, 0.15)
    if bicycle.has_top_tube:
        page.polyline([axle, lower], stroke=FRAME, width=tube + 6)
        page.polyline(_lowered(bicycle.top_tube, tube / 2), stroke=FRAME, width=tube)
    else:
        # One low tube, sagging to where the rider steps through.
        start, low, end = _lowered((bicycle.top_tube[0], bicycle.straddle, lower), tube / 2)
        control = 2 * low[0] - (start[0] + end[0]) / 2, 2 * low[1] - (start[1] + end[1]) / 2
        page.curve([start, control, end], stroke=FRAME, width=tube)
        page.polyline([axle, low], stroke=FRAME, width=tube)
    page.polyline([head_bottom, head_top], stroke=FRAME, width=tube + 8)
    stem = head_top[0] + 18, min(bicycle.grip[1] - 8, head_top[1] + 40)
    page.polyline(
        [head_top, stem, (bicycle.grip[0] + 34, bicycle.grip[1] + 6)], stroke=METAL, width=18
    )
    page.polyline(
        [(bicycle.grip[0] + 26, bicycle.grip[1] + 4), (bicycle.grip[0] - 26, bicycle.grip[1] - 4)],
        stroke=TYRE, width=30,
    )  # fmt: skip
    draw_saddle(page, bicycle.saddle, 1.1 * scale)
    _cranks(page, bicycle)


def _part_scale(bicycle: BicycleFigure) -> float:
    """Thickness of tubes and size of saddle: smaller bicycles have smaller parts."""
    return min(1.0, 0.35 + bicycle.wheel_radius_mm / 450)


def _cranks(page: Page, bicycle: BicycleFigure) -> None:
    """Level, out of the way of the legs."""
    x, y = bicycle.bottom_bracket
    near, far = pedals = (x + bicycle.crank_mm, y), (x - bicycle.crank_mm, y)
    page.circle(bicycle.bottom_bracket, 46, fill="none", stroke=METAL, width=14)
    page.polyline([far, bicycle.bottom_bracket, near], stroke=METAL, width=16)
    for pedal in pedals:
        page.polyline([(pedal[0] - 34, pedal[1]), (pedal[0] + 34, pedal[1])], stroke=TYRE, width=16)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _lowered(points: tuple[Point, ...], by_mm: float) -> list[Point]:
    """A tube's middle line from its upper edge, which is what standover is measured to."""
    return [(x, y - by_mm) for x, y in points]
