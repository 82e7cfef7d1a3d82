"""Look-alikes of further kinds, made after the rules were fixed and scored once.

Of the object: neighbours of its kind in true perspective, things that hang on walls, points on
heads and around children. Of the person: garments and bags before the legs, somebody's legs or
mirror image beside the child, and rendered children who stand on one foot, a step or a box.
"""

from collections.abc import Callable
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alike import Change, LookAlike, as_it_is, box_px, soft
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.body.body import Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest

__all__ = ["UNTOUCHED_LOOK_ALIKES", "plain_sheet"]

_Pixels = NDArray[np.uint8]


def plain_sheet(base: str, width_mm: float, height_mm: float) -> Change:
    """A plain sheet of this size where the printed one hung, in its perspective."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        sheet = find_sheet(base_of(base)[0], placement="wall", ruler_mm=None)
        assert isinstance(sheet, PointReference)
        to_picture, _inliers = cv2.findHomography(sheet.object_mm, sheet.image_px)
        middle = sheet.object_mm.mean(axis=0)
        half = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [width_mm / 2, height_mm / 2]
        corners = cv2.perspectiveTransform((middle + half)[None], to_picture)[0]
        out = pixels.copy()
        fixed = np.round(corners * 16).astype(np.int32)
        cv2.fillConvexPoly(out, fixed, (232, 231, 227), cv2.LINE_AA, 4)
        return soft(pixels, out)

    return change


def _tiles(box: tuple[float, float, float, float], across: int) -> Change:
    """White tiles with grey joints from one end of the box to the other."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        x0, y0, x1, y1 = box_px(pixels, box)
        out = pixels.copy()
        out[y0:y1, x0:x1] = 225
        side = (x1 - x0) // across
        for x in range(x0, x1, side):
            out[y0:y1, x : x + 2] = 150
        for y in range(y0, y1, round(1.4 * side)):
            out[y : y + 2, x0:x1] = 150
        return soft(pixels, out)

    return change


