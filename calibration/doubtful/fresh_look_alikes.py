"""Look-alikes that were made after the rules were fixed then, and looked at since.

Drawn differently from those before: things that hang or lean in other shapes and lights, points on
other places, bystanders of another size, garments that end elsewhere, and legs bent in the picture.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alike import Change, LookAlike, as_it_is, soft
from pose_fit.body.body import Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["FRESH_LOOK_ALIKES"]

_Pixels = NDArray[np.uint8]


def _globe(x: float, y: float, part: float) -> Change:
    """A round glowing lamp whose light runs over the wall."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        rows, columns = np.indices((height, width))
        off = np.hypot(columns - x * width, rows - y * height) / (part * width)
        glow = np.where(off < 1, 1.0, np.exp(-((off - 1) ** 2) / 0.5) * 0.8)
        return np.clip(pixels + 170 * glow[..., None], 0, 255).astype(np.uint8)

    return change


def _shade(x: float, y: float, part: float) -> Change:
    """A lampshade, narrower at its top, lit from within; its light falls on the wall below."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        half, tall = part * width, 2.4 * part * width
        outline = np.array([[-0.8, 0], [0.8, 0], [1, 1], [-1, 1]]) * [half, tall]
        spread = np.zeros((height, width), np.float32)
        corners = np.round(outline + np.array([x * width, y * height])).astype(np.int32)
        cv2.fillConvexPoly(spread, corners, (1.0,))
        halo = cv2.GaussianBlur(spread, (0, 0), half / 2)[..., None]
        lit = pixels + 90 * halo
        return np.clip(np.where(spread[..., None] > 0, 242, lit), 0, 255).astype(np.uint8)

    return change


def _mirror(x: float, y: float, wide: float) -> Change:
    """A mirror that shows a bright room: a slope of light from one corner to the other."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down = round(1.35 * across)
        rows, columns = np.indices((down, across))
        light = 150 + 95 * (rows / down + columns / across) / 2
        out = pixels.copy()
        out[top : top + down, left : left + across] = light[..., None]
        return soft(pixels, out)

    return change


