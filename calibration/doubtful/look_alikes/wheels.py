"""Round things that are not the wheel that was said, and a wheel that was clicked within its tyre."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.drawing import (
    bare_wall,
    on_wall,
    paint,
    sheet_points_px,
    wall_plane,
)
from calibration.doubtful.look_alikes.look_alike import (
    Asks,
    Change,
    LookAlike,
    as_it_is,
    beside_feet,
    said,
    soft,
)
from calibration.observe import wheel_request
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["WHEELS"]

_Pixels = NDArray[np.uint8]
#: The middle of a balance bicycle's wheel from the middle of the sheet, and its radius, millimetres.
_SMALL_MM: Final = (-60.0, 352.0, 158.0)
#: The hoop's, likewise.
_HOOP_MM: Final = (215.0, 300.0, 350.0)
#: The clock's, likewise.
_CLOCK_MM: Final = (60.0, -700.0, 160.0)


def _rim_px(base: str, circle_mm: tuple[float, float, float]) -> NDArray[np.float64]:
    """(10, 2) array: places on a circle on the wall."""
    x_mm, y_mm, radius_mm = circle_mm
    angles = np.linspace(0, 2 * np.pi, 10, endpoint=False)
    rim = np.stack([np.cos(angles), np.sin(angles)], axis=1) * radius_mm + [x_mm, y_mm]
    return np.asarray(cv2.perspectiveTransform(rim[None], wall_plane(base))[0], float)


def _small_wheel(pixels: _Pixels, child: Body) -> _Pixels:
    """The wheel of a balance bicycle: foam tyre, plastic rim and six broad spokes."""
    x_mm, y_mm, radius_mm = _SMALL_MM
    side = round(4 * radius_mm)
    wheel, middle = np.zeros((side, side, 4), np.uint8), (side // 2, side // 2)
    for angle in np.arange(0.3, 2 * np.pi, np.pi / 3):
        tip = np.array(middle) + 1.5 * radius_mm * np.array([np.cos(angle), np.sin(angle)])
        end = np.round(tip).astype(int).tolist()
        cv2.line(wheel, middle, end, (52, 120, 176, 255), 26, cv2.LINE_AA)
    for part, wide, rgb in ((0.74, 36, (60, 132, 190)), (0.89, 66, (40, 40, 42))):
        radius = round(2 * part * radius_mm)
        cv2.circle(wheel, middle, radius, (*rgb, 255), wide, cv2.LINE_AA)
    cv2.circle(wheel, middle, round(1.86 * radius_mm), (70, 70, 72, 255), 6, cv2.LINE_AA)
    cv2.circle(wheel, middle, round(0.36 * radius_mm), (52, 120, 176, 255), cv2.FILLED, cv2.LINE_AA)
    cv2.circle(wheel, middle, round(0.12 * radius_mm), (150, 150, 152, 255), cv2.FILLED)
    out = bare_wall(pixels, "sheet_2", child)
    placed = on_wall("sheet_2", x_mm - radius_mm, y_mm - radius_mm, mm_per_texel=0.5)
    return paint(out, wheel, placed, child=child, shadow=0.4)


def _within_the_tyre(_photo: Photo, _: Body) -> ReferenceRequest:
    """Points where the rim meets the tyre, said to be the tyre's outside."""
    points = sheet_points_px("wheel_1")
    middle = points.mean(axis=0)
    return wheel_request("50-559", middle + 0.865 * (points - middle))


