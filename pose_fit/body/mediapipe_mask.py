"""Pixels that belong to any person, whole or cut off, by MediaPipe's segmentation of people.

The pose model starts from a head, so that somebody of whom only legs are in the picture is nobody
to it. This model knows no heads: it paints whatever looks like a part of a person.
"""

import functools
import threading

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.mediapipe_loading import loading_mediapipe

__all__ = ["PeopleMask", "people_mask"]


@functools.cache
def people_mask() -> "PeopleMask":
    """The shared model of this process; its weights come in MediaPipe's wheel."""
    return PeopleMask()


class PeopleMask:
    """The segmentation of people, which looks at one square part of a picture at a time."""

    def __init__(self) -> None:
        with loading_mediapipe():
            from mediapipe.python.solutions.selfie_segmentation import SelfieSegmentation

            self._model = SelfieSegmentation(model_selection=0)
            self._model.process(np.zeros((64, 64, 3), np.uint8))
        self._lock = threading.Lock()

    def find(self, pixels: NDArray[np.uint8]) -> NDArray[np.float32]:
        """(H, W) array in [0, 1]: how surely each of (H, W, 3) pixels is a person's."""
        with self._lock:
            found = self._model.process(np.ascontiguousarray(pixels))
        return np.asarray(found.segmentation_mask, np.float32)
