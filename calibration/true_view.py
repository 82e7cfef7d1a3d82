"""The true camera of a rendered photo, for taking measurements of the program's errors apart."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = ["cast_true", "leg_down_px", "true_mm", "true_px"]


def true_mm(truth: Mapping[str, Any], *names: str) -> NDArray[np.float64]:
    """(N, 3) named points in the wall frame: x right, y down, z into the wall, floor at y = 0."""
    return np.array([truth["landmarks_mm"][name] for name in names], float)


def true_px(truth: Mapping[str, Any], *names: str) -> NDArray[np.float64]:
    """(N, 2) named points in upright pixels."""
    return np.array([truth["landmarks_px"][name] for name in names], float)


def leg_down_px(truth: Mapping[str, Any]) -> NDArray[np.float64]:
    """(2,) from between the hips to between the ankles: the leg in the picture."""
    hips = true_px(truth, "hip_left", "hip_right").mean(axis=0)
    down: NDArray[np.float64] = true_px(truth, "ankle_left", "ankle_right").mean(axis=0) - hips
    return down


def cast_true(
    truth: Mapping[str, Any], pixels: NDArray[np.float64], *, axis: int, at_mm: float
) -> NDArray[np.float64]:
    """(N, 3) where true rays through upright pixels meet the plane coordinate[axis] = at_mm."""
    camera = truth["camera"]
    rotation = np.array(camera["rotation"], float)
    position = np.array(camera["position_mm"], float)
    focal = np.array([camera["focal_px"], camera["focal_y_px"]])
    bent = (np.atleast_2d(pixels) - np.array(camera["centre_px"])) / focal
    flat = bent.copy()
    for _ in range(8):
        flat = bent / (1 + camera["k1"] * (flat**2).sum(axis=1, keepdims=True))
    rays = np.column_stack([flat, np.ones(len(flat))]) @ rotation
    reach = (at_mm - position[axis]) / rays[:, axis]
    points: NDArray[np.float64] = position + rays * reach[:, None]
    return points
