"""Papers, doors and sticks that are not in the wall’s plane."""

from collections.abc import Callable
from typing import Final

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.doubtful.look_alikes.depth import card_quad, placed_card, seen_px
from calibration.doubtful.look_alikes.drawing import (
    bare_wall,
    blank,
    in_quad,
    paint,
    sheet_points_px,
)
from calibration.doubtful.look_alikes.look_alike import LookAlike, said
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.reference import ReferenceKind
from pose_fit.reference.request import ReferenceRequest

__all__ = ["OTHER_PLANES"]

_Pixels = NDArray[np.uint8]
_LETTER_MM: Final = (215.9, 279.4)
_A4_MM: Final = (210.0, 297.0)
_WHITE: Final = (231, 229, 224)
#: The page on the easel, the page that leans, and the one beyond the doorway.
_EASEL: Final = card_quad((45.0, 20.0, -650.0), _LETTER_MM, yaw_deg=4)
_LEANS: Final = card_quad((-40.0, 566.0, -96.0), _A4_MM, pitch_deg=38, yaw_deg=3)
_BEYOND: Final = card_quad((-840.0, -190.0, 1500.0), _A4_MM)
#: A broom from the floor to the wall, and a tape between two nails with its sag.
_BROOM: Final = np.array([[70.0, 590, -520], [-20.0, -560, -20]])
_TAPE: Final = np.array([[-60.0, -330, -4], [40.0, 560, -4]])


def _line(
    pixels: _Pixels,
    places_px: ArrayLike,
    wide_px: float,
    rgb: tuple[int, int, int],
    body: Body | None,
) -> _Pixels:
    """A stick or a band along these places."""
    drawn = np.zeros((*pixels.shape[:2], 4), np.uint8)
    drawn[..., :3] = rgb
    opacity = np.zeros(pixels.shape[:2], np.uint8)
    fixed = np.round(np.asarray(places_px) * 16).astype(np.int32)
    cv2.polylines(opacity, [fixed], False, (255,), max(round(wide_px), 1), cv2.LINE_AA, 4)
    drawn[..., 3] = opacity
    return paint(pixels, drawn, np.eye(3), child=body, shadow=0.3)


def _easel(pixels: _Pixels, body: Body) -> _Pixels:
    """A page clipped to an easel well before the wall."""
    out = bare_wall(pixels, "flat_3", body)
    top = np.array([45.0, -330, -640])
    for foot in ((-155.0, 480, -700), (245.0, 480, -700), (55.0, 470, -280)):
        out = _line(out, seen_px("flat_3", np.array([top, foot])), 6, (134, 98, 62), body)
    out = _line(
        out, seen_px("flat_3", [(-105.0, 172, -668), (195.0, 172, -668)]), 7, (120, 86, 54), body
    )
    page = blank(432, 559, _WHITE)
    return paint(out, page, placed_card("flat_3", page, _EASEL), child=body, shadow=0.15)


def _leaning(pixels: _Pixels, body: Body) -> _Pixels:
    """A page that stands on the floor and leans on the wall."""
    out = bare_wall(pixels, "flat_4", body)
    page = blank(420, 594, _WHITE)
    page[..., :3] = page[..., :3] * np.linspace(0.98, 1.02, 594)[:, None, None]
    return paint(out, page, placed_card("flat_4", page, _LEANS), child=body, shadow=0.45)


