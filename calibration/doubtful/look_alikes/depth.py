"""Where points before or behind a base's wall land in its picture.

The wall's plane and the lens give the camera (R. Hartley and A. Zisserman, Multiple View Geometry,
chapter 8: the columns of a plane's homography are two axes and the origin as the camera sees them).
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.drawing import in_quad, wall_plane

__all__ = ["card_quad", "placed_card", "seen_px", "wall_mm"]

_FULL_FRAME_MM: Final = float(np.hypot(36, 24))
#: Focal length of the bases' lens, as their files tell it.
_FOCAL_35MM: Final = 26.0


def seen_px(base: str, points_mm: ArrayLike) -> NDArray[np.float64]:
    """(N, 2) places of (N, 3) points: right and down from the middle of the paper, into the wall."""
    height, width = base_of(base)[0].pixels.shape[:2]
    focal = _FOCAL_35MM * np.hypot(width, height) / _FULL_FRAME_MM
    lens = np.array([[focal, 0, width / 2], [0, focal, height / 2], [0, 0, 1]])
    axes = np.linalg.inv(lens) @ wall_plane(base)
    axes *= np.sign(axes[2, 2]) / np.sqrt(np.linalg.norm(axes[:, 0]) * np.linalg.norm(axes[:, 1]))
    right, down, origin = axes.T
    into = np.cross(right, down)
    points = np.atleast_2d(np.asarray(points_mm, float))
    camera = points @ np.stack([right, down, into]) + origin
    pixels = camera @ lens.T
    places: NDArray[np.float64] = pixels[:, :2] / pixels[:, 2:]
    return places


def wall_mm(base: str, place_px: ArrayLike) -> NDArray[np.float64]:
    """(2,) millimetres on the wall, right and down from the middle of the paper."""
    point = np.asarray(place_px, float).reshape(1, 1, 2)
    found = cv2.perspectiveTransform(point, np.linalg.inv(wall_plane(base)))
    place: NDArray[np.float64] = np.asarray(found, float).reshape(2)
    return place


def card_quad(
    middle_mm: ArrayLike,
    size_mm: tuple[float, float],
    *,
    yaw_deg: float = 0.0,
    pitch_deg: float = 0.0,
    roll_deg: float = 0.0,
) -> NDArray[np.float64]:
    """(4, 3) corners of a flat thing that is turned, clockwise from the left upper one.

    A positive yaw brings its right side forward, a positive pitch its lower edge.
    """
    yaw, pitch, roll = np.radians([yaw_deg, pitch_deg, roll_deg])
    across = np.array([np.cos(yaw), 0, -np.sin(yaw)])
    down = np.array([0, np.cos(pitch), -np.sin(pitch)])
    right = np.cos(roll) * across + np.sin(roll) * down
    low = -np.sin(roll) * across + np.cos(roll) * down
    corners = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]]) * size_mm
    quad: NDArray[np.float64] = (
        np.asarray(middle_mm, float) + corners[:, :1] * right + corners[:, 1:] * low
    )
    return quad


def placed_card(
    base: str, texture: NDArray[np.uint8], corners_mm: ArrayLike
) -> NDArray[np.float64]:
    """Where a texture lands whose corners are these in space."""
    return in_quad(texture, seen_px(base, corners_mm))
