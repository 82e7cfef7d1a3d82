"""Look-alikes of all families, looked at while the rules were drawn up anew.

Of the object: papers of all usual sizes, round things and tall things that are no wheel and no
door, points where nothing is. Of the person: a picture of somebody, a doll, a child that leans,
stands on a board or behind something.
"""

from collections.abc import Callable
from typing import Final, Literal

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, as_it_is, soft
from calibration.doubtful.look_alikes.papers import plain_sheet
from calibration.observe import wheel_request
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["FAMILIES"]

_Pixels = NDArray[np.uint8]
_Asks = Callable[[Photo, Body], ReferenceRequest]


_Said = Literal["letter", "a4"]
#: Papers, what they are said to be, and the pictures in which they hang.
_PAPERS: Final[tuple[tuple[str, tuple[float, float], _Said, tuple[int, ...]], ...]] = (
    ("a3", (297, 420), "a4", (1, 4, 8)),
    ("a5", (148, 210), "a4", (3, 5, 7)),
    ("a6", (105, 148), "a4", (2, 6)),
    ("a5", (148, 210), "letter", (1, 6)),
    ("a3", (297, 420), "letter", (3, 7)),
    ("legal", (216, 356), "letter", (2,)),
    ("legal", (216, 356), "a4", (4, 7)),
    ("tabloid", (279, 432), "a4", (3,)),
    ("b5", (176, 250), "a4", (5, 8)),
)


def _at(body: Body, aside: float, above: float) -> tuple[float, float]:
    """A place beside the ankles, in legs."""
    x, y = body.ankles_px
    return float(x) + aside * body.leg_px, float(y) - above * body.leg_px


