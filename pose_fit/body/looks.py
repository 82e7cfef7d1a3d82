"""What a person looks like beside the length of the legs: how two pictures tell two children apart.

Proportions belong to the body and stay for months; colours belong to the clothes and stay for a day.
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body
from pose_fit.photo.photo import Photo

__all__ = ["PersonLooks", "are_unlike", "looks_of"]

#: Photos of one child scatter by this in the logarithms of trunk over leg and of eyes over ankles
#: over leg: standard deviations and correlation over 801 rendered photos of 216 children.
_PROPORTIONS_SD: Final = (0.059, 0.036)
_CORRELATION: Final = 0.95
#: Squared distance that two photos of one child pass once in a hundred, by the same photos.
_UNLIKE_BODIES: Final = 12.1
#: Shirt or legwear differ by more than this in two photos of one child once in sixty (units of
#: CIELAB, lightness by half since shade changes it), by 409 pairs.
_UNLIKE_CLOTHES: Final = 26.0
_LIGHTNESS_PART: Final = 0.5
#: Where the colours are taken: along the trunk, and along each thigh; half widths in legs.
_TRUNK: Final = ((0.3, 0.5, 0.7), 0.06)
_THIGH: Final = ((0.45, 0.6), 0.03)


@dataclass(frozen=True, slots=True)
class PersonLooks:
    """One person in one picture.

    Attributes
    ----------
    trunk_log, eyes_log
        Logarithms of shoulders to hips, and of eyes to ankles, over the length of the legs.
    clothes_lab
        Shirt and legwear, CIELAB each.
    """

    trunk_log: float
    eyes_log: float
    clothes_lab: tuple[tuple[float, float, float], tuple[float, float, float]]


def looks_of(photo: Photo, body: Body) -> PersonLooks:
    """The looks of the person that a body belongs to."""
    leg_px = max(body.leg_px, 1.0)
    shoulders_px = body.points_px(("left_shoulder", "right_shoulder")).mean(axis=0)
    eyes_px = body.points_px(("left_eye", "right_eye")).mean(axis=0)
    trunk_px = float(np.hypot(*(shoulders_px - body.hips_px)))
    eyes_height_px = float(np.hypot(*(eyes_px - body.ankles_px)))
    thighs = [
        _colour(photo, body, body.point_px(hip), body.point_px(knee), *_THIGH)
        for hip, knee, _ in (LEFT_LEG, RIGHT_LEG)
    ]
    shirt = _colour(photo, body, shoulders_px, body.hips_px, *_TRUNK)
    return PersonLooks(
        float(np.log(max(trunk_px, 1.0) / leg_px)),
        float(np.log(max(eyes_height_px, 1.0) / leg_px)),
        (_lab(shirt), _lab(np.mean(thighs, axis=0))),
    )


def are_unlike(one: PersonLooks, other: PersonLooks, *, on_one_day: bool) -> bool:
    """Whether two pictures of one child would rarely differ so much; clothes count for one day."""
    offs = np.array([one.trunk_log - other.trunk_log, one.eyes_log - other.eyes_log])
    trunk, eyes = offs / np.array(_PROPORTIONS_SD) / np.sqrt(2)
    square = (trunk**2 - 2 * _CORRELATION * trunk * eyes + eyes**2) / (1 - _CORRELATION**2)
    if square > _UNLIKE_BODIES:
        return True
    apart = np.array(one.clothes_lab) - np.array(other.clothes_lab)
    apart[:, 0] *= _LIGHTNESS_PART
    return on_one_day and bool(np.linalg.norm(apart, axis=1).max() > _UNLIKE_CLOTHES)


def _colour(
    photo: Photo,
    body: Body,
    start_px: NDArray[np.float64],
    end_px: NDArray[np.float64],
    parts: tuple[float, ...],
    half_width: float,
) -> NDArray[np.float64]:
    """(3,) median CIELAB of small squares along a line."""
    half = max(round(half_width * body.leg_px / photo.working_scale), 2)
    height, width = photo.pixels.shape[:2]
    squares = []
    for part in parts:
        x, y = photo.working_px((start_px + part * (end_px - start_px))[None])[0]
        column = int(np.clip(x, half, width - half - 1))
        row = int(np.clip(y, half, height - half - 1))
        square = photo.pixels[row - half : row + half + 1, column - half : column + half + 1]
        squares.append(cv2.cvtColor(square.astype(np.float32) / 255, cv2.COLOR_RGB2LAB))
    colours = np.concatenate([square.reshape(-1, 3) for square in squares])
    return np.asarray(np.median(colours, axis=0), float)


def _lab(colour: NDArray[np.float64]) -> tuple[float, float, float]:
    return float(colour[0]), float(colour[1]), float(colour[2])
