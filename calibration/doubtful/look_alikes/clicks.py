"""The right object clicked in the wrong places, and heights that are not the child’s."""

import json
from collections.abc import Callable
from typing import Final

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.doubtful.cases import SAMPLES
from calibration.doubtful.look_alikes.drawing import paint, sheet_points_px
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, as_it_is
from calibration.observe import wheel_request
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["CLICKS", "on_rim"]

_Pixels = NDArray[np.uint8]
_Asks = Callable[[Photo, Body], ReferenceRequest]
#: What the samples say of their door, millimetres.
_DOOR_MM: Final = 2032.0
#: Where the door's two panels begin and end, in parts of the leaf's width and height.
_PANELS: Final = ((0.165, 0.085), (0.835, 0.085), (0.835, 0.905), (0.165, 0.905))
#: The frame's outer edges, likewise.
_FRAME: Final = ((-0.085, -0.033), (1.085, -0.033), (1.085, 1.0), (-0.085, 1.0))
#: The lower edge of a stable door's upper half, likewise.
_HALF: Final = 0.535


def _on_door(base: str, parts: ArrayLike) -> NDArray[np.float64]:
    """(N, 2) places on a door's leaf, in parts of its width and height."""
    unit = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)
    corners = sheet_points_px(base).astype(np.float32)
    placed = cv2.getPerspectiveTransform(unit, corners)
    places = np.asarray(parts, float).reshape(1, -1, 2)
    return np.asarray(cv2.perspectiveTransform(places, placed)[0], float)


def _door(base: str, parts: ArrayLike) -> _Asks:
    """A room door of the usual height with these places as its corners."""

    def asked(_photo: Photo, _: Body) -> ReferenceRequest:
        points = _on_door(base, parts).tolist()
        return ReferenceRequest("door", size_mm=_DOOR_MM, points_px=points)

    return asked


def _stable_door(pixels: _Pixels, body: Body) -> _Pixels:
    """The door cut in two across its middle."""
    texture = np.zeros((400, 200, 4), np.uint8)
    row = round(400 * _HALF)
    texture[row - 3 : row, :] = (38, 37, 36, 255)
    texture[row : row + 2, :] = (236, 234, 230, 255)
    for top in (row - 42, row + 18):
        texture[top : top + 24, 2:9] = (120, 112, 100, 255)
    corners = sheet_points_px("door_2").astype(np.float32)
    texels = np.array([[0, 0], [200, 0], [200, 400], [0, 400]], np.float32)
    placed = np.asarray(cv2.getPerspectiveTransform(texels, corners), float)
    return paint(pixels, texture, placed, child=body, shadow=0.0)


def _of_another_photo(_photo: Photo, _: Body) -> ReferenceRequest:
    points = sheet_points_px("letter_2") + np.array([-2.0, 4.0])
    return ReferenceRequest("letter", points_px=points.tolist())


def on_rim(base: str, angles_deg: ArrayLike) -> NDArray[np.float64]:
    """(N, 2) places on a sample's wheel at these angles, clockwise from its right."""
    outline = sheet_points_px(base).astype(np.float32)
    middle, (wide, tall), turn_deg = cv2.fitEllipse(outline)
    turn, at = (
        np.radians(turn_deg),
        np.radians(np.asarray(angles_deg, float)) - np.radians(turn_deg),
    )
    x, y = wide / 2 * np.cos(at), tall / 2 * np.sin(at)
    c, s = np.cos(turn), np.sin(turn)
    around = np.stack([c * x - s * y, s * x + c * y], axis=1)
    return np.asarray(np.asarray(middle) + around, float)


def _one_side(_photo: Photo, _: Body) -> ReferenceRequest:
    """Six points close together on the tyre’s left side."""
    loose = np.array([[1, 0], [-1, 1], [1, 1], [0, -1], [1, 0], [-1, 0]])
    return wheel_request("50-507", on_rim("wheel_2", np.linspace(150, 212, 6)) + loose)


def _stature_mm(base: str) -> float:
    return float(json.loads((SAMPLES / f"{base}.json").read_text("utf-8"))["stature_mm"])


def _party_hat(pixels: _Pixels, body: Body) -> _Pixels:
    """A tall paper hat on the child’s head."""
    hat = np.zeros((300, 200, 4), np.uint8)
    cone = np.array([[100, 6], [182, 282], [100, 296], [18, 282]], np.int32)
    cv2.fillConvexPoly(hat, cone, (205, 58, 92, 255), cv2.LINE_AA)
    for row, column in ((90, 102), (150, 82), (160, 124), (220, 62), (225, 104), (232, 148)):
        cv2.circle(hat, (column, row), 12, (246, 214, 92, 255), cv2.FILLED, cv2.LINE_AA)
    shade = np.interp(np.arange(200), [20, 80, 180], [0.72, 1.08, 0.62])[None, :, None]
    hat[..., :3] = np.clip(hat[..., :3] * shade, 0, 255).astype(np.uint8)
    cv2.circle(hat, (100, 14), 13, (240, 238, 232, 255), cv2.FILLED, cv2.LINE_AA)
    leg, (x, y) = body.leg_px, body.point_px("nose")
    low, wide = y - 0.185 * leg, 0.155 * leg
    corners = np.array(
        [
            [x - wide, low - 0.52 * leg],
            [x + wide, low - 0.52 * leg],
            [x + wide, low],
            [x - wide, low],
        ]
    )
    texels = np.array([[0, 0], [200, 0], [200, 300], [0, 300]], np.float32)
    placed = cv2.getPerspectiveTransform(texels, corners.astype(np.float32))
    return paint(pixels, hat, np.asarray(placed, float), shadow=0.25)


def _height(base: str, more_mm: float = 0.0) -> _Asks:
    return lambda _photo, _body: ReferenceRequest("height", size_mm=_stature_mm(base) + more_mm)


_CROSSED: Final = ((0, 0), (1, 1), (1, 0), (0, 1))
_LOWER_HALF: Final = ((0, _HALF), (1, _HALF), (1, 1), (0, 1))
_Drawn = tuple[str, str, Change, _Asks]
_NO_NUMBER: Final[tuple[_Drawn, ...]] = (
    ("door clicked at its panels", "door_1", as_it_is, _door("door_1", _PANELS)),
    ("a stable door’s lower half", "door_2", _stable_door, _door("door_2", _LOWER_HALF)),
    ("points of another photo", "letter_1", as_it_is, _of_another_photo),
    ("a sibling’s height", "sheet_2", as_it_is, _height("sheet_2", -260.0)),
)
_WITH_A_WORD: Final[tuple[_Drawn, ...]] = (
    ("door clicked at its frame", "door_2", as_it_is, _door("door_2", _FRAME)),
    ("wheel points on one side only", "wheel_2", as_it_is, _one_side),
    ("height with a party hat on", "sheet_3", _party_hat, _height("sheet_3")),
)
CLICKS: Final[tuple[LookAlike, ...]] = (
    *(
        LookAlike(name, base, change, request=asked, may_say="no number")
        for name, base, change, asked in _NO_NUMBER
    ),
    *(
        LookAlike(name, base, change, request=asked, may_say="number with a word")
        for name, base, change, asked in _WITH_A_WORD
    ),
    LookAlike(
        "door corners in crossed order",
        "door_1",
        as_it_is,
        request=_door("door_1", _CROSSED),
        may_say="a right number",
    ),
)
