"""The pinhole camera with one radial term, and how it is aimed.

Camera axes are x right, y down, z forward; pixel (0, 0) is the middle of the top left
pixel. The distortion is the first term of the Brown model as OpenCV has it.
"""

from dataclasses import dataclass, replace
from math import cos, hypot, radians, sin
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.scenes.scene import Film, View

__all__ = ["FULL_FRAME_DIAGONAL_MM", "NEAREST_MM", "Camera", "Window", "frame", "window_of"]

#: Diagonal of the 36 x 24 mm frame that "35 mm-equivalent" refers to.
FULL_FRAME_DIAGONAL_MM: Final = 43.2666
_EDGE_SHARE: Final = 0.03
NEAREST_MM: Final = 1200.0
_FARTHEST_MM: Final = 4000.0


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera of known pose: ``rotation`` takes wall axes to camera axes, (3, 3)."""

    focal_px: float
    centre_px: tuple[float, float]
    k1: float
    position_mm: tuple[float, float, float]
    yaw_rad: float
    pitch_rad: float
    roll_rad: float
    width_px: int
    height_px: int

    @property
    def rotation(self) -> NDArray[np.float64]:
        """Yaw about the vertical, then pitch, then roll about the optical axis."""
        cy, sy = cos(self.yaw_rad), sin(self.yaw_rad)
        cp, sp = cos(self.pitch_rad), sin(self.pitch_rad)
        cr, sr = cos(self.roll_rad), sin(self.roll_rad)
        yaw = np.array([[cy, 0, -sy], [0, 1, 0], [sy, 0, cy]])
        pitch = np.array([[1, 0, 0], [0, cp, -sp], [0, sp, cp]])
        roll = np.array([[cr, -sr, 0], [sr, cr, 0], [0, 0, 1]])
        turned: NDArray[np.float64] = roll @ pitch @ yaw
        return turned

    @property
    def matrix(self) -> NDArray[np.float64]:
        """Intrinsic matrix, (3, 3)."""
        x_px, y_px = self.centre_px
        return np.array([[self.focal_px, 0, x_px], [0, self.focal_px, y_px], [0, 0, 1]])

    def project(self, points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
        """Pixels of points in the wall frame, (N, 3) to (N, 2), before crop and resize."""
        seen = (np.atleast_2d(points_mm) - self.position_mm) @ self.rotation.T
        plane = seen[:, :2] / seen[:, 2:]
        stretch = 1 + self.k1 * (plane**2).sum(axis=1, keepdims=True)
        pixels: NDArray[np.float64] = self.focal_px * plane * stretch + self.centre_px
        return pixels

    def undistorted(self, pixels: NDArray[np.float64]) -> NDArray[np.float64]:
        """Image-plane points (x/z, y/z) of pixels, (N, 2) to (N, 2)."""
        bent = np.asarray(pixels, np.float64).reshape(-1, 1, 2)
        criteria = (cv2.TERM_CRITERIA_COUNT | cv2.TERM_CRITERIA_EPS, 60, 1e-12)
        straight = cv2.undistortPointsIter(
            bent, self.matrix, np.array([self.k1, 0.0, 0.0, 0.0]), np.eye(3), np.eye(3), criteria
        )
        return np.asarray(straight, np.float64).reshape(-1, 2)


@dataclass(frozen=True, slots=True)
class Window:
    """The part of the sensor's picture that is kept, and how much it is shrunk."""

    left_px: int
    top_px: int
    width_px: int
    height_px: int
    final_width_px: int
    final_height_px: int

    def apply(self, pixels: NDArray[np.float64]) -> NDArray[np.float64]:
        """Pixels of the final picture from those of the sensor, (N, 2)."""
        scale = self.scale
        moved: NDArray[np.float64] = (pixels - [self.left_px, self.top_px] + 0.5) * scale - 0.5
        return moved

    @property
    def scale(self) -> NDArray[np.float64]:
        """Final over sensor pixels along x and y, (2,)."""
        return np.array(
            [self.final_width_px / self.width_px, self.final_height_px / self.height_px]
        )