def _doorway(pixels: _Pixels, body: Body) -> _Pixels:
    """An open doorway in the wall, and the page on the wall of the room beyond."""
    base, left, right, top = "flat_1", -390.0, 190.0, -900.0
    out = bare_wall(pixels, base, body)
    room = blank(580, 1400, (150, 148, 142))
    floor = 470.0
    # The far wall ends above the near threshold; below it is the floor of the other room.
    far = seen_px(base, [[left, floor, 1500], [right, floor, 1500]])[:, 1].mean()
    near = seen_px(base, [[left, floor, 0], [right, floor, 0]])[:, 1].mean()
    upper = seen_px(base, [[left, top, 0], [right, top, 0]])[:, 1].mean()
    row = round(1400 * float((far - upper) / (near - upper)))
    room[:row, :, :3] = np.array([186, 182, 172]) * np.linspace(0.86, 1.0, row)[:, None, None]
    room[row:, :, :3] = np.array([112, 88, 66]) * np.linspace(0.8, 1.0, 1400 - row)[:, None, None]
    corners = [[left, top, 0], [right, top, 0], [right, floor, 0], [left, floor, 0]]
    frame = blank(700, 1460, (214, 210, 202))
    wider = np.array([[-62, -62, 0], [62, -62, 0], [62, 0, 0], [-62, 0, 0]])
    around = np.array(corners) + wider
    out = paint(out, frame, placed_card(base, frame, around), child=body, shadow=0.25)
    out = paint(out, room, placed_card(base, room, corners), child=body, shadow=0.0)
    page = blank(420, 594, _WHITE)
    return paint(out, page, placed_card(base, page, _BEYOND), child=body, shadow=0.2)


def _chest_px(body: Body) -> NDArray[np.float64]:
    """(4, 2) corners of a page of A4 that hangs before the chest; the child is 1.12 m tall."""
    leg, x = body.leg_px, float(body.hips_px[0])
    top = float(body.point_px("left_shoulder")[1]) + 0.17 * leg
    wide, tall = 0.425 * leg, 0.60 * leg
    return np.array(
        [
            [x - wide / 2, top],
            [x + wide / 2, top + 2],
            [x + wide / 2 + 1, top + tall],
            [x - wide / 2, top + tall - 2],
        ]
    )


def _round_the_neck(pixels: _Pixels, body: Body) -> _Pixels:
    """The page hangs on a string round the child’s neck."""
    out = bare_wall(pixels, "a4_1", body)
    corners = _chest_px(body)
    neck = body.points_px(("left_shoulder", "right_shoulder")).mean(axis=0) - [
        0,
        0.10 * body.leg_px,
    ]
    for sign, corner in ((-1, corners[0]), (1, corners[1])):
        start = neck + np.array([sign * 0.11 * body.leg_px, 0])
        out = _line(
            out, np.array([start, corner + np.array([-sign * 14.0, 3])]), 2, (58, 60, 72), None
        )
    page = blank(420, 594, _WHITE)
    bend = 1 - 0.05 * np.linspace(-1, 1, 420) ** 2
    page[..., :3] = page[..., :3] * bend[None, :, None]
    return paint(out, page, in_quad(page, corners), shadow=0.4)


def _ajar_px(base: str, angle_deg: float) -> NDArray[np.float64]:
    """(4, 2) corners of the leaf opened into the room about its left side.

    In the middle of its own plane the leaf is as wide as it is; the camera stands about 2.6 m
    from the wall.
    """
    corners = sheet_points_px(base)
    turn = np.radians(angle_deg)
    hinge, free = corners[[0, 3]], corners[[1, 2]]
    away_mm, wide_mm = 2600.0, 800.0
    nearer = away_mm / (away_mm - wide_mm * np.sin(turn))
    centre = np.array([450.0, 600.0])
    flat = hinge + np.cos(turn) * (free - hinge)
    moved = centre + nearer * (flat - centre)
    return np.array([hinge[0], moved[0], moved[1], hinge[1]])


def _ajar(pixels: _Pixels, body: Body) -> _Pixels:
    """The door of the sample stands open; a dark room is behind it."""
    corners = sheet_points_px("door_2")
    texels = np.array([[0, 0], [400, 0], [400, 1000], [0, 1000]], np.float32)
    flatten = cv2.getPerspectiveTransform(corners.astype(np.float32), texels)
    leaf = np.asarray(cv2.warpPerspective(pixels, flatten, (400, 1000)), np.uint8)
    dark = blank(400, 1000, (40, 42, 44))
    dark[:860, :, :3] = np.array([64, 66, 66]) * np.linspace(0.7, 1.0, 860)[:, None, None]
    out = paint(pixels, dark, in_quad(dark, corners), child=body, shadow=0.0, lit=False)
    shade = np.linspace(0.94, 0.80, 400)[None, :, None]
    turned = np.dstack([np.clip(leaf * shade, 0, 255), np.full((1000, 400), 255)]).astype(np.uint8)
    placed = in_quad(turned, _ajar_px("door_2", 38))
    return paint(out, turned, placed, child=body, shadow=0.4, lit=False)


