"""The shape in space of a rectangle that is seen obliquely, from its four corners and the camera.

A sheet seen from above looks shorter than it is and its sides run together. With the focal length
the picture tells its true shape: the map H from the unit square to the picture is, but for a factor,

    K^-1 H = [width r1, height r2, t]

with K the camera's matrix and r1, r2 the directions of the sides, which have length 1 and are square
to each other (Zhang 2000, IEEE TPAMI 22, 1330).
"""

import math
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photo.photo import Photo

__all__ = ["SeenRectangle", "seen_rectangle", "seen_rectangles"]

_UNIT_SQUARE: Final = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)


@dataclass(frozen=True, slots=True)
class SeenRectangle:
    """What four corners are in space.

    Attributes
    ----------
    aspect
        Height over width.
    cosine
        Of the angle between its sides, without sign: 0 in a rectangle.
    obliquity_rad
        Between its normal and the line of sight to its middle.
    """

    aspect: float
    cosine: float
    obliquity_rad: float

    def misfit(self, aspect: float) -> float:
        """How far it is from a rectangle of this height over width: 0 where it is one."""
        return abs(math.log(max(self.aspect, 1e-9) / aspect)) + self.cosine


def seen_rectangles(photo: Photo, corners_px: NDArray[np.float64]) -> tuple[SeenRectangle, ...]:
    """What (4, 2) corners, clockwise from top left, are by each focal length there may be.

    One where the file tells the focal length; else also a standard uncertainty to either side.
    """
    camera = camera_prior(photo)
    shifts = (0.0,) if camera.from_exif else (-camera.log_focal_sd, 0.0, camera.log_focal_sd)
    return tuple(
        seen_rectangle(
            corners_px,
            focal_px=camera.focal_px * float(np.exp(shift)),
            centre_px=camera.centre_px,
        )
        for shift in shifts
    )


def seen_rectangle(
    corners_px: NDArray[np.float64], *, focal_px: float, centre_px: tuple[float, float]
) -> SeenRectangle:
    """The shape of (4, 2) corners, clockwise from top left, in pixels of focal length and centre."""
    rays = ((corners_px - centre_px) / focal_px).astype(np.float32)
    to_rays = cv2.getPerspectiveTransform(_UNIT_SQUARE, rays)
    across, down = to_rays[:, 0], to_rays[:, 1]
    width, height = float(np.linalg.norm(across)), float(np.linalg.norm(down))
    normal = np.cross(across, down)
    sight = to_rays @ [0.5, 0.5, 1.0]
    along = abs(float(normal @ sight))
    lengths = float(np.linalg.norm(normal) * np.linalg.norm(sight))
    return SeenRectangle(
        height / max(width, 1e-12),
        abs(float(across @ down)) / max(width * height, 1e-12),
        float(np.arccos(np.clip(along / max(lengths, 1e-12), 0.0, 1.0))),
    )