def _sun_patch(x: float, y: float, part: float) -> Change:
    """Sun through a window: a slanted patch of bright wall with the wall's own colour."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        shape = np.array([[0, 0], [0.75, 0.28], [0.75, 1.5], [0, 1.22]]) * part * width
        mask = np.zeros((height, width), np.float32)
        corners = np.round(shape + np.array([x * width, y * height])).astype(np.int32)
        cv2.fillConvexPoly(mask, corners, (1.0,))
        feathered = cv2.GaussianBlur(mask, (0, 0), 2.5)[..., None]
        return np.clip(pixels * (1 + 0.7 * feathered), 0, 255).astype(np.uint8)

    return change


def _picture_frame(x: float, y: float, wide: float) -> Change:
    """A white mount in a dark frame around a small picture."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, across = round(x * width), round(y * height), round(wide * width)
        down, edge = round(1.3 * across), max(across // 14, 2)
        out = pixels.copy()
        out[top - edge : top + down + edge, left - edge : left + across + edge] = (52, 40, 30)
        out[top : top + down, left : left + across] = 240
        out[top + down // 3 : top + 2 * down // 3, left + across // 3 : left + 2 * across // 3] = (
            120,
            150,
            90,
        )
        return soft(pixels, out)

    return change


def _long_shirt(length: float, rgb: tuple[int, int, int]) -> Change:
    """A plain wide shirt from the waist to this part of the leg, with a curved hem."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.hips_px
        along = np.linspace(-1, 1, 25)
        hem = np.stack([x + 0.25 * leg * along, y + (length - 0.05 * along**2) * leg], axis=1)
        top = np.array([[x + 0.19 * leg, y - 0.15 * leg], [x - 0.19 * leg, y - 0.15 * leg]])
        out = pixels.copy()
        cv2.fillPoly(out, [np.round(np.concatenate([hem, top])).astype(np.int32)], rgb, cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _knee_forward(side: str, short: float) -> Change:
    """One leg squeezed from hip to sole, as a foot set on a step or lifted a little looks."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        marks: tuple[Landmark, ...] = (f"{side}_knee", f"{side}_toe", f"{side}_ankle")  # type: ignore[assignment]
        knee, toe, ankle = body.points_px(marks)
        middle = float(body.ankles_px[0])
        # The whole foot, from between the legs to beyond its little toe.
        reach = ankle[0] - middle + 0.16 * body.leg_px * np.sign(ankle[0] - middle)
        left, right = (round(one) for one in sorted((middle, middle + reach)))
        top, bottom = (
            round(0.5 * (knee[1] + body.hips_px[1])),
            round(toe[1] + 0.04 * body.leg_px),
        )
        strip = pixels[top:bottom, left:right]
        squeezed = cv2.resize(strip, (right - left, round(short * (bottom - top))))
        out = pixels.copy()
        out[top:bottom, left:right] = pixels[bottom : bottom + 1, left:right]
        out[top : top + squeezed.shape[0], left:right] = squeezed
        return out

    return change


def _smaller_child(aside: float, size: float) -> Change:
    """The child once more at another size, cut out with some wall around, at its side."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        leg, (x, y) = body.leg_px, body.ankles_px
        head = float(body.point_px("nose")[1]) - 0.3 * leg
        left, right = round(x - 0.33 * leg), round(x + 0.33 * leg)
        top, bottom = max(round(head), 0), round(min(y + 0.15 * leg, pixels.shape[0]))
        other = cv2.resize(pixels[top:bottom, left:right], None, fx=size, fy=size)
        at = round(x + aside * leg - other.shape[1] / 2)
        low, high = max(at, 0), min(at + other.shape[1], pixels.shape[1])
        out = pixels.copy()
        out[bottom - other.shape[0] : bottom, low:high] = other[:, low - at : high - at]
        return out

    return change


def _on_the_thighs(_: Photo, body: Body) -> ReferenceRequest:
    """A sheet's corners at hips and knees."""
    marks: tuple[Landmark, ...] = ("right_hip", "left_hip", "left_knee", "right_knee")
    return ReferenceRequest("a4", points_px=body.points_px(marks).tolist())


def _child_as_door(photo: Photo, body: Body) -> ReferenceRequest:
    """A door's corners around the child itself."""
    (x, y), leg = body.ankles_px, body.leg_px
    top = max(float(body.point_px("nose")[1]) - 0.25 * leg, 4.0)
    bottom = min(float(y) + 0.1 * leg, photo.height_px - 5.0)
    corners = np.array([[x - 0.4 * leg, top], [x + 0.4 * leg, top]])
    corners = np.concatenate([corners, [[x + 0.4 * leg, bottom], [x - 0.4 * leg, bottom]]])
    return ReferenceRequest("door", size_mm=2032.0, points_px=corners.tolist())


def _half_picture(photo: Photo, _: Body) -> ReferenceRequest:
    """A door's corners on the picture's left half, three of its sides the border."""
    right, bottom = photo.width_px / 2, photo.height_px - 2.0
    corners = np.array([[1, 1], [right, 1], [right, bottom], [1, bottom]], float)
    return ReferenceRequest("door", size_mm=2032.0, points_px=corners.tolist())


FRESH_LOOK_ALIKES: Final[tuple[LookAlike, ...]] = (
    # No paper, or points on something else.
    LookAlike("globe lamp", "flat_1", _globe(0.76, 0.40, 0.07), "letter"),
    LookAlike("globe lamp, left", "flat_5", _globe(0.15, 0.35, 0.06), "a4"),
    LookAlike("lampshade", "flat_3", _shade(0.78, 0.32, 0.07), "a4"),
    LookAlike("lampshade, low", "flat_6", _shade(0.16, 0.46, 0.08), "letter"),
    LookAlike("mirror", "flat_2", _mirror(0.68, 0.30, 0.15), "letter"),
    LookAlike("mirror, left", "flat_7", _mirror(0.06, 0.40, 0.16), "a4"),
    LookAlike("sun on the wall", "flat_4", _sun_patch(0.66, 0.35, 0.18), "letter"),
    LookAlike("sun on the wall, left", "flat_8", _sun_patch(0.06, 0.40, 0.20), "a4"),
    LookAlike("framed picture", "flat_1", _picture_frame(0.68, 0.35, 0.15), "a4"),
    LookAlike("a4 on the thighs", "flat_3", as_it_is, request=_on_the_thighs),
    LookAlike("door around the child", "flat_6", as_it_is, request=_child_as_door),
    LookAlike("door of half the picture", "flat_8", as_it_is, request=_half_picture),
    # Not one child on two straight legs; the base's own sheet stays.
    LookAlike("long white shirt", "flat_2", _long_shirt(0.45, (235, 233, 228))),
    LookAlike("long dark shirt", "flat_5", _long_shirt(0.38, (40, 44, 60))),
    LookAlike("shirt to the knees", "flat_7", _long_shirt(0.52, (150, 60, 70))),
    LookAlike("left foot on a step", "flat_4", _knee_forward("left", 0.88)),
    LookAlike("right foot on a step", "flat_6", _knee_forward("right", 0.90)),
    LookAlike("left foot a little up", "flat_8", _knee_forward("left", 0.93)),
    LookAlike("a sibling at the left", "flat_7", _smaller_child(-0.70, 0.7)),
    LookAlike("a sibling close by", "flat_3", _smaller_child(0.45, 0.6)),
)