def _envelope(x: float, y: float, wide: float) -> Change:
    """A white envelope with the lines of its flap."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down = round(0.7 * across)
        out = pixels.copy()
        out[top : top + down, left : left + across] = 236
        tip = (left + across // 2, top + round(0.55 * down))
        for corner in ((left, top), (left + across, top)):
            cv2.line(out, corner, tip, (196, 194, 190), 2, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _slats(x: float, y: float, wide: float) -> Change:
    """A white air vent: slats with shadows between them."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down = round(1.35 * across)
        out = pixels.copy()
        out[top : top + down, left : left + across] = 234
        for row in range(top + down // 10, top + down - down // 10, max(down // 12, 3)):
            out[row : row + 2, left + across // 10 : left + across - across // 10] = 150
        return soft(pixels, out)

    return change


def _cushion(x: float, y: float, wide: float) -> Change:
    """A white cushion with round corners, shaded towards its edge."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        rows, columns = np.indices((height, width)).astype(float)
        across, down = wide * width / 2, 1.3 * wide * width / 2
        off = (np.abs(columns - x * width) / across) ** 5 + (np.abs(rows - y * height) / down) ** 5
        shade = np.clip(240 - 60 * off, 0, 255)[..., None]
        return soft(pixels, np.where(off[..., None] < 1, shade, pixels).astype(np.uint8))

    return change


def _apron(length: float, rgb: tuple[int, int, int]) -> Change:
    """A straight apron from the waist to this part of the leg, tied behind."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        left, right = round(x - 0.17 * leg), round(x + 0.17 * leg)
        out = pixels.copy()
        out[round(y - 0.12 * leg) : round(y + length * leg), left:right] = rgb
        return soft(pixels, out)

    return change


def _towel(length: float) -> Change:
    """A towel wound round the hips, one end lower than the other."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        shape = [[-0.21, -0.14], [0.21, -0.12], [0.25, length - 0.07], [-0.24, length]]
        out = pixels.copy()
        corners = np.round(np.array(shape) * leg + (x, y)).astype(np.int32)
        cv2.fillConvexPoly(out, corners, (214, 205, 188), cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _bag(rgb: tuple[int, int, int]) -> Change:
    """A bag held before the thighs."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        out = pixels.copy()
        low, high = (round(y + part * leg) for part in (0.10, 0.52))
        out[low:high, round(x - 0.22 * leg) : round(x + 0.22 * leg)] = rgb
        return soft(pixels, out)

    return change


def _mirror_image(aside: float, size: float) -> Change:
    """The child's own image in a mirror on the wall, turned and a little smaller."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.ankles_px
        head = float(body.point_px("nose")[1]) - 0.4 * leg
        part = pixels[
            max(round(head), 0) : round(y + 0.15 * leg), round(x - 0.4 * leg) : round(x + 0.4 * leg)
        ]
        seen = cv2.resize(part[:, ::-1], None, fx=size, fy=size)
        at, bottom = round(x + aside * leg - seen.shape[1] / 2), round(y - 0.1 * leg)
        low, high = max(at, 0), min(at + seen.shape[1], pixels.shape[1])
        out = pixels.copy()
        out[bottom - seen.shape[0] : bottom, low:high] = seen[:, low - at : high - at]
        return out

    return change


def _legs_of(other: str, aside: float) -> Change:
    """Somebody's legs from the waist down, cut out of another picture, beside the child."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        from pose_fit.body.mediapipe_pose import pose_model

        photo = base_of(other)[0]
        them = pose_model().find(photo)
        assert them is not None
        (x, y), leg = photo.working_px(them.hips_px), them.leg_px / photo.working_scale
        rows = slice(round(y - 0.15 * leg), round(y + 1.25 * leg))
        columns = slice(round(x - 0.42 * leg), round(x + 0.42 * leg))
        factor = 1.25 * body.leg_px / leg
        part = cv2.resize(photo.pixels[rows, columns], None, fx=factor, fy=factor)
        cut = cv2.resize(them.mask[rows, columns], None, fx=factor, fy=factor) > 0.5
        left = round(float(body.ankles_px[0]) + aside * body.leg_px - part.shape[1] / 2)
        bottom = round(float(body.ankles_px[1]) + 0.3 * body.leg_px)
        top = bottom - part.shape[0]
        out = pixels.copy()
        low, high = max(left, 0), min(left + part.shape[1], pixels.shape[1])
        end = min(bottom, pixels.shape[0])
        room = out[top:end, low:high]
        inside = cut[: end - top, low - left : high - left]
        room[inside] = part[: end - top, low - left : high - left][inside]
        return soft(pixels, out)

    return change


def _around(child: Body, part: float) -> NDArray[np.float64]:
    """(4, 2) corners round the child, this much wider and taller than it."""
    (x, y), leg = child.ankles_px, child.leg_px
    crown, sole = float(child.point_px("nose")[1]) - 0.30 * leg, float(y) + 0.12 * leg
    more = part * (sole - crown)
    half = 0.45 * leg * (1 + 2 * part)
    return np.array(
        [
            [x - half, crown - more],
            [x + half, crown - more],
            [x + half, sole + more],
            [x - half, sole + more],
        ]
    )


def _loose_door(part: float, slant: float = 0.0) -> Callable[[Photo, Body], ReferenceRequest]:
    def asked(photo: Photo, body: Body) -> ReferenceRequest:
        corners = _around(body, part)
        corners[:2, 0] += slant * body.leg_px
        inside = np.clip(corners, 8.0, [photo.width_px - 9.0, photo.height_px - 9.0])
        return ReferenceRequest("door", size_mm=2032.0, points_px=inside.tolist())

    return asked


def _head_as_wheel(_: Photo, body: Body) -> ReferenceRequest:
    """A rim's points round the head."""
    middle = body.point_px("nose") - [0.0, 0.05 * body.leg_px]
    angles = np.linspace(0, 2 * np.pi, 8, endpoint=False)
    rim = middle + 0.22 * body.leg_px * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    tyre = read_marking("47-203")
    assert isinstance(tyre, Tyre)
    return ReferenceRequest(
        "wheel", size_mm=tyre.outside_diameter_mm, width_mm=tyre.width_mm, points_px=rim.tolist()
    )


def _child_as_length(_: Photo, body: Body) -> ReferenceRequest:
    """A stick's ends at crown and sole, said to be beside the child and 1 m long."""
    (x, y), leg = body.ankles_px, body.leg_px
    top = float(body.point_px("nose")[1]) - 0.28 * leg
    ends = np.array([[x, top], [x, y + 0.1 * leg]])
    return ReferenceRequest("length", size_mm=1000.0, placement="wall", points_px=ends.tolist())


def _floor_tile(photo: Photo, body: Body) -> ReferenceRequest:
    """A sheet's corners on the floor before the feet."""
    (x, y), leg = body.ankles_px, body.leg_px
    corners = np.array([[0.35, 0.10], [0.70, 0.10], [0.78, 0.24], [0.38, 0.24]]) * leg + (x, y)
    inside = np.clip(corners, 5.0, [photo.width_px - 6.0, photo.height_px - 6.0])
    return ReferenceRequest("letter", points_px=inside.tolist())


def _shirt_as_door(_: Photo, body: Body) -> ReferenceRequest:
    marks: tuple[Landmark, ...] = (
        "right_shoulder",
        "left_shoulder",
        "left_ankle",
        "right_ankle",
    )
    return ReferenceRequest("door", size_mm=1981.0, points_px=body.points_px(marks).tolist())


UNTOUCHED_LOOK_ALIKES: Final[tuple[LookAlike, ...]] = (
    # The object is not what was said.
    LookAlike("a5 as a4", "flat_2", plain_sheet("flat_2", 148, 210), "a4"),
    LookAlike("a3 as a4", "flat_5", plain_sheet("flat_5", 297, 420), "a4"),
    LookAlike("half a letter as letter", "flat_3", plain_sheet("flat_3", 140, 216), "letter"),
    LookAlike("tabloid as letter", "flat_8", plain_sheet("flat_8", 279, 432), "letter"),
    LookAlike("a square card as letter", "flat_6", plain_sheet("flat_6", 210, 210), "letter"),
    LookAlike("white tiles", "flat_1", _tiles((0.62, 0.25, 0.98, 0.60), 4), "a4"),
    LookAlike("envelope", "flat_4", _envelope(0.68, 0.42, 0.18), "a4"),
    LookAlike("air vent", "flat_7", _slats(0.70, 0.40, 0.14), "letter"),
    LookAlike("cushion", "flat_2", _cushion(0.78, 0.48, 0.16), "a4"),
    LookAlike("door loosely around", "flat_3", as_it_is, request=_loose_door(0.07)),
    LookAlike("door more loosely", "flat_5", as_it_is, request=_loose_door(0.16)),
    LookAlike("slanted door around", "flat_1", as_it_is, request=_loose_door(0.10, 0.15)),
    LookAlike("shoulders to ankles as door", "flat_4", as_it_is, request=_shirt_as_door),
    LookAlike("head as wheel", "flat_7", as_it_is, request=_head_as_wheel),
    LookAlike("child as a stick", "flat_6", as_it_is, request=_child_as_length),
    LookAlike("floor tile as letter", "flat_8", as_it_is, request=_floor_tile),
    # Not one child on two straight legs; the base's own sheet stays.
    LookAlike("apron", "flat_3", _apron(0.45, (180, 60, 50))),
    LookAlike("towel round the hips", "flat_5", _towel(0.40)),
    LookAlike("bag before the thighs", "flat_7", _bag((60, 70, 90))),
    LookAlike("mirror image", "flat_6", _mirror_image(-0.85, 0.9)),
    LookAlike("legs alone at the left", "flat_8", _legs_of("flat_7", -0.80)),
    LookAlike("legs alone at the right", "flat_1", _legs_of("flat_5", 0.85)),
    *(
        LookAlike(f"{what} {number}", f"{name}_{number}", as_it_is)
        for name, what, numbers in (
            ("lifted", "a foot off the floor, fresh", (4, 5)),
            ("behind", "a foot behind, off the floor", (1, 2)),
            ("step", "a foot on a step, fresh", (4, 5)),
            ("box", "both feet on a box", (1, 2)),
        )
        for number in numbers
    ),
)