def _broom(pixels: _Pixels, body: Body) -> _Pixels:
    """A broom that leans on the wall, its brush on the floor well before it."""
    out = bare_wall(pixels, "flat_7", body)
    out = _line(out, seen_px("flat_7", _BROOM), 6, (176, 134, 84), body)
    foot = _BROOM[0]
    brush = seen_px("flat_7", foot + np.array([[-110, 10, 0], [110, 10, 0]]))
    out = _line(out, brush, 16, (58, 60, 66), body)
    return _line(out, brush + np.array([0, 9]), 12, (96, 84, 60), body)


def _sagging_mm() -> NDArray[np.float64]:
    """(40, 3) a tape measure of one metre between two nails, loose."""
    along = np.linspace(0, 1, 40)[:, None]
    bow = np.sin(np.pi * along) * 190 + 46 * np.sin(3 * np.pi * along)
    line: NDArray[np.float64] = (1 - along) * _TAPE[0] + along * _TAPE[1]
    line[:, :1] += bow
    return line


def _tape(pixels: _Pixels, body: Body) -> _Pixels:
    """A soft tape measure that does not hang straight."""
    out = bare_wall(pixels, "flat_6", body)
    places = seen_px("flat_6", _sagging_mm())
    out = _line(out, places, 7, (232, 204, 74), body)
    for at in range(1, 39, 2):
        ticks = places[at] + np.array([[-2.0, 0], [2.0, 0]])
        cv2.polylines(out, [np.round(ticks).astype(np.int32)], False, (60, 54, 40), 1, cv2.LINE_AA)
    return out


def _clicked(
    kind: ReferenceKind, base: str, points_mm: ArrayLike, *, size_mm: float | None = None
) -> Callable[[Photo, Body], ReferenceRequest]:
    def asked(_photo: Photo, _: Body) -> ReferenceRequest:
        points = seen_px(base, points_mm).tolist()
        return ReferenceRequest(kind, size_mm=size_mm, points_px=points)

    return asked


def _ajar_door(_photo: Photo, _: Body) -> ReferenceRequest:
    points = _ajar_px("door_2", 38).tolist()
    return ReferenceRequest("door", size_mm=2032.0, points_px=points)


OTHER_PLANES: Final[tuple[LookAlike, ...]] = (
    LookAlike(
        "letter on an easel",
        "flat_3",
        _easel,
        request=_clicked("letter", "flat_3", _EASEL),
        may_say="no number",
    ),
    LookAlike(
        "a4 that leans on the skirting",
        "flat_4",
        _leaning,
        request=said(ReferenceRequest("a4")),
        may_say="number with a word",
    ),
    LookAlike(
        "a4 in the next room",
        "flat_1",
        _doorway,
        request=_clicked("a4", "flat_1", _BEYOND),
        may_say="no number",
    ),
    LookAlike("a4 round the child’s neck", "a4_1", _round_the_neck, may_say="number with a word"),
    LookAlike("door ajar", "door_2", _ajar, request=_ajar_door, may_say="no number"),
    LookAlike(
        "broom that leans on the wall",
        "flat_7",
        _broom,
        request=_clicked("length", "flat_7", _BROOM, size_mm=1257.0),
        may_say="number with a word",
    ),
    LookAlike(
        "tape measure that sags",
        "flat_6",
        _tape,
        request=_clicked("length", "flat_6", _TAPE, size_mm=1022.0),
        may_say="number with a word",
    ),
)
