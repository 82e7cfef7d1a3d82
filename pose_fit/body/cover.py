"""People covered in a picture, so that a model that sees one person sees another one."""

from collections.abc import Sequence
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LANDMARKS, Landmark

__all__ = ["covered"]

#: Bones that are painted over, with their half width in parts of the body's length.
_BONES: Final[tuple[tuple[Landmark, Landmark, float], ...]] = (
    ("left_shoulder", "right_hip", 0.07),
    ("right_shoulder", "left_hip", 0.07),
    ("left_shoulder", "left_hip", 0.06),
    ("right_shoulder", "right_hip", 0.06),
    ("left_hip", "left_knee", 0.055),
    ("right_hip", "right_knee", 0.055),
    ("left_knee", "left_ankle", 0.045),
    ("right_knee", "right_ankle", 0.045),
    ("left_heel", "left_toe", 0.04),
    ("right_heel", "right_toe", 0.04),
    ("left_ear", "right_ear", 0.085),
)
#: The filling is made at a size at which the body is this long, and smoothed this much.
_COARSE_PX: Final = 60.0
_SMOOTH: Final = 0.1
#: A pixel of that size counts as seen where less of it is hidden, of 255.
_HARDLY: Final = 5


def covered(
    pixels: NDArray[np.uint8],
    people_px: Sequence[NDArray[np.float64]],
    *,
    keep: NDArray[np.bool_] | None = None,
) -> NDArray[np.uint8]:
    """The picture with each person filled in by the colours around.

    Parameters
    ----------
    people_px
        (L, 2) arrays: landmarks of each person in pixels of this picture.
    keep
        (H, W) array: where nothing is covered.
    """
    for points_px in people_px:
        hidden = _silhouette(pixels.shape[:2], points_px)
        if keep is not None:
            hidden[keep] = 0
        pixels = _filled(pixels, hidden, float(np.ptp(points_px, axis=0).max()))
    return pixels


def _silhouette(shape: tuple[int, ...], points_px: NDArray[np.float64]) -> NDArray[np.uint8]:
    """(H, W) 1 where the person is, generously."""
    long_px = max(float(np.ptp(points_px, axis=0).max()), 8.0)
    hidden = np.zeros(shape, np.uint8)
    # The head's circle sits above the ears.
    for one, other, half_width in _BONES:
        start, end = (
            tuple(int(value) for value in points_px[LANDMARKS.index(mark)]) for mark in (one, other)
        )
        cv2.line(hidden, start, end, (1,), max(round(2 * half_width * long_px), 3))
    return hidden


def _filled(
    pixels: NDArray[np.uint8], hidden: NDArray[np.uint8], long_px: float
) -> NDArray[np.uint8]:
    """Hidden pixels by a smooth mean of the others."""
    height_px, width_px = hidden.shape
    shrink = min(1.0, _COARSE_PX / long_px)
    size = (max(round(width_px * shrink), 1), max(round(height_px * shrink), 1))
    part = cv2.resize(hidden * np.uint8(255), size, interpolation=cv2.INTER_AREA)
    seen = np.where(part < _HARDLY, 1.0, 0.0).astype(np.float32)
    colours = cv2.resize(pixels, size, interpolation=cv2.INTER_AREA).astype(np.float32)
    sigma = _SMOOTH * long_px * shrink
    weight = cv2.GaussianBlur(seen, (0, 0), sigma) + 1e-6
    mean = cv2.GaussianBlur(colours * seen[..., None], (0, 0), sigma) / weight[..., None]
    coarse = np.clip(mean, 0, 255).astype(np.uint8)
    filling = cv2.resize(coarse, (width_px, height_px), interpolation=cv2.INTER_LINEAR)
    return np.asarray(cv2.copyTo(filling, hidden, pixels.copy()), np.uint8)
