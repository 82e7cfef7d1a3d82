"""The one place that knows MediaPipe: its landmarks and mask become a `Body`.

The model is looked through several times, at shifted, scaled and mirrored crops
of the same person. The mean of those looks is steadier than one look, and their
scatter is what this photo says of the model's noise.
"""

import contextlib
import functools
import os
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo import Photo

__all__ = ["MediaPipePose", "pose_model"]

#: Index of each of our landmarks in the vendor's list of 33.
_VENDOR_INDEX: Final = (0, 2, 5, 7, 8, 11, 12, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32)
#: For each of our landmarks its twin on the other side of the body.
_TWIN: Final = (0, 2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11, 14, 13, 16, 15)


@dataclass(frozen=True, slots=True)
class _Crop:
    """A look: margin around the person, shift in parts of the box, and mirroring."""

    margin: float
    shift_x: float
    shift_y: float
    mirrored: bool


_CROPS: Final = (
    _Crop(0.25, 0.00, 0.00, False),
    _Crop(0.25, 0.00, 0.00, True),
    _Crop(0.40, 0.05, -0.03, False),
    _Crop(0.40, 0.05, 0.03, True),
    _Crop(0.15, -0.03, 0.02, False),
    _Crop(0.15, 0.03, -0.02, True),
)
#: Longer side of a crop, pixels: several times the model's own 256, so nothing is lost.
_CROP_SIDE_PX: Final = 640


@functools.cache
def pose_model() -> "MediaPipePose":
    """The shared model of this process; loading it takes over a second, so it is done once."""
    return MediaPipePose()


class MediaPipePose:
    """MediaPipe's pose model of complexity 1, whose weights come in its wheel."""

    def __init__(self) -> None:
        os.environ.setdefault("GLOG_minloglevel", "2")
        with _quiet_stderr():
            from mediapipe.python.solutions import pose

            self._pose = pose.Pose(
                static_image_mode=True,
                model_complexity=1,
                smooth_landmarks=False,
                enable_segmentation=True,
                smooth_segmentation=False,
            )
            # The native library writes its banner at the first run, not at construction.
            self._pose.process(np.zeros((64, 64, 3), np.uint8))
        self._lock = threading.Lock()

    def find(self, photo: Photo) -> Body | None:
        """The most prominent person, looked at several times; None where there is nobody."""
        first = self._look(photo.pixels)
        if first is None:
            return None
        box = _person_box(first.points_px)
        looks = [look for crop in _CROPS if (look := self._look_at(photo.pixels, box, crop))]
        if len(looks) < 2:
            return None
        return Body(
            passes_px=photo.upright_px(np.stack([look.points_px for look in looks])),
            visibility=np.mean([look.visibility for look in looks], axis=0),
            mask=np.mean([look.mask for look in looks], axis=0, dtype=np.float32),
        )

    def _look(self, pixels: NDArray[np.uint8]) -> "_Look | None":
        with self._lock:
            found: Any = self._pose.process(np.ascontiguousarray(pixels))
        if found.pose_landmarks is None or found.segmentation_mask is None:
            return None
        height_px, width_px = pixels.shape[:2]
        marks = [found.pose_landmarks.landmark[index] for index in _VENDOR_INDEX]
        # The vendor's coordinates run from 0 at the left edge of the first pixel to 1.
        points_px = np.array([(mark.x * width_px, mark.y * height_px) for mark in marks]) - 0.5
        return _Look(
            points_px,
            np.array([mark.visibility for mark in marks]),
            np.asarray(found.segmentation_mask, np.float32),
        )

    def _look_at(
        self, pixels: NDArray[np.uint8], box: NDArray[np.float64], crop: _Crop
    ) -> "_Look | None":
        to_crop, size = _crop_matrix(box, crop)
        look = self._look(
            cv2.warpAffine(  # type: ignore[arg-type]
                pixels, to_crop, size, flags=cv2.INTER_AREA, borderMode=cv2.BORDER_REPLICATE
            )
        )
        if look is None:
            return None
        to_photo = cv2.invertAffineTransform(to_crop)
        points_px = look.points_px @ to_photo[:, :2].T + to_photo[:, 2]
        visibility = look.visibility
        if crop.mirrored:
            points_px, visibility = points_px[list(_TWIN)], visibility[list(_TWIN)]
        height_px, width_px = pixels.shape[:2]
        mask = cv2.warpAffine(look.mask, to_photo, (width_px, height_px), flags=cv2.INTER_LINEAR)
        return _Look(points_px, visibility, mask.astype(np.float32))


@dataclass(frozen=True, slots=True)
class _Look:
    """What one run of the model saw: (L, 2) points, (L,) visibility, (H, W) mask."""

    points_px: NDArray[np.float64]
    visibility: NDArray[np.float64]
    mask: NDArray[np.float32]


def _person_box(points_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """Centre x, centre y, half width and half height of the square around the landmarks."""
    low, high = points_px.min(axis=0), points_px.max(axis=0)
    half = max(*(high - low), 32.0) / 2
    return np.array([*(low + high) / 2, half * 0.75, half])


def _crop_matrix(
    box: NDArray[np.float64], crop: _Crop
) -> tuple[NDArray[np.float64], tuple[int, int]]:
    """(2, 3) affine map from the picture to the crop, and the crop's width and height."""
    centre_x, centre_y, half_width, half_height = box
    half_width, half_height = half_width * (1 + crop.margin), half_height * (1 + crop.margin)
    centre_x, centre_y = centre_x + crop.shift_x * half_width, centre_y + crop.shift_y * half_height
    scale = min(1.0, _CROP_SIDE_PX / (2 * half_height))
    width_px, height_px = round(2 * half_width * scale), round(2 * half_height * scale)
    sign = -1.0 if crop.mirrored else 1.0
    matrix = np.array(
        [
            [sign * scale, 0.0, (width_px - 1) / 2 - sign * scale * centre_x],
            [0.0, scale, (height_px - 1) / 2 - scale * centre_y],
        ]
    )
    return matrix, (width_px, height_px)


@contextlib.contextmanager
def _quiet_stderr() -> Iterator[None]:
    """Send the process's standard error to nowhere: the native library greets there."""
    sys.stderr.flush()
    saved = os.dup(2)
    try:
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), 2)
        yield
    finally:
        os.dup2(saved, 2)
        os.close(saved)
