"""OpenCV's cascades of Haar features for faces, which come in its wheel: a second opinion.

They look for patterns of dark and bright where the networks look for what they have learned, so
that they find faces that those miss, and see some in folds of cloth.
"""

import functools
import threading
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.privacy.faces import Face

__all__ = ["CascadeFaces", "cascade_faces"]

#: Longer side of what they look at; they find faces of 20 pixels and more.
_SIDE_PX: Final = 1024
_LEAST_FACE_PX: Final = 20
_STEP: Final = 1.15
_NEIGHBOURS: Final = 4
#: One in three findings is no face, on pictures of groups.
_SCORE: Final = 0.65
#: Their box is wider than the face.
_FACE_PART: Final = 0.85


@functools.cache
def cascade_faces() -> "CascadeFaces":
    """The shared detector of this process."""
    return CascadeFaces()


class CascadeFaces:
    """The cascade for faces from the front that errs least."""

    def __init__(self) -> None:
        shipped = Path(cv2.__file__).with_name("data") / "haarcascade_frontalface_alt2.xml"
        self._cascade = cv2.CascadeClassifier(str(shipped))
        self._lock = threading.Lock()

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """Every face that looks at the camera."""
        shrink = min(1.0, _SIDE_PX / max(pixels.shape[:2]))
        grey = cv2.cvtColor(pixels, cv2.COLOR_RGB2GRAY)
        small = cv2.resize(grey, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
        with self._lock:
            boxes = self._cascade.detectMultiScale(
                small, _STEP, _NEIGHBOURS, minSize=(_LEAST_FACE_PX, _LEAST_FACE_PX)
            )
        return [
            Face(
                ((left + width / 2) / shrink, (top + height / 2) / shrink),
                _FACE_PART * width / shrink,
                _SCORE,
            )
            for left, top, width, height in boxes
        ]
