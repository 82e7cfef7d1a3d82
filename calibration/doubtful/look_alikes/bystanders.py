"""Somebody else beside the child, whole or in part.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, as_it_is, soft
from pose_fit.body.body import Body

__all__ = ["BYSTANDERS"]

_Pixels = NDArray[np.uint8]


def _second_head(aside: float, above: float, size: float = 1.0) -> Change:
    """The child's head once more, so many legs to the side and above: somebody who hugs it."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        nose, reach = body.point_px("nose"), round(0.2 * body.leg_px)
        x, y = np.round(nose).astype(int)
        head = cv2.resize(
            pixels[y - reach : y + reach, x - reach : x + reach], None, fx=size, fy=size
        )[:, ::-1]
        round_mask = np.zeros(head.shape[:2], np.float32)
        middle = head.shape[0] // 2
        cv2.circle(round_mask, (middle, middle), round(0.85 * middle), (1.0,), cv2.FILLED)
        feathered = cv2.GaussianBlur(round_mask, (0, 0), middle / 12)[..., None]
        left, top = x + round(aside * body.leg_px) - middle, y - round(above * body.leg_px) - middle
        out = pixels.copy()
        room = out[top : top + head.shape[0], left : left + head.shape[1]]
        room[:] = (feathered * head + (1 - feathered) * room).astype(np.uint8)
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


BYSTANDERS: Final[tuple[LookAlike, ...]] = (
    LookAlike("hugged from the left", "sheet_1", _second_head(-0.36, 0.0)),
    LookAlike("hugged from the right, higher", "sheet_2", _second_head(0.32, 0.12)),
    LookAlike("a head over the shoulder", "letter_1", _second_head(0.28, -0.10, 0.9)),
    LookAlike("a large head behind", "a4_1", _second_head(-0.34, 0.15, 1.2)),
    LookAlike("a head beside, smaller", "sheet_3", _second_head(-0.36, 0.0, 0.8)),
    LookAlike("a sibling at the left", "flat_7", _smaller_child(-0.70, 0.7)),
    LookAlike("a sibling close by", "flat_3", _smaller_child(0.45, 0.6)),
    LookAlike("mirror image", "flat_6", _mirror_image(-0.85, 0.9), score_set="first trial"),
    LookAlike(
        "legs alone at the left", "flat_8", _legs_of("flat_7", -0.80), score_set="first trial"
    ),
    LookAlike(
        "legs alone at the right", "flat_1", _legs_of("flat_5", 0.85), score_set="first trial"
    ),
    *(
        LookAlike(f"a grown person at the child’s side {number}", f"legs_of_two_{number}", as_it_is)
        for number in (3, 4)
    ),
)