def _ring(aside: float, above: float, radius: float, *, thick: float = 0.1) -> Change:
    """A dark ring round a middle beside the child; as thick as its radius it is a disc."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = pixels.copy()
        middle = tuple(round(one) for one in _at(body, aside, above))
        wide = max(round(thick * radius * body.leg_px), 2)
        reach = round(radius * body.leg_px) - wide // 2
        cv2.circle(out, middle, reach, (38, 36, 40), wide, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _clock(aside: float, above: float, radius: float) -> Change:
    """A white dial with a dark rim and hands."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = pixels.copy()
        middle = tuple(round(one) for one in _at(body, aside, above))
        reach = round(radius * body.leg_px)
        cv2.circle(out, middle, reach, (235, 233, 228), -1, cv2.LINE_AA)
        cv2.circle(out, middle, reach, (50, 48, 46), max(reach // 9, 2), cv2.LINE_AA)
        for way in ((0.5, -0.3), (-0.1, -0.7)):
            end = tuple(round(m + reach * w) for m, w in zip(middle, way, strict=True))
            cv2.line(out, middle, end, (40, 40, 40), 3, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _ring_points(aside: float, above: float, radius: float, *, code: str = "47-406") -> _Asks:
    def asked(_: Photo, body: Body) -> ReferenceRequest:
        angles = np.linspace(0, 2 * np.pi, 10, endpoint=False)
        rim = np.array(_at(body, aside, above)) + radius * body.leg_px * np.stack(
            [np.cos(angles), np.sin(angles)], axis=1
        )
        return wheel_request(code, rim)

    return asked


def _found_wheel(code: str) -> _Asks:
    return lambda _photo, _body: wheel_request(code)


def _box(body: Body, box: tuple[float, float, float, float]) -> NDArray[np.float64]:
    """(4, 2) corners of a box: left and right beside the ankles, top and bottom above, in legs."""
    left, right, top, bottom = box
    places = ((left, top), (right, top), (right, bottom), (left, bottom))
    return np.array([_at(body, *place) for place in places])


def _panel(
    box: tuple[float, float, float, float],
    rgb: tuple[int, int, int],
    *,
    across: int = 1,
    down: int = 1,
) -> Change:
    """A flat front of this colour with dark joints between its parts: a cupboard, a window."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        corners = np.round(_box(body, box)).astype(int)
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


def _quad(box: tuple[float, float, float, float], kind: str, size_mm: float | None = None) -> _Asks:
    def asked(photo: Photo, body: Body) -> ReferenceRequest:
        limits = [photo.width_px - 12.0, photo.height_px - 12.0]
        corners = np.clip(_box(body, box), 12.0, limits)
        return ReferenceRequest(kind, size_mm=size_mm, points_px=corners.tolist())  # type: ignore[arg-type]

    return asked


def _length(place: tuple[float, float, float], size_mm: float) -> _Asks:
    """Two ends over each other beside the child where nothing is."""

    def asked(_: Photo, body: Body) -> ReferenceRequest:
        aside, top, bottom = place
        ends = [_at(body, aside, top), _at(body, aside, bottom)]
        return ReferenceRequest("length", size_mm=size_mm, placement="wall", points_px=tuple(ends))

    return asked


def _cut_out(pixels: _Pixels) -> tuple[_Pixels, NDArray[np.float32]]:
    """The room without the child, and (H, W, 1) how much of each pixel is the child."""
    from pose_fit.body.mediapipe_mask import people_mask

    found = np.asarray(people_mask().find(pixels), np.float32)
    share = np.asarray(cv2.GaussianBlur(found, (0, 0), 1.5), np.float32)
    taken = cv2.dilate((share > 0.2).astype(np.uint8), np.ones((25, 25), np.uint8))
    small = cv2.resize(pixels, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)
    hole = cv2.resize(taken, small.shape[1::-1], interpolation=cv2.INTER_NEAREST)
    filled = cv2.resize(cv2.inpaint(small, hole, 5, cv2.INPAINT_TELEA), pixels.shape[1::-1])
    room = np.where(taken[..., None] > 0, filled, pixels).astype(np.uint8)
    return room, share[..., None]


def _moved_child(
    *, turn_deg: float = 0.0, size: float = 1.0, aside: float = 0.0, up: float = 0.0
) -> Change:
    """The child alone turned and made smaller about its feet, and moved, in legs."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        room, share = _cut_out(pixels)
        x, y = (float(one) for one in body.ankles_px)
        to = np.array(cv2.getRotationMatrix2D((x, y), turn_deg, size), float)
        to[:, 2] += np.array([aside, -up]) * body.leg_px
        shape = pixels.shape[1::-1]
        child, cover = (cv2.warpAffine(one, to, shape) for one in (pixels, share))
        return np.clip(child * cover[..., None] + room * (1 - cover[..., None]), 0, 255).astype(
            np.uint8
        )

    return change


def _picture_of(size: float, up: float) -> Change:
    """A framed picture of the child hangs where the child stood."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        room, _ = _cut_out(pixels)
        leg, (x, y) = body.leg_px, body.ankles_px
        top = max(int(body.point_px("nose")[1] - 0.45 * leg), 0)
        part = pixels[top : int(y + 0.2 * leg), int(x - 0.7 * leg) : int(x + 0.7 * leg)]
        seen = cv2.resize(part, None, fx=size, fy=size, interpolation=cv2.INTER_AREA)
        seen = cv2.copyMakeBorder(seen, 8, 8, 8, 8, cv2.BORDER_CONSTANT, value=(40, 30, 25))
        left, low = round(float(x) - seen.shape[1] / 2), round(float(y) - up * leg)
        room[low - seen.shape[0] : low, left : left + seen.shape[1]] = seen
        return room

    return change


def _on_board(up: float, wide: float, rgb: tuple[int, int, int]) -> Change:
    """The child lifted onto a board, box or toy that is drawn below its feet."""
    lifted = _moved_child(up=up)

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        out = lifted(pixels, body)
        x, y = _at(body, 0.0, up)
        leg = body.leg_px
        toes = float(body.points_px(("left_toe", "right_toe"))[:, 1].max()) - float(
            body.ankles_px[1]
        )
        low, high = round(y + toes + 0.01 * leg), round(y + toes + (0.01 + up) * leg)
        out[low:high, round(x - wide * leg) : round(x + wide * leg)] = rgb
        return soft(pixels, out)

    return change


def _another(
    other: str, aside: float, size: float, *, behind: bool = False, from_hips: bool = False
) -> Change:
    """Another child, cut out of another picture, so far beside this one, in legs."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        from pose_fit.body.mediapipe_pose import pose_model

        photo = base_of(other)[0]
        them = pose_model().find(photo)
        assert them is not None
        _, share = _cut_out(photo.pixels)
        if from_hips:
            share[: round(float(them.hips_px[1]))] = 0
        factor = size * body.leg_px / them.leg_px
        place = body.ankles_px + np.array([aside * body.leg_px, 0.0]) - factor * them.ankles_px
        to = np.array([[factor, 0.0, place[0]], [0.0, factor, place[1]]])
        shape = pixels.shape[1::-1]
        child, cover = (cv2.warpAffine(one, to, shape) for one in (photo.pixels, share))
        cover = cover[..., None]
        if behind:
            cover = cover * (1 - _cut_out(pixels)[1])
        return np.clip(child * cover + pixels * (1 - cover), 0, 255).astype(np.uint8)

    return change


def _before_feet(top: float, bottom: float, rgb: tuple[int, int, int]) -> Change:
    """Something that stands before feet or knees."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        corners = np.round(_box(body, (-0.5, 0.5, top, bottom))).astype(int)
        out = pixels.copy()
        cv2.rectangle(out, corners[0].tolist(), corners[2].tolist(), rgb, -1)
        return soft(pixels, out)

    return change


_WINDOW: Final = (0.55, 1.15, 1.9, 0.95)
_FRIDGE: Final = (0.45, 1.05, 1.95, 0.08)
_WARDROBE: Final = (0.40, 1.60, 2.3, 0.08)
_TALL_FRIDGE: Final = (0.75, 1.65, 2.75, 0.10)
_CUPBOARD: Final = (0.70, 1.60, 1.35, 0.10)
_TWO_DOORS: Final = (0.65, 2.35, 2.9, 0.10)

FAMILIES: Final[tuple[LookAlike, ...]] = (
    *(
        LookAlike(
            f"{name} as {said} {number}", f"flat_{number}", plain_sheet(f"flat_{number}", *mm), said
        )
        for name, mm, said, numbers in _PAPERS
        for number in numbers
    ),
    LookAlike(
        "hoop as wheel",
        "flat_2",
        _ring(0.75, 0.42, 0.50, thick=0.08),
        request=_found_wheel("47-406"),
    ),
    LookAlike(
        "small hoop as wheel",
        "flat_5",
        _ring(0.65, 0.12, 0.20, thick=0.16),
        request=_found_wheel("47-406"),
    ),
    LookAlike(
        "large hoop as wheel", "flat_8", _ring(-0.75, 0.40, 0.50), request=_found_wheel("47-305")
    ),
    LookAlike(
        "clock as wheel",
        "flat_1",
        _clock(0.7, 1.4, 0.25),
        request=_ring_points(0.7, 1.4, 0.25, code="47-203"),
    ),
    LookAlike(
        "plate as wheel",
        "flat_4",
        _ring(-0.6, 0.8, 0.2, thick=1.0),
        request=_ring_points(-0.6, 0.8, 0.2),
    ),
    LookAlike("bare wall as wheel", "flat_6", as_it_is, request=_ring_points(0.7, 0.3, 0.35)),
    LookAlike(
        "ball as wheel",
        "flat_7",
        _ring(0.7, 0.2, 0.28, thick=1.0),
        request=_ring_points(0.7, 0.2, 0.28),
    ),
    LookAlike(
        "hoop clicked as wheel",
        "flat_2",
        _ring(0.75, 0.42, 0.50, thick=0.08),
        request=_ring_points(0.75, 0.42, 0.50),
    ),
    LookAlike(
        "smaller hoop clicked as wheel",
        "flat_6",
        _ring(0.65, 0.25, 0.33, thick=0.08),
        request=_ring_points(0.65, 0.25, 0.33),
    ),
    LookAlike(
        "plate on the floor as wheel",
        "flat_5",
        _ring(0.6, 0.2, 0.30, thick=1.0),
        request=_ring_points(0.6, 0.2, 0.30),
    ),
    LookAlike(
        "window as door",
        "flat_2",
        _panel(_WINDOW, (225, 232, 238), across=2, down=2),
        request=_quad(_WINDOW, "door", 2032.0),
    ),
    LookAlike(
        "window as door 2",
        "flat_8",
        _panel(_WINDOW, (215, 222, 228)),
        request=_quad(_WINDOW, "door", 1981.0),
    ),
    LookAlike(
        "fridge as door",
        "flat_5",
        _panel(_FRIDGE, (226, 227, 229), down=2),
        request=_quad(_FRIDGE, "door", 2032.0),
    ),
    LookAlike(
        "wardrobe as door",
        "flat_1",
        _panel(_WARDROBE, (150, 110, 70), across=2),
        request=_quad(_WARDROBE, "door", 2032.0),
    ),
    *(
        LookAlike(
            f"{name} {number}",
            f"flat_{number}",
            _panel(box, (205, 206, 210), across=across, down=down),
            request=_quad(box, "door", 2032.0),
        )
        for name, box, across, down, numbers in (
            ("tall fridge as door", _TALL_FRIDGE, 1, 2, (2, 7)),
            ("cupboard as door", _CUPBOARD, 2, 1, (2, 5)),
            ("pair of doors as door", _TWO_DOORS, 2, 1, (2,)),
        )
        for number in numbers
    ),
    LookAlike(
        "bare wall as door", "flat_6", as_it_is, request=_quad((0.5, 1.3, 2.2, 0.1), "door", 2032.0)
    ),
    LookAlike(
        "bare wall as letter", "flat_3", as_it_is, request=_quad((-0.9, -0.6, 1.3, 0.9), "letter")
    ),
    LookAlike(
        "part of the wall as a4", "flat_7", as_it_is, request=_quad((0.5, 0.9, 1.9, 1.35), "a4")
    ),
    LookAlike("nothing as a length", "flat_4", as_it_is, request=_length((0.6, 1.5, 0.3), 500.0)),
    LookAlike(
        "nothing as a length 2", "flat_8", as_it_is, request=_length((-0.6, 1.0, 0.2), 1000.0)
    ),
    LookAlike("picture of a child", "flat_8", _picture_of(0.6, 0.3)),
    LookAlike("picture of a child, larger", "flat_5", _picture_of(0.8, 0.1)),
    LookAlike("doll", "flat_7", _moved_child(size=0.5)),
    LookAlike("statue", "flat_3", _moved_child(size=0.7)),
    LookAlike("giant", "flat_5", _moved_child(size=1.25)),
    LookAlike("leans to one side", "flat_2", _moved_child(turn_deg=12)),
    LookAlike("leans to the other side", "flat_6", _moved_child(turn_deg=-16)),
    LookAlike("leans a little", "flat_8", _moved_child(turn_deg=8)),
    LookAlike("upside down", "flat_4", _moved_child(turn_deg=180, up=-1.6)),
    LookAlike("on a board", "flat_5", _on_board(0.10, 0.6, (120, 40, 40))),
    LookAlike("on a small box", "flat_8", _on_board(0.18, 0.45, (150, 120, 80))),
    LookAlike("on a stool", "flat_3", _on_board(0.40, 0.45, (90, 60, 40))),
    LookAlike("in the air", "flat_7", _moved_child(up=0.25)),
    LookAlike("feet behind a crate", "flat_2", _before_feet(0.15, -0.2, (140, 100, 60))),
    LookAlike("shins behind a bench", "flat_5", _before_feet(0.45, 0.2, (110, 80, 50))),
    LookAlike("knees behind a bench", "flat_8", _before_feet(0.65, 0.35, (60, 80, 110))),
    LookAlike("another child behind", "flat_5", _another("flat_3", 0.25, 1.05, behind=True)),
    LookAlike("another child half behind", "flat_8", _another("flat_6", -0.45, 1.1, behind=True)),
    LookAlike("a small child before", "flat_8", _another("flat_1", 0.15, 0.6)),
    LookAlike("a small child beside", "flat_6", _another("flat_1", -0.55, 0.55)),
    LookAlike("a doll beside", "flat_2", _another("flat_7", -0.5, 0.35)),
    LookAlike("legs behind", "flat_7", _another("flat_5", 0.3, 1.3, behind=True, from_hips=True)),
    LookAlike("legs before", "flat_5", _another("flat_7", 0.35, 1.2, from_hips=True)),
    LookAlike("legs beside", "flat_6", _another("flat_2", 0.7, 1.3, from_hips=True)),
)
