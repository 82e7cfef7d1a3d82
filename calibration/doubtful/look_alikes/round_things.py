"""Round things that are no bicycle wheel, and wheels that stand or lie where none should."""

from collections.abc import Callable
from typing import Final

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.doubtful.look_alikes.depth import placed_card, seen_px
from calibration.doubtful.look_alikes.drawing import bare_wall, paint
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike
from calibration.observe import wheel_request
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["ROUND_THINGS"]

_Pixels = NDArray[np.uint8]
_SIDE: Final = 700
_MIDDLE: Final = (_SIDE // 2, _SIDE // 2)
_Axes = tuple[tuple[float, float, float], tuple[float, float, float]]
#: Right and down of a wheel that stands parallel to the wall.
_UPRIGHT: Final[_Axes] = ((1, 0, 0), (0, 1, 0))
#: Turned by the handlebars, and lying.
_STEERED: Final[_Axes] = ((np.cos(0.7), 0, np.sin(0.7)), (0, 1, 0))
_LYING: Final[_Axes] = ((1, 0, 0), (0, 0, -1))


def _disc(texture: _Pixels, part: float, rgb: tuple[int, int, int], wide: float = 0) -> None:
    radius = round(part * _SIDE / 2)
    thick = max(round(wide * _SIDE / 2), 1) if wide else cv2.FILLED
    cv2.circle(texture, _MIDDLE, radius, (*rgb, 255), thick, cv2.LINE_AA)


def _tip(part: float, angle: float) -> tuple[int, int]:
    x, y = np.array(_MIDDLE) + part * _SIDE / 2 * np.array([np.cos(angle), np.sin(angle)])
    return round(float(x)), round(float(y))


def _bicycle_wheel(rim_rgb: tuple[int, int, int] = (168, 170, 174)) -> _Pixels:
    """Tyre, rim, spokes and hub; the wall is seen between the spokes."""
    wheel = np.zeros((_SIDE, _SIDE, 4), np.uint8)
    for number in range(28):
        angle = number * 2 * np.pi / 28
        hub = _tip(0.05, angle + (1.4 if number % 2 else -1.4))
        cv2.line(wheel, hub, _tip(0.84, angle), (150, 150, 152, 255), 3, cv2.LINE_AA)
    _disc(wheel, 0.83, rim_rgb, 0.045)
    _disc(wheel, 0.925, (36, 36, 38), 0.145)
    _disc(wheel, 0.945, (58, 58, 60), 0.02)
    _disc(wheel, 0.06, (120, 120, 124))
    return wheel


def _car_wheel() -> _Pixels:
    """A wide tyre on an alloy rim with five broad spokes."""
    wheel = np.zeros((_SIDE, _SIDE, 4), np.uint8)
    _disc(wheel, 0.99, (34, 34, 36))
    _disc(wheel, 0.93, (48, 48, 50), 0.02)
    _disc(wheel, 0.66, (172, 174, 178))
    _disc(wheel, 0.60, (30, 30, 32))
    for number in range(5):
        angle = number * 2 * np.pi / 5 - np.pi / 2
        ends = [_tip(0.12, angle - 0.9), _tip(0.62, angle - 0.15)]
        ends += [_tip(0.62, angle + 0.15), _tip(0.12, angle + 0.9)]
        cv2.fillConvexPoly(wheel, np.array(ends, np.int32), (176, 178, 182, 255), cv2.LINE_AA)
    _disc(wheel, 0.17, (150, 152, 156))
    for number in range(5):
        at = _tip(0.11, number * 2 * np.pi / 5)
        cv2.circle(wheel, at, 8, (60, 60, 62, 255), cv2.FILLED, cv2.LINE_AA)
    return wheel


def _umbrella() -> _Pixels:
    """An open umbrella seen from its top: eight panels in two colours."""
    top = np.zeros((_SIDE, _SIDE, 4), np.uint8)
    for number in range(8):
        first, last = (number * np.pi / 4 + 0.2, (number + 1) * np.pi / 4 + 0.2)
        bow = [
            _tip(0.99 - 0.05 * np.sin(np.pi * k / 12), first + k * (last - first) / 12)
            for k in range(13)
        ]
        rgb = (38, 92, 150) if number % 2 else (226, 220, 206)
        light = 0.86 + 0.16 * np.cos(first + 2.2)
        shade = tuple(round(light * one) for one in rgb)
        panel = np.array([_MIDDLE, *bow], np.int32)
        cv2.fillPoly(top, [panel], (*shade, 255), cv2.LINE_AA)
    for number in range(8):
        cv2.line(
            top, _MIDDLE, _tip(0.99, number * np.pi / 4 + 0.2), (70, 70, 74, 255), 2, cv2.LINE_AA
        )
    _disc(top, 0.03, (60, 60, 62))
    return top


def _spread(middle_mm: ArrayLike, radius_mm: float, axes: _Axes) -> NDArray[np.float64]:
    """(4, 3) corners of the square round a circle in space."""
    right, down = radius_mm * np.array(axes, float)
    middle = np.asarray(middle_mm, float)
    return np.stack(
        [middle - right - down, middle + right - down, middle + right + down, middle - right + down]
    )


def _rim_px(base: str, middle_mm: ArrayLike, radius_mm: float, axes: _Axes) -> NDArray[np.float64]:
    """(10, 2) places on a circle in space."""
    angles = np.linspace(0.1, 2 * np.pi + 0.1, 10, endpoint=False)[:, None]
    right, down = radius_mm * np.array(axes, float)
    return seen_px(
        base, np.asarray(middle_mm, float) + np.cos(angles) * right + np.sin(angles) * down
    )


def _standing(
    base: str,
    texture: _Pixels,
    middle_mm: tuple[float, float, float],
    radius_mm: float,
    axes: _Axes = _UPRIGHT,
    *,
    from_mm: tuple[float, float] = (0.0, -450.0),
    before: bool = False,
) -> Change:
    """The thing in the room without a sheet; ``before`` the child where it hides part of it."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = bare_wall(pixels, base, body, from_mm=from_mm)
        placed = placed_card(base, texture, _spread(middle_mm, radius_mm, axes))
        return paint(out, texture, placed, child=None if before else body, shadow=0.4)

    return change


def _rim(
    base: str,
    middle_mm: tuple[float, float, float],
    radius_mm: float,
    code: str,
    axes: _Axes = _UPRIGHT,
) -> Callable[[Photo, Body], ReferenceRequest]:
    return lambda _photo, _body: wheel_request(code, _rim_px(base, middle_mm, radius_mm, axes))


_UMBRELLA: Final = ((-80.0, 40.0, -60.0), 340.0)
_CAR: Final = ((60.0, 400.0, -110.0), 316.0)
_NEAR: Final = ((-60.0, 150.0, -700.0), 254.0)
_TURNED: Final = ((-110.0, 400.0, -280.0), 254.0)
_FLAT: Final = ((170.0, 850.0, -480.0), 254.0)

ROUND_THINGS: Final[tuple[LookAlike, ...]] = (
    LookAlike(
        "open umbrella as a wheel",
        "flat_3",
        _standing("flat_3", _umbrella(), *_UMBRELLA),
        request=_rim("flat_3", *_UMBRELLA, "50-559"),
        may_say="no number",
    ),
    LookAlike(
        "car wheel as a 20-inch wheel",
        "flat_6",
        _standing("flat_6", _car_wheel(), *_CAR),
        request=_rim("flat_6", *_CAR, "47-406"),
        may_say="no number",
    ),
    LookAlike(
        "wheel far before the child",
        "flat_5",
        _standing("flat_5", _bicycle_wheel(), *_NEAR, before=True),
        request=_rim("flat_5", *_NEAR, "47-406"),
        may_say="no number",
    ),
    LookAlike(
        "wheel turned by the handlebars",
        "flat_7",
        _standing("flat_7", _bicycle_wheel((60, 62, 66)), *_TURNED, _STEERED),
        request=_rim("flat_7", *_TURNED, "47-406", _STEERED),
        may_say="number with a word",
    ),
    LookAlike(
        "wheel lying on the floor",
        "flat_8",
        _standing("flat_8", _bicycle_wheel(), *_FLAT, _LYING, from_mm=(0.0, -360.0), before=True),
        request=_rim("flat_8", *_FLAT, "47-406", _LYING),
        may_say="no number",
    ),
)
