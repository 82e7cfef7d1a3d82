"""A child that does not stand on two straight legs on one floor.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, ScoreSet, as_it_is
from pose_fit.body.body import Body, Landmark

__all__ = ["STANCES"]

_Pixels = NDArray[np.uint8]


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


#: Rendered stances: their name in `pictures.PICTURES`, what they show, their numbers, when scored.
_RENDERED: Final[tuple[tuple[str, str, tuple[int, ...], ScoreSet], ...]] = (
    ("line", "walks on a line", (3, 4, 5), "rules"),
    ("raised", "a foot off the floor", (3, 4, 5), "rules"),
    ("ahead", "a foot ahead, off the floor", (3, 4), "rules"),
    ("crossed", "legs crossed", (3, 4, 5), "rules"),
    ("soft", "one knee soft", (3, 4, 5), "rules"),
    ("lifted", "a foot off the floor, fresh", (4, 5), "first trial"),
    ("behind", "a foot behind, off the floor", (1, 2), "first trial"),
    ("step", "a foot on a step, fresh", (4, 5), "first trial"),
    ("box", "both feet on a box", (1, 2), "first trial"),
)

STANCES: Final[tuple[LookAlike, ...]] = (
    LookAlike("left foot in the air", "sheet_1", _foot_in_air("left", 0.68)),
    LookAlike("right foot in the air", "sheet_2", _foot_in_air("right", 0.70)),
    LookAlike("left foot in the air, less", "letter_2", _foot_in_air("left", 0.76)),
    LookAlike("right foot in the air, less", "a4_1", _foot_in_air("right", 0.76)),
    LookAlike("left foot far in the air", "sheet_3", _foot_in_air("left", 0.60)),
    LookAlike("left foot on a step", "flat_4", _knee_forward("left", 0.88)),
    LookAlike("right foot on a step", "flat_6", _knee_forward("right", 0.90)),
    LookAlike("left foot a little up", "flat_8", _knee_forward("left", 0.93)),
    *(
        LookAlike(f"{what} {number}", f"{name}_{number}", as_it_is, score_set=score_set)
        for name, what, numbers, score_set in _RENDERED
        for number in numbers
    ),
)
