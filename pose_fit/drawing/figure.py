"""Points of a child and a bicycle seen from the side, the child standing over it.

Worked out here, drawn by ``child_on_bicycle.py``. Frame as in ``side_view.py``: origin on the ground
below the bottom bracket, x forward, y up, millimetres. Lengths a catalogue does not hold but a
picture needs (head angle, rake, the run of the tubes) are drawn as is usual and nothing is read
off them.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.drawing.svg import Point
from pose_fit.fit.cockpit import cockpit
from pose_fit.fit.leg import Leg
from pose_fit.fit.lift import straddle_mm
from pose_fit.fit.policy import Rider
from pose_fit.fit.upper_body import UpperBody
from pose_fit.refusal import Refusal

__all__ = [
    "BicycleFigure",
    "Figure",
    "LegFigure",
    "RiderFigure",
    "arm_to",
    "figure",
    "head_over",
]

_HEAD_ANGLE_RAD: Final = math.radians(70.0)
_RAKE_MM: Final = 38.0


@dataclass(frozen=True, slots=True)
class BicycleFigure:
    """Points of the bicycle. The top tube runs through ``top_tube`` from rear to front."""

    rear_axle: Point
    front_axle: Point
    wheel_radius_mm: float
    tyre_width_mm: float
    bottom_bracket: Point
    crank_mm: float
    seat_joint: Point
    saddle: Point
    head_top: Point
    head_bottom: Point
    grip: Point
    straddle: Point
    top_tube: tuple[Point, ...]
    has_top_tube: bool


@dataclass(frozen=True, slots=True)
class LegFigure:
    """Joints of one leg; the shoe stands on its sole from heel to toe."""

    hip: Point
    knee: Point
    ankle: Point
    heel: Point
    toe: Point


@dataclass(frozen=True, slots=True)
class RiderFigure:
    """Joints of the child; ``crotch`` is the lowest point of the trunk."""

    crotch: Point
    hip: Point
    shoulder: Point
    elbow: Point
    hand: Point
    head_centre: Point
    head_mm: float
    near: LegFigure
    far: LegFigure


@dataclass(frozen=True, slots=True)
class Figure:
    """A child standing over a bicycle."""

    inseam_mm: float
    sole_mm: float
    bicycle: BicycleFigure
    standing: RiderFigure


def figure(inseam_mm: float, bicycle: Bicycle, *, rider: Rider | None = None) -> Figure | Refusal:
    """Points of this child on this bicycle; refused where the catalogue lacks a length."""
    rider = rider or Rider()
    seat = cockpit(inseam_mm, bicycle, rider=rider)
    if isinstance(seat, Refusal):
        return seat
    shape = _bicycle(bicycle, seat.saddle_mm)
    if isinstance(shape, Refusal):
        return shape
    leg = Leg.of_inseam(np.array([inseam_mm]), rider=rider)
    body = UpperBody.of_inseam(inseam_mm)
    return Figure(
        inseam_mm=inseam_mm,
        sole_mm=rider.soles_mm,
        bicycle=shape,
        standing=_standing(inseam_mm, shape, leg, body),
    )


def _bicycle(bicycle: Bicycle, saddle_mm: float) -> BicycleFigure | Refusal:
    place, size = straddle_mm(bicycle), bicycle.tyre.likeliest
    chainstay_mm, front_mm = bicycle.chainstay_mm, bicycle.front_centre_mm
    if place is None or chainstay_mm is None or front_mm is None:
        message = "This bicycle cannot be drawn without its chainstay, front centre and wheelbase."
        return Refusal.because("geometry_missing", message)
    radius_mm = size.outside_diameter_mm / 2
    bracket_y = bicycle.bottom_bracket_height_mm or 0.0
    drop_mm = radius_mm - bracket_y
    rear = -math.sqrt(max(chainstay_mm**2 - drop_mm**2, 1.0)), radius_mm
    front = math.sqrt(max(front_mm**2 - drop_mm**2, 1.0)), radius_mm
    seat_run = 1 / math.tan(bicycle.seat_tube_angle_rad or math.radians(72))
    straddle = rear[0] + place[0], bicycle.standover_mm
    grip = bicycle.handlebar_reach_mm or 0.0, bicycle.handlebar_height_mm or 0.0

    # Steering axis: leans back by the head angle, the front axle lies a rake ahead of it.
    axis_run = -1 / math.tan(_HEAD_ANGLE_RAD)
    foot_x = front[0] - _RAKE_MM / math.sin(_HEAD_ANGLE_RAD)

    def on_axis(y: float) -> Point:
        return foot_x + (y - radius_mm) * axis_run, y

    crown_y = 2 * radius_mm + 18
    slope = math.tan(bicycle.likely_slope_rad)
    if bicycle.has_top_tube:
        # Where the top tube's line meets the steering axis and the seat tube.
        head_y = _meet_y(straddle, slope, on_axis(0.0), axis_run)
        seat_y = _meet_y(straddle, slope, (bracket_y * seat_run, 0.0), -seat_run)
    else:
        head_y = crown_y + 70
        seat_y = min(bicycle.saddle_min_mm or 0.0, straddle[1] + 130) - 40
    head_y = max(head_y, crown_y + 30)
    seat_joint = -(seat_y - bracket_y) * seat_run, seat_y
    joint_front = on_axis(head_y)
    if bicycle.has_top_tube:
        top_tube: tuple[Point, ...] = (seat_joint, straddle, joint_front)
    else:
        low_rear = -(straddle[1] - bracket_y - 12) * seat_run, straddle[1] - 12
        top_tube = (low_rear, straddle, joint_front)
    return BicycleFigure(
        rear_axle=rear,
        front_axle=front,
        wheel_radius_mm=radius_mm,
        tyre_width_mm=size.width_mm,
        bottom_bracket=(0.0, bracket_y),
        crank_mm=bicycle.crank_mm or 0.0,
        seat_joint=seat_joint,
        saddle=(-(saddle_mm - bracket_y) * seat_run, saddle_mm),
        head_top=on_axis(max(head_y + 22, min(grip[1] - 60, head_y + 60))),
        head_bottom=on_axis(crown_y),
        grip=grip,
        straddle=straddle,
        top_tube=top_tube,
        has_top_tube=bicycle.has_top_tube,
    )


def _meet_y(on_tube: Point, slope: float, on_line: Point, run: float) -> float:
    """Height at which a tube of this slope meets a line of this horizontal run per height."""
    # x = line_x + (y - line_y) run and y = tube_y + (x - tube_x) slope
    lead = on_line[0] - on_line[1] * run - on_tube[0]
    return (on_tube[1] + slope * lead) / (1 - slope * run)


def _standing(inseam_mm: float, shape: BicycleFigure, leg: Leg, body: UpperBody) -> RiderFigure:
    x = shape.straddle[0]
    crotch = x, inseam_mm + leg.sole_mm
    hip = x, crotch[1] + float(leg.hip_above_crotch_mm[0])
    ankle_y = float(leg.ankle_mm[0]) + leg.sole_mm
    shank_mm, thigh_mm = float(leg.shank_mm[0]), float(leg.thigh_mm[0])
    knee_y = ankle_y + shank_mm * (hip[1] - ankle_y) / (shank_mm + thigh_mm)
    foot_mm, ball_mm = float(leg.foot_mm[0]), float(leg.ball_mm[0])
    heel_x = x - 0.72 * foot_mm + ball_mm

    def straight(ahead_mm: float) -> LegFigure:
        heel = heel_x + ahead_mm, 0.0
        knee, ankle = (x + ahead_mm / 2, knee_y), (x + ahead_mm, ankle_y)
        return LegFigure(hip, knee, ankle, heel, (heel[0] + foot_mm, 0.0))

    trunk_mm = body.shoulder_above_seat_mm - (hip[1] - crotch[1])
    lean_rad = math.radians(84.0)
    shoulder = hip[0] + trunk_mm * math.cos(lean_rad), hip[1] + trunk_mm * math.sin(lean_rad)
    elbow, hand = arm_to(shoulder, shape.grip, body)
    head = head_over(shoulder, body, lean_rad)
    return RiderFigure(
        crotch, hip, shoulder, elbow, hand, head, body.head_mm,
        straight(0.0), straight(0.09 * inseam_mm),
    )  # fmt: skip


def arm_to(shoulder: Point, grip: Point, body: UpperBody) -> tuple[Point, Point]:
    """Elbow, below the line to the grips, and hand, short of the grips where they are too far."""
    upper_mm, fore_mm = body.upper_arm_mm, body.forearm_mm
    away = grip[0] - shoulder[0], grip[1] - shoulder[1]
    span_mm = math.hypot(*away)
    reach_mm = max(min(span_mm, upper_mm + fore_mm), abs(upper_mm - fore_mm) + 1.0)
    cosine = (upper_mm**2 + reach_mm**2 - fore_mm**2) / (2 * upper_mm * reach_mm)
    towards_rad = math.atan2(away[1], away[0])
    bend_rad = towards_rad - math.acos(max(-1.0, min(1.0, cosine)))
    elbow = (
        shoulder[0] + upper_mm * math.cos(bend_rad),
        shoulder[1] + upper_mm * math.sin(bend_rad),
    )
    hand = (
        shoulder[0] + reach_mm * math.cos(towards_rad),
        shoulder[1] + reach_mm * math.sin(towards_rad),
    )
    return elbow, hand


def head_over(shoulder: Point, body: UpperBody, lean_rad: float) -> Point:
    """Centre of the head: over the shoulder, half way less upright than the trunk."""
    above_mm = body.head_top_above_seat_mm - body.shoulder_above_seat_mm - body.head_mm / 2
    tilt_rad = (lean_rad + math.pi / 2) / 2
    return shoulder[0] + above_mm * math.cos(tilt_rad), shoulder[1] + above_mm * math.sin(tilt_rad)