def _hoop(pixels: _Pixels, child: Body) -> _Pixels:
    """A toy hoop with stripes that leans on the wall."""
    x_mm, y_mm, radius_mm = _HOOP_MM
    side = round(2 * radius_mm) + 8
    hoop = np.zeros((side, side, 4), np.uint8)
    middle = (side // 2, side // 2)
    for number in range(24):
        rgb = (214, 60, 110) if number % 2 else (244, 206, 70)
        cv2.ellipse(
            hoop,
            middle,
            (round(radius_mm) - 11,) * 2,
            0,
            15 * number,
            15 * number + 15,
            (*rgb, 255),
            22,
        )
    out = bare_wall(pixels, "flat_2", child, from_mm=(0.0, -420.0))
    placed = on_wall("flat_2", x_mm - side / 2, y_mm - side / 2)
    return paint(out, hoop, placed, child=child, shadow=0.35)


def _clock(pixels: _Pixels, child: Body) -> _Pixels:
    """A round clock on the wall."""
    x_mm, y_mm, radius_mm = _CLOCK_MM
    side = round(4 * radius_mm)
    dial, middle = np.zeros((side, side, 4), np.uint8), (side // 2, side // 2)
    for part, rgb in ((1.0, (46, 46, 50)), (0.90, (236, 234, 228))):
        radius = round(2 * part * radius_mm) - 2
        cv2.circle(dial, middle, radius, (*rgb, 255), cv2.FILLED, cv2.LINE_AA)
    for hour in range(12):
        way = np.array([np.cos(hour * np.pi / 6), np.sin(hour * np.pi / 6)]) * 2 * radius_mm
        ends = [
            np.round(np.array(middle) + part * way).astype(int).tolist() for part in (0.72, 0.82)
        ]
        cv2.line(dial, ends[0], ends[1], (40, 40, 44, 255), 14, cv2.LINE_AA)
    for angle, part, wide in ((0.6, 0.42, 15), (-1.9, 0.66, 10)):
        tip = np.array(middle) + 2 * part * radius_mm * np.array([np.cos(angle), np.sin(angle)])
        cv2.line(
            dial, middle, np.round(tip).astype(int).tolist(), (40, 40, 44, 255), wide, cv2.LINE_AA
        )
    placed = on_wall("flat_6", x_mm - radius_mm, y_mm - radius_mm, mm_per_texel=0.5)
    return paint(pixels, dial, placed, child=child, shadow=0.4)


def _ring(aside: float, above: float, radius: float, *, thick: float = 0.1) -> Change:
    """A dark ring round a middle beside the child; as thick as its radius it is a disc."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = pixels.copy()
        middle = tuple(round(one) for one in beside_feet(body, aside, above))
        wide = max(round(thick * radius * body.leg_px), 2)
        reach = round(radius * body.leg_px) - wide // 2
        cv2.circle(out, middle, reach, (38, 36, 40), wide, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _dial(aside: float, above: float, radius: float) -> Change:
    """A white dial with a dark rim and hands."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = pixels.copy()
        middle = tuple(round(one) for one in beside_feet(body, aside, above))
        reach = round(radius * body.leg_px)
        cv2.circle(out, middle, reach, (235, 233, 228), -1, cv2.LINE_AA)
        cv2.circle(out, middle, reach, (50, 48, 46), max(reach // 9, 2), cv2.LINE_AA)
        for way in ((0.5, -0.3), (-0.1, -0.7)):
            end = tuple(round(m + reach * w) for m, w in zip(middle, way, strict=True))
            cv2.line(out, middle, end, (40, 40, 40), 3, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _ring_points(aside: float, above: float, radius: float, *, code: str = "47-406") -> Asks:
    def asked(_: Photo, body: Body) -> ReferenceRequest:
        angles = np.linspace(0, 2 * np.pi, 10, endpoint=False)
        rim = np.array(beside_feet(body, aside, above)) + radius * body.leg_px * np.stack(
            [np.cos(angles), np.sin(angles)], axis=1
        )
        return wheel_request(code, rim)

    return asked


def _ring_clicked(name: str, base: str, *ring: float, thick: float) -> LookAlike:
    """A ring that somebody clicks as a wheel."""
    return LookAlike(name, base, _ring(*ring, thick=thick), request=_ring_points(*ring))


WHEELS: Final[tuple[LookAlike, ...]] = (
    LookAlike(
        "balance bicycle’s wheel as 20-inch",
        "sheet_2",
        _small_wheel,
        request=lambda _photo, _body: wheel_request("47-406", _rim_px("sheet_2", _SMALL_MM)),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "wheel clicked within its tyre",
        "wheel_1",
        as_it_is,
        request=_within_the_tyre,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "toy hoop as a wheel",
        "flat_2",
        _hoop,
        request=lambda _photo, _body: wheel_request("47-406", _rim_px("flat_2", _HOOP_MM)),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "clock as a wheel",
        "flat_6",
        _clock,
        request=lambda _photo, _body: wheel_request("47-305", _rim_px("flat_6", _CLOCK_MM)),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "hoop as wheel",
        "flat_2",
        _ring(0.75, 0.42, 0.50, thick=0.08),
        request=said(wheel_request("47-406")),
    ),
    LookAlike(
        "small hoop as wheel",
        "flat_5",
        _ring(0.65, 0.12, 0.20, thick=0.16),
        request=said(wheel_request("47-406")),
    ),
    LookAlike(
        "large hoop as wheel",
        "flat_8",
        _ring(-0.75, 0.40, 0.50),
        request=said(wheel_request("47-305")),
    ),
    LookAlike(
        "clock as wheel",
        "flat_1",
        _dial(0.7, 1.4, 0.25),
        request=_ring_points(0.7, 1.4, 0.25, code="47-203"),
    ),
    _ring_clicked("plate as wheel", "flat_4", -0.6, 0.8, 0.2, thick=1.0),
    LookAlike("bare wall as wheel", "flat_6", as_it_is, request=_ring_points(0.7, 0.3, 0.35)),
    _ring_clicked("ball as wheel", "flat_7", 0.7, 0.2, 0.28, thick=1.0),
    _ring_clicked("hoop clicked as wheel", "flat_2", 0.75, 0.42, 0.50, thick=0.08),
    _ring_clicked("smaller hoop clicked as wheel", "flat_6", 0.65, 0.25, 0.33, thick=0.08),
    _ring_clicked("plate on the floor as wheel", "flat_5", 0.6, 0.2, 0.30, thick=1.0),
)
