"""Draw a child on a bicycle without pedals, to scale, as SVG: seated, pushing with the feet.

Frame: origin on the ground below the rear axle, x forward, y up, millimetres. Wheels, saddle,
handlebar and the place to step over are to scale. The run of the frame, which a catalogue does not
hold, is drawn as is usual, and nothing is read off it.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from pose_fit.drawing.colours import INK, QUIET
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.drawing.figure import LegFigure, RiderFigure, arm_to, head_over
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
from pose_fit.fit.cockpit import trunk_lean_rad
from pose_fit.fit.judge import Fit
from pose_fit.fit.leg import Leg, flat_foot_saddle_mm
from pose_fit.fit.upper_body import UpperBody
from pose_fit.metrology.units import Unit, both_units, length_text
from pose_fit.refusal import Refusal

__all__ = ["pushing_svg"]

#: Where saddle, lowest place and head of the frame lie along the wheelbase, as is usual.
_SADDLE_PART, _LOW_PART, _HEAD_PART = 0.27, 0.55, 0.86
#: How far ahead of and behind the hip the feet stand while pushing, share of the inseam.
_STEP_PARTS: Final = (0.18, -0.16)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Points of the bicycle."""

    wheelbase_mm: float
    radius_mm: float
    tyre_width_mm: float
    saddle: Point
    saddle_range_mm: tuple[float, float]
    low: Point
    grip: Point


def pushing_svg(fit: Fit, *, unit: Unit = "in", texts: DrawingTexts = ENGLISH) -> str | Refusal:
    """The child on the saddle with the feet on the ground; refused without the lengths needed."""
    frame = _frame(fit)
    if isinstance(frame, Refusal):
        return frame
    rider = _rider(fit, frame)
    page = page_around(
        -frame.radius_mm - 100,
        frame.wheelbase_mm + frame.radius_mm + 100,
        rider.head_centre[1] + 0.65 * rider.head_mm,
    )
    inseam_mm, sole_mm = fit.inseam.mean_mm, fit.rider.soles_mm
    draw_astride(
        page, rider, lambda: _draw_frame(page, frame), inseam_mm=inseam_mm, sole_mm=sole_mm
    )
    back_x = -frame.radius_mm - 40
    low_mm, high_mm = frame.saddle_range_mm
    page.box((back_x - 10, high_mm), 20, high_mm - low_mm, fill="#d9e7e4", stroke=FRAME, radius=10)
    saddle_y = frame.saddle[1]
    page.polyline(
        [(back_x, saddle_y), (frame.saddle[0] - 80, saddle_y)], stroke=QUIET, width=4, dash="4 14"
    )
    page.circle((back_x, saddle_y), 9, fill=INK)
    page.badge((back_x, high_mm + 45), "A")
    low, high = (length_text(end_mm, unit) for end_mm in frame.saddle_range_mm)
    where = texts.saddle_at.format(length=both_units(saddle_y, unit), low=low, high=high)
    reach = texts.inseam_and_sole.format(length=both_units(inseam_mm + sole_mm, unit))
    draw_lettered(page, [("A", where), ("", reach)], unit)
    draw_banner(page, fit, texts.no_pedals, texts)
    return page.svg(
        title=texts.pushing_title.format(length=both_units(inseam_mm, unit), name=fit.bicycle.name),
        description=(
            f"{texts.to_scale}. {texts.no_pedals}. {where}; {reach}. {texts.headlines[fit.shown]}."
        ),
    )


def _frame(fit: Fit) -> _Frame | Refusal:
    bicycle, size = fit.bicycle, fit.bicycle.tyre.likeliest
    low_mm, high_mm = bicycle.saddle_min_mm, bicycle.saddle_max_mm
    wheelbase_mm, handlebar_mm = bicycle.wheelbase_mm, bicycle.handlebar_height_mm
    if low_mm is None or high_mm is None or wheelbase_mm is None or handlebar_mm is None:
        message = (
            "This bicycle cannot be drawn without its saddle heights, wheelbase and handlebar"
            " height."
        )
        return Refusal.because("geometry_missing", message)
    wanted_mm = flat_foot_saddle_mm(np.array(fit.inseam.mean_mm), sole_mm=fit.rider.soles_mm)
    saddle_mm = min(max(float(wanted_mm), low_mm), high_mm)
    return _Frame(
        wheelbase_mm=wheelbase_mm,
        radius_mm=size.outside_diameter_mm / 2,
        tyre_width_mm=size.width_mm,
        saddle=(_SADDLE_PART * wheelbase_mm, saddle_mm),
        saddle_range_mm=(low_mm, high_mm),
        low=(_LOW_PART * wheelbase_mm, bicycle.standover_mm),
        grip=(0.78 * wheelbase_mm, handlebar_mm),
    )


