"""Look-alikes that were fresh once, and by which rules were then put right.

Bright things and points on something else in rendered pictures of standing children; prints on
dresses; and rendered bodies that do not stand on two straight legs.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alike import (
    Change,
    LookAlike,
    as_it_is,
    lamp,
    on_shirt,
    rectangle,
    soft,
    window,
)
from pose_fit.body.body import Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["LATER_LOOK_ALIKES"]

_Pixels = NDArray[np.uint8]


def _calendar(x: float, y: float) -> Change:
    """A white page of a month, its upper half a picture."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        left, top, wide = round(x * width), round(y * height), round(0.16 * width)
        tall = round(1.4 * wide)
        out = pixels.copy()
        out[top : top + tall, left : left + wide] = 238
        out[top : top + tall // 2, left : left + wide] = (90, 130, 170)
        for row in range(5):
            at = top + tall // 2 + (row + 1) * tall // 12
            for column in range(7):
                place = (left + round((column + 0.3) * wide / 7), at)
                cv2.putText(out, str(row * 7 + column + 1), place, 0, wide / 520, (40, 40, 40), 1)
        return soft(pixels, out)

    return change


def _cloth_on_a_line(x: float, y: float) -> Change:
    """A white towel that hangs down from two pegs, its lower edge a curve."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        height, width = pixels.shape[:2]
        wide, tall = 0.15 * width, 0.16 * height
        along = np.linspace(0, 1, 30)
        sag = 0.12 * tall * np.sin(np.pi * along)
        upper = np.stack([x * width + wide * along, y * height + sag], axis=1)
        lower = np.stack([x * width + wide * along, y * height + tall + 1.4 * sag], axis=1)
        out = pixels.copy()
        outline = np.round(np.concatenate([upper, lower[::-1]])).astype(np.int32)
        cv2.fillPoly(out, [outline], (232, 230, 226), cv2.LINE_AA)
        return soft(pixels, out)

    return change


def _printed_dress(kind: str, *, length: float, seed: int) -> Change:
    """A dress from the waist to this part of the leg: stripes, dots, pleats or flowers."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        rng = np.random.default_rng(seed)
        leg, (x, y) = body.leg_px, body.hips_px
        top, bottom = y - 0.10 * leg, y + length * leg
        half = np.array([0.20, 0.20, 0.34, 0.34]) * leg * np.array([-1, 1, 1, -1])
        shape = np.stack([x + half, [top, top, bottom, bottom]], axis=1)
        inside = np.zeros(pixels.shape[:2], np.uint8)
        cv2.fillConvexPoly(inside, np.round(shape).astype(np.int32), (1,))
        rows, columns = np.indices(pixels.shape[:2]).astype(float)
        spread = (columns - x) / (0.20 + 0.14 * np.clip((rows - top) / (bottom - top), 0, 1)) / leg
        cloth = np.empty(pixels.shape, float)
        cloth[:] = rng.integers(60, 200, 3)
        other = rng.integers(40, 230, 3).astype(float)
        match kind:
            case "stripes":
                cloth[np.sin(24 * spread + 1) > 0.1] = other
            case "pleats":
                cloth *= (0.75 + 0.25 * np.sin(30 * spread + 2))[..., None]
            case "dots":
                grid = np.hypot(
                    (columns - x) % (0.09 * leg) - 0.045 * leg,
                    (rows - y) % (0.09 * leg) - 0.045 * leg,
                )
                cloth[grid < 0.026 * leg] = other
            case "flowers":
                for _ in range(140):
                    at = (
                        round(x + rng.uniform(-0.34, 0.34) * leg),
                        round(rng.uniform(top, bottom)),
                    )
                    cv2.circle(
                        cloth,
                        at,
                        round(rng.uniform(0.012, 0.04) * leg),
                        rng.integers(20, 250, 3).tolist(),
                        cv2.FILLED,
                    )
            case _:
                raise ValueError(f"unknown print {kind!r}")
        return soft(
            pixels, np.where(inside[..., None] > 0, np.clip(cloth, 0, 255), pixels).astype(np.uint8)
        )

    return change


def _corners_of_picture(photo: Photo, _: Body) -> ReferenceRequest:
    right, bottom = photo.width_px - 3, photo.height_px - 3
    return _door(np.array([[2, 2], [right, 2], [right, bottom], [2, bottom]], float))


def _on_the_body(_: Photo, body: Body) -> ReferenceRequest:
    """A letter's corners at shoulders and hips."""
    marks: tuple[Landmark, ...] = ("right_shoulder", "left_shoulder", "left_hip", "right_hip")
    return ReferenceRequest("letter", points_px=body.points_px(marks).tolist())


def _lying_door(photo: Photo, body: Body) -> ReferenceRequest:
    """A door's corners on the floor before the child."""
    (x, y), leg = body.ankles_px, body.leg_px
    corners = np.array([[-0.5, 0.1], [0.5, 0.1], [0.7, 0.45], [-0.7, 0.45]]) * leg + (x, y)
    return _door(np.clip(corners, 3, [photo.width_px - 4, photo.height_px - 4]))


def _shadow_door(photo: Photo, body: Body) -> ReferenceRequest:
    """A door's corners around a patch of wall half as high as the child."""
    (x, y), leg = body.hips_px, body.leg_px
    corners = np.array([[-1.1, -0.4], [-0.6, -0.4], [-0.6, 0.5], [-1.1, 0.5]]) * leg + (x, y)
    return _door(np.clip(corners, 3, [photo.width_px - 4, photo.height_px - 4]))


def _door(corners_px: NDArray[np.float64]) -> ReferenceRequest:
    return ReferenceRequest("door", size_mm=2032.0, points_px=corners_px.tolist())


LATER_LOOK_ALIKES: Final[tuple[LookAlike, ...]] = (
    # No paper, or points on something else.
    LookAlike("calendar", "flat_1", _calendar(0.62, 0.30), "letter"),
    LookAlike("calendar, low", "flat_5", _calendar(0.08, 0.50), "a4"),
    LookAlike("towel", "flat_2", _cloth_on_a_line(0.68, 0.40), "letter"),
    LookAlike("towel, left", "flat_6", _cloth_on_a_line(0.08, 0.45), "a4"),
    LookAlike("window of four panes, fresh", "flat_3", window((0.66, 0.22, 0.94, 0.48), 2), "a4"),
    LookAlike("bright door leaf", "flat_7", rectangle((0.72, 0.20, 0.96, 0.78), 228), "letter"),
    LookAlike("lamp, fresh", "flat_4", lamp((0.70, 0.30, 0.84, 0.42)), "letter"),
    LookAlike("print on the shirt, fresh", "flat_8", on_shirt(0.26), "a4"),
    LookAlike(
        "leaning board, fresh",
        "flat_1",
        rectangle((0.68, 0.42, 0.82, 0.56), 240, angle_deg=17),
        "letter",
    ),
    LookAlike(
        "fading patch, fresh", "flat_6", rectangle((0.70, 0.45, 0.84, 0.62), 235, fade=True), "a4"
    ),
    LookAlike("corners of the picture", "flat_2", as_it_is, request=_corners_of_picture),
    LookAlike("letter on the trunk", "flat_4", as_it_is, request=_on_the_body),
    LookAlike("door on the floor", "flat_5", as_it_is, request=_lying_door),
    LookAlike("door of bare wall", "flat_7", as_it_is, request=_shadow_door),
    # Not one child on two straight legs; the base's own sheet stays.
    LookAlike("dress with stripes", "flat_1", _printed_dress("stripes", length=0.55, seed=11)),
    LookAlike("dress with pleats", "flat_3", _printed_dress("pleats", length=0.60, seed=12)),
    LookAlike("dress with dots", "flat_4", _printed_dress("dots", length=0.50, seed=13)),
    LookAlike("dress with flowers", "flat_6", _printed_dress("flowers", length=0.65, seed=14)),
    LookAlike(
        "short dress with stripes", "flat_7", _printed_dress("stripes", length=0.45, seed=15)
    ),
    LookAlike("long dress with dots", "flat_8", _printed_dress("dots", length=0.70, seed=16)),
    *(
        LookAlike(f"{what} {number}", f"{name}_{number}", as_it_is)
        for name, what, numbers in (
            ("line", "walks on a line", (3, 4, 5)),
            ("raised", "a foot off the floor", (3, 4, 5)),
            ("ahead", "a foot ahead, off the floor", (3, 4)),
            ("crossed", "legs crossed", (3, 4, 5)),
            ("soft", "one knee soft", (3, 4, 5)),
            ("legs_of_two", "a grown person at the child’s side", (3, 4)),
        )
        for number in numbers
    ),
)
