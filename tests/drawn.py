"""Drawn pictures, and a body that stands in them as told."""

from collections.abc import Mapping

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LANDMARKS, LEG_LANDMARKS, Body
from pose_fit.photo.photo import Photo, read_photo

__all__ = ["photo_of", "standing_body"]


def photo_of(picture: NDArray[np.float64], *, noise: float, seed: int) -> Photo:
    """A photo of (H, W, 3) RGB levels with noise of this standard deviation."""
    noisy = picture + np.random.default_rng(seed).normal(0, noise, picture.shape)
    _, png = cv2.imencode(".png", np.clip(noisy, 0, 255).astype(np.uint8)[..., ::-1])
    return read_photo(png.tobytes())


def standing_body(
    heights_px: Mapping[str, float], *, middle_px: float, aside_px: float, mask: NDArray[np.float32]
) -> Body:
    """Hips, knees and ankles at these heights, this far to each side of the middle."""
    looks = np.zeros((2, len(LANDMARKS), 2))
    for mark in LEG_LANDMARKS:
        side, joint = mark.split("_")
        x_px = middle_px + (aside_px if side == "left" else -aside_px)
        looks[:, LANDMARKS.index(mark)] = (x_px, heights_px[joint])
    return Body(looks, np.ones(len(LANDMARKS)), mask)
