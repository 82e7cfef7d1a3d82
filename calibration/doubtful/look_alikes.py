"""Bright things that are no paper, and bodies that are not one standing child.

Looked at while the rules were made. Places are parts of the picture's width and height, as in
`changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alike import (
    Box,
    Change,
    LookAlike,
    box_px,
    lamp,
    on_shirt,
    rectangle,
    window,
)
from pose_fit.body.body import Body

__all__ = ["LOOK_ALIKES"]

_Pixels = NDArray[np.uint8]


def _sign(box: Box) -> Change:
    """A bright board with lines of text."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        out = rectangle(box, 235)(pixels, _)
        x0, y0, x1, y1 = box_px(pixels, box)
        height = y1 - y0
        for row in range(5):
            place = (x0 + (x1 - x0) // 10, y0 + height * (2 * row + 2) // 12)
            cv2.putText(
                out, "SALE 25 %", place, cv2.FONT_HERSHEY_SIMPLEX, height / 330, (20, 20, 20), 2
            )
        return out

    return change


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


def _foot_in_air(side: str, short: float) -> Change:
    """One shank pointing at the camera: knee to sole squeezed to this part of its height."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        knee, toe = body.points_px((f"{side}_knee", f"{side}_toe"))  # type: ignore[arg-type]
        middle = (body.point_px("left_ankle") + body.point_px("right_ankle")) / 2
        away = 0.24 * body.leg_px
        x0, x1 = sorted((middle[0], middle[0] + np.sign(knee[0] - middle[0]) * away))
        top, bottom = round(knee[1]), round(toe[1] + 0.04 * body.leg_px)
        left, right = round(x0), round(x1)
        strip = pixels[top:bottom, left:right]
        squeezed = cv2.resize(strip, (right - left, round(short * (bottom - top))))
        out = pixels.copy()
        floor = pixels[bottom : bottom + 1, left:right]
        out[top:bottom, left:right] = floor
        out[top : top + squeezed.shape[0], left:right] = squeezed
        return out

    return change


def _dress(seed: int, *, length: float, fine: float) -> Change:
    """A dress with a print from the waist to this part of the leg."""

    def change(pixels: _Pixels, body: Body) -> _Pixels:
        rng = np.random.default_rng(seed)
        leg = body.leg_px
        top, bottom = body.hips_px[1] - 0.12 * leg, body.hips_px[1] + length * leg
        shape = np.array(
            [
                (body.hips_px[0] - 0.22 * leg, top),
                (body.hips_px[0] + 0.22 * leg, top),
                (body.hips_px[0] + 0.31 * leg, bottom),
                (body.hips_px[0] - 0.31 * leg, bottom),
            ]
        )
        inside = np.zeros(pixels.shape[:2], np.uint8)
        cv2.fillConvexPoly(inside, np.round(shape).astype(np.int32), (1,))
        spots = cv2.GaussianBlur(
            rng.normal(size=(*pixels.shape[:2], 3)), (0, 0), max(fine * leg, 0.8)
        )
        cloth = np.array([150, 70, 90]) + 75 * spots / spots.std() / 2
        return np.where(inside[..., None] > 0, np.clip(cloth, 0, 255), pixels).astype(np.uint8)

    return change


LOOK_ALIKES: Final[tuple[LookAlike, ...]] = (
    # No paper, something bright instead.
    LookAlike(
        "patch above the head", "letter_1", rectangle((0.55, 0.06, 0.66, 0.17), 245), "letter"
    ),
    LookAlike("patch far above", "a4_1", rectangle((0.60, 0.02, 0.70, 0.12), 240), "a4"),
    LookAlike(
        "fading patch", "letter_2", rectangle((0.65, 0.45, 0.76, 0.56), 245, fade=True), "letter"
    ),
    LookAlike(
        "fading patch, fainter",
        "sheet_2",
        rectangle((0.62, 0.5, 0.74, 0.62), 225, fade=True),
        "a4",
    ),
    LookAlike("window of four panes", "a4_1", window((0.60, 0.35, 0.84, 0.60), 2), "a4"),
    LookAlike("window of nine panes", "sheet_1", window((0.60, 0.30, 0.93, 0.62), 3), "letter"),
    LookAlike("large window", "letter_1", window((0.62, 0.20, 0.98, 0.50), 2), "a4"),
    LookAlike("shop sign", "letter_2", _sign((0.64, 0.44, 0.78, 0.58)), "a4"),
    LookAlike("sign on the other side", "sheet_3", _sign((0.10, 0.42, 0.24, 0.56)), "letter"),
    LookAlike("lamp beside the head", "a4_1", lamp((0.62, 0.28, 0.74, 0.38)), "letter"),
    LookAlike("lamp beside the legs", "sheet_1", lamp((0.62, 0.55, 0.73, 0.66)), "a4"),
    LookAlike("print on the shirt", "letter_1", on_shirt(0.30), "letter"),
    LookAlike("large print on the shirt", "sheet_2", on_shirt(0.38), "a4"),
    LookAlike(
        "leaning board", "letter_2", rectangle((0.65, 0.45, 0.76, 0.56), 235, angle_deg=24), "a4"
    ),
    LookAlike("patch cut by the border", "a4_1", rectangle((0.93, 0.45, 1.0, 0.57), 245), "a4"),
    # Not one standing child; the sample's own object stays.
    LookAlike("hugged from the left", "sheet_1", _second_head(-0.36, 0.0)),
    LookAlike("hugged from the right, higher", "sheet_2", _second_head(0.32, 0.12)),
    LookAlike("a head over the shoulder", "letter_1", _second_head(0.28, -0.10, 0.9)),
    LookAlike("a large head behind", "a4_1", _second_head(-0.34, 0.15, 1.2)),
    LookAlike("a head beside, smaller", "sheet_3", _second_head(-0.36, 0.0, 0.8)),
    LookAlike("left foot in the air", "sheet_1", _foot_in_air("left", 0.68)),
    LookAlike("right foot in the air", "sheet_2", _foot_in_air("right", 0.70)),
    LookAlike("left foot in the air, less", "letter_2", _foot_in_air("left", 0.76)),
    LookAlike("right foot in the air, less", "a4_1", _foot_in_air("right", 0.76)),
    LookAlike("left foot far in the air", "sheet_3", _foot_in_air("left", 0.60)),
    LookAlike("dress, fine print", "sheet_1", _dress(1, length=0.55, fine=0.006)),
    LookAlike("dress, coarse print", "sheet_2", _dress(2, length=0.50, fine=0.014)),
    LookAlike("long dress, fine print", "letter_1", _dress(3, length=0.70, fine=0.005)),
    LookAlike("dress, middling print", "a4_1", _dress(4, length=0.55, fine=0.009)),
    LookAlike("short dress, fine print", "sheet_3", _dress(5, length=0.42, fine=0.006)),
)