def _rider(fit: Fit, frame: _Frame) -> RiderFigure:
    inseam_mm = fit.inseam.mean_mm
    leg, body = Leg.of_inseam(inseam_mm, rider=fit.rider), UpperBody.of_inseam(inseam_mm)
    hip = frame.saddle[0], frame.saddle[1] + float(leg.hip_above_saddle_mm)
    near, far = (_leg_to(hip, hip[0] + part * inseam_mm, leg) for part in _STEP_PARTS)
    lean_rad, _ = trunk_lean_rad(hip, frame.grip, body, saddle_mm=frame.saddle[1])
    trunk_mm = body.shoulder_above_seat_mm - (hip[1] - frame.saddle[1])
    shoulder = hip[0] + trunk_mm * math.cos(lean_rad), hip[1] + trunk_mm * math.sin(lean_rad)
    elbow, hand = arm_to(shoulder, frame.grip, body)
    head = head_over(shoulder, body, lean_rad)
    return RiderFigure(frame.saddle, hip, shoulder, elbow, hand, head, body.head_mm, near, far)


def _leg_to(hip: Point, ankle_x: float, leg: Leg) -> LegFigure:
    """A leg whose foot is flat on the ground here, or hangs straight where it does not reach."""
    thigh_mm, shank_mm = float(leg.thigh_mm), float(leg.shank_mm)
    longest_mm = thigh_mm + shank_mm - 1
    ankle = ankle_x, float(leg.ankle_mm) + leg.sole_mm
    span_mm = math.dist(hip, ankle)
    if span_mm > longest_mm:
        share = longest_mm / span_mm
        ankle = hip[0] + share * (ankle[0] - hip[0]), hip[1] + share * (ankle[1] - hip[1])
        span_mm = longest_mm
    # The knee is the forward one of the two meeting points of the circles around hip and ankle.
    along = (span_mm**2 + thigh_mm**2 - shank_mm**2) / (2 * span_mm)
    off = math.sqrt(max(thigh_mm**2 - along**2, 0.0))
    unit_x, unit_y = (ankle[0] - hip[0]) / span_mm, (ankle[1] - hip[1]) / span_mm
    knee = hip[0] + along * unit_x - off * unit_y, hip[1] + along * unit_y + off * unit_x
    below = ankle[1] - float(leg.ankle_mm) - leg.sole_mm
    heel = ankle[0] - 0.28 * float(leg.foot_mm), below
    return LegFigure(hip, knee, ankle, heel, (heel[0] + float(leg.foot_mm), below))


def _draw_frame(page: Page, frame: _Frame) -> None:
    rear, front = (0.0, frame.radius_mm), (frame.wheelbase_mm, frame.radius_mm)
    for axle in (rear, front):
        draw_wheel(page, axle, radius_mm=frame.radius_mm, tyre_width_mm=frame.tyre_width_mm)
    tube = 24.0
    seat_foot = frame.saddle[0] + 14, frame.saddle_range_mm[0] - 50
    head_x = _HEAD_PART * frame.wheelbase_mm
    head_low, head_top = (head_x + 12, 2 * frame.radius_mm + 20), (head_x - 8, frame.grip[1] - 70)
    low_y = frame.low[1] - tube / 2
    # One beam, lowest where the child steps over.
    middle_x = (seat_foot[0] + head_low[0]) / 2
    control = middle_x, 2 * low_y - (seat_foot[1] + head_low[1]) / 2
    page.polyline([seat_foot, frame.saddle], stroke=METAL, width=16)
    page.polyline([rear, seat_foot], stroke=FRAME, width=tube * 0.7)
    page.curve([seat_foot, control, head_low], stroke=FRAME, width=tube)
    page.polyline([head_low, front], stroke=FRAME, width=tube * 0.8)
    page.polyline([head_low, head_top], stroke=FRAME, width=tube + 4)
    page.polyline([head_top, (frame.grip[0] + 20, frame.grip[1])], stroke=METAL, width=14)
    page.polyline(
        [(frame.grip[0] + 22, frame.grip[1]), (frame.grip[0] - 22, frame.grip[1] - 4)],
        stroke=TYRE,
        width=24,
    )
    draw_saddle(page, frame.saddle, 0.75)