def window_of(film: Film, *, width_px: int, height_px: int) -> Window:
    """The window a film keeps of a sensor."""
    left, top = round(film.crop_left * width_px), round(film.crop_top * height_px)
    width = round((1 - film.crop_right) * width_px) - left
    height = round((1 - film.crop_bottom) * height_px) - top
    return Window(
        left_px=left,
        top_px=top,
        width_px=width,
        height_px=height,
        final_width_px=round(film.resize * width),
        final_height_px=round(film.resize * height),
    )


def frame(
    view: View,
    *,
    window: Window,
    width_px: int,
    height_px: int,
    about_mm: NDArray[np.float64],
    must_see_mm: NDArray[np.float64],
) -> Camera | None:
    """Aims the wished-for camera so that all of ``must_see_mm`` is inside the window.

    The camera stands ``view.distance_mm`` from ``about_mm``; it steps back where that
    is too near for the points to fit, and forward where they would fill less of the
    window than ``view.least_fill``.

    Returns
    -------
    Camera or None
        None where the points do not fit even from the farthest place.
    """

    def aimed_from(distance_mm: float) -> tuple[Camera, float, float]:
        return _aimed_from(
            distance_mm,
            view=view,
            window=window,
            about_mm=about_mm,
            must_see_mm=must_see_mm,
            width_px=width_px,
            height_px=height_px,
        )

    distance_mm = view.distance_mm
    camera, reach, extent = aimed_from(distance_mm)
    while extent < view.least_fill and distance_mm > NEAREST_MM:
        distance_mm = max(0.97 * distance_mm, NEAREST_MM)
        camera, reach, extent = aimed_from(distance_mm)
    while reach > 1 and distance_mm < _FARTHEST_MM:
        distance_mm = min(1.03 * distance_mm, _FARTHEST_MM)
        camera, reach, extent = aimed_from(distance_mm)
    return camera if reach <= 1 else None


def _aimed_from(
    distance_mm: float,
    *,
    view: View,
    window: Window,
    about_mm: NDArray[np.float64],
    must_see_mm: NDArray[np.float64],
    width_px: int,
    height_px: int,
) -> tuple[Camera, float, float]:
    """The camera at a distance, aimed; how far the points reach, and how much they fill.

    Both are shares of the window less its margin; a reach above 1 is outside.
    """
    azimuth = radians(view.azimuth_deg)
    camera = Camera(
        focal_px=view.focal_35mm * hypot(width_px, height_px) / FULL_FRAME_DIAGONAL_MM,
        centre_px=(
            (width_px - 1) / 2 + view.centre_shift_x * width_px,
            (height_px - 1) / 2 + view.centre_shift_y * width_px,
        ),
        k1=view.k1,
        position_mm=(
            float(about_mm[0]) + distance_mm * sin(azimuth),
            -view.height_mm,
            float(about_mm[2]) - distance_mm * cos(azimuth),
        ),
        yaw_rad=-azimuth,
        pitch_rad=0.0,
        roll_rad=radians(view.roll_deg),
        width_px=width_px,
        height_px=height_px,
    )
    edge_px = _EDGE_SHARE * window.width_px
    room = np.array([window.width_px, window.height_px]) / 2 - edge_px
    middle = (
        np.array([window.left_px, window.top_px])
        + (np.array([window.width_px, window.height_px]) - 1) / 2
    )
    shift = np.array([view.aim_shift_x, view.aim_shift_y])
    for _ in range(12):
        pixels = camera.project(must_see_mm)
        low, high = pixels.min(axis=0), pixels.max(axis=0)
        slack = np.maximum(room - (high - low) / 2, 0)
        off = (low + high) / 2 - (middle + shift * slack)
        cr, sr = cos(camera.roll_rad), sin(camera.roll_rad)
        level = np.array([cr * off[0] + sr * off[1], -sr * off[0] + cr * off[1]])
        camera = replace(
            camera,
            yaw_rad=camera.yaw_rad + 0.8 * float(level[0]) / camera.focal_px,
            pitch_rad=camera.pitch_rad + 0.8 * float(level[1]) / camera.focal_px,
        )
    pixels = camera.project(must_see_mm)
    low, high = pixels.min(axis=0) - middle, pixels.max(axis=0) - middle
    reach = float((np.maximum(-low, high) / room).max())
    return camera, reach, float(((high - low) / 2 / room).max())
