"""Doors that are no room doors, are not whole, or were clicked elsewhere than at their corners.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.drawing import (
    blank,
    in_quad,
    paint,
    sheet_points_px,
)
from calibration.doubtful.look_alikes.look_alike import (
    Box,
    Change,
    LookAlike,
    as_it_is,
    box_beside,
    corners_said,
    said,
    soft,
)
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["DOORS"]

_Pixels = NDArray[np.uint8]
_DOOR_MM: Final = 2032.0
#: Corners of the cupboard's door, about 1.5 m high, in the picture of 720 x 960 pixels.
_CUPBOARD_PX: Final = np.array([[549.0, 112], [694, 107], [690, 690], [551, 684]])
#: So much of the picture's height is cut off above.
_CUT: Final = 0.235
#: Where the skirting ends at the door's frame, in the sample's picture at its size here.
_SKIRTING_PX: Final = ((479.0, 941.0), (156.5, 924.0))


def _cupboard(pixels: _Pixels, child: Body) -> _Pixels:
    """A broom cupboard beside the child."""
    body = blank(480, 1560, (206, 200, 188))
    cv2.rectangle(body, (22, 40), (458, 1516), (60, 56, 50, 255), 5)
    leaf = blank(430, 1470, (216, 211, 200))
    cv2.rectangle(leaf, (52, 60), (378, 1410), (186, 180, 168, 255), 6)
    cv2.rectangle(leaf, (58, 66), (384, 1416), (230, 226, 216, 255), 3)
    cv2.circle(leaf, (32, 760), 15, (120, 108, 92, 255), cv2.FILLED, cv2.LINE_AA)
    around = np.array([[-9.0, -17], [9, -17], [9, 18], [-9, 18]])
    whole = _CUPBOARD_PX + around
    out = paint(pixels, body, in_quad(body, whole), child=child, shadow=0.4)
    return paint(out, leaf, in_quad(leaf, _CUPBOARD_PX), child=child, shadow=0.0)


def _cut_above(pixels: _Pixels, _: Body) -> _Pixels:
    """The picture without its upper part, in which the door ends."""
    return pixels[round(_CUT * pixels.shape[0]) :]


def _half_a_door(photo: Photo, _: Body) -> ReferenceRequest:
    """The lower corners, and where the picture's upper border cuts the door's sides."""
    cut_px = round(_CUT * photo.height_px)
    corners = sheet_points_px("door_2") - [0.0, cut_px]
    seen = 12.0
    for top, bottom in ((0, 3), (1, 2)):
        part = (seen - corners[top, 1]) / (corners[bottom, 1] - corners[top, 1])
        corners[top] += part * (corners[bottom] - corners[top])
    return ReferenceRequest("door", size_mm=_DOOR_MM, points_px=corners.tolist())


def _skirting(_photo: Photo, _: Body) -> ReferenceRequest:
    """The upper corners, and below the corners of the skirting at either side."""
    upper = sheet_points_px("door_1")[:2].tolist()
    return ReferenceRequest("door", size_mm=_DOOR_MM, points_px=(*map(tuple, upper), *_SKIRTING_PX))


def _panel(
    box: Box,
    rgb: tuple[int, int, int],
    *,
    across: int = 1,
    down: int = 1,
) -> Change:
    """A flat front of this colour with dark joints between its parts: a cupboard, a window."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        corners = np.round(box_beside(body, box)).astype(int)
        (left, top), (right, bottom) = corners[0], corners[2]
        out = pixels.copy()
        cv2.rectangle(out, corners[0].tolist(), corners[2].tolist(), rgb, -1)
        edge = tuple(round(0.55 * one) for one in rgb)
        for x in np.linspace(left, right, across + 1).astype(int).tolist():
            cv2.line(out, (x, int(top)), (x, int(bottom)), edge, 3, cv2.LINE_AA)
        for y in np.linspace(top, bottom, down + 1).astype(int).tolist():
            cv2.line(out, (int(left), y), (int(right), y), edge, 3, cv2.LINE_AA)
        return soft(pixels, out)

    return change


#: Fronts beside the child: left, right, top and bottom, legs from its ankles.
_WINDOW: Final = (0.55, 1.15, 1.9, 0.95)
_FRIDGE: Final = (0.45, 1.05, 1.95, 0.08)
_WARDROBE: Final = (0.40, 1.60, 2.3, 0.08)
_TALL_FRIDGE: Final = (0.75, 1.65, 2.75, 0.10)
_CUPBOARD: Final = (0.70, 1.60, 1.35, 0.10)
_TWO_DOORS: Final = (0.65, 2.35, 2.9, 0.10)


DOORS: Final[tuple[LookAlike, ...]] = (
    LookAlike(
        "cupboard door as a room door",
        "flat_1",
        _cupboard,
        request=said(ReferenceRequest("door", size_mm=_DOOR_MM, points_px=_CUPBOARD_PX.tolist())),
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "door cut by the border",
        "door_2",
        _cut_above,
        request=_half_a_door,
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "skirting corners for the door’s",
        "door_1",
        as_it_is,
        request=_skirting,
        score_set="second trial",
        may_say="number with a word",
    ),
    LookAlike(
        "window as door",
        "flat_2",
        _panel(_WINDOW, (225, 232, 238), across=2, down=2),
        request=corners_said(_WINDOW, "door", 2032.0),
    ),
    LookAlike(
        "window as door 2",
        "flat_8",
        _panel(_WINDOW, (215, 222, 228)),
        request=corners_said(_WINDOW, "door", 1981.0),
    ),
    LookAlike(
        "fridge as door",
        "flat_5",
        _panel(_FRIDGE, (226, 227, 229), down=2),
        request=corners_said(_FRIDGE, "door", 2032.0),
    ),
    LookAlike(
        "wardrobe as door",
        "flat_1",
        _panel(_WARDROBE, (150, 110, 70), across=2),
        request=corners_said(_WARDROBE, "door", 2032.0),
    ),
    *(
        LookAlike(
            f"{name} {number}",
            f"flat_{number}",
            _panel(box, (205, 206, 210), across=across, down=down),
            request=corners_said(box, "door", 2032.0),
        )
        for name, box, across, down, numbers in (
            ("tall fridge as door", _TALL_FRIDGE, 1, 2, (2, 7)),
            ("cupboard as door", _CUPBOARD, 2, 1, (2, 5)),
            ("pair of doors as door", _TWO_DOORS, 2, 1, (2,)),
        )
        for number in numbers
    ),
    LookAlike(
        "bare wall as door",
        "flat_6",
        as_it_is,
        request=corners_said((0.5, 1.3, 2.2, 0.1), "door", 2032.0),
    ),
)
