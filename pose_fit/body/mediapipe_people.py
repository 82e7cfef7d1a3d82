"""Everybody in the picture, before one of them is measured.

The pose model looks at one person only. Its first stage finds all, and is run alone here:
on the whole picture, and on the part around the person found, where others stand who
could be meant too. Whoever it reports is looked at once more by the caller, so that
a poster's face or a coat on a hook does not count as somebody.
"""

import threading
from dataclasses import dataclass
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.cover import covered
from pose_fit.body.mediapipe_loading import loading_mediapipe
from pose_fit.photo.halved import halved, in_halved

__all__ = ["Outline", "PeopleDetector"]

#: The detector's own input is 224 pixels a side.
_SIDE_PX: Final = 448


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """Somebody in the picture, working pixels.

    Attributes
    ----------
    hips_px
        (2,) array: between the hips.
    reach_px
        From there to the farthest part of the body when it is stretched.
    shoulders_px
        (2,) array: between the shoulders.
    score
        How surely it is a person, 0 to 1.
    """

    hips_px: NDArray[np.float64]
    reach_px: float
    shoulders_px: NDArray[np.float64]
    score: float


class PeopleDetector:
    """The first stage of the pose model, which sees several people."""

    def __init__(self) -> None:
        with loading_mediapipe():
            from mediapipe.framework import calculator_pb2
            from mediapipe.python.solution_base import SolutionBase

        config = calculator_pb2.CalculatorGraphConfig(
            input_stream=["image"], output_stream=["detections"]
        )
        config.node.add(
            calculator="PoseDetectionCpu",
            input_stream=["IMAGE:image"],
            output_stream=["DETECTIONS:detections"],
        )
        self._graph = SolutionBase(graph_config=config, outputs=["detections"])
        self._lock = threading.Lock()

    def find(
        self,
        pixels: NDArray[np.uint8],
        *,
        around: NDArray[np.float64] | None = None,
        but: NDArray[np.float64] | None = None,
    ) -> list[Outline]:
        """Everybody in the picture, or in its square part ``around`` (centre x, y, half side).

        ``but`` are (L, 2) landmarks of somebody who is covered first.
        """
        height_px, width_px = pixels.shape[:2]
        if around is None:
            around = np.array(
                [(width_px - 1) / 2, (height_px - 1) / 2, max(width_px, height_px) / 2]
            )
        centre_px, half = around[:2], float(around[2])
        scale, middle = _SIDE_PX / (2 * half), (_SIDE_PX - 1) / 2
        to_crop = np.column_stack([scale * np.eye(2), middle - scale * centre_px])
        while half > _SIDE_PX:
            pixels, half = halved(pixels), half / 2
            centre_px = in_halved(centre_px)
            but = None if but is None else in_halved(but)
        if but is not None:
            pixels = covered(pixels, [but])
        crop = _square(pixels, np.array([*centre_px, half]))
        with self._lock:
            found = self._graph.process({"image": crop})
        return [
            _outline(detection, to_crop) for detection in getattr(found, "detections", None) or ()
        ]


def _square(pixels: NDArray[np.uint8], around: NDArray[np.float64]) -> NDArray[np.uint8]:
    """The square part, black beyond the picture, at the detector's size."""
    height_px, width_px = pixels.shape[:2]
    centre_x, centre_y, half = around
    left, top, side = round(centre_x - half), round(centre_y - half), max(round(2 * half), 2)
    square = np.zeros((side, side, 3), np.uint8)
    x0, y0 = max(left, 0), max(top, 0)
    x1, y1 = min(left + side, width_px), min(top + side, height_px)
    square[y0 - top : y1 - top, x0 - left : x1 - left] = pixels[y0:y1, x0:x1]
    smooth = cv2.INTER_AREA if side > _SIDE_PX else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(square, (_SIDE_PX, _SIDE_PX), interpolation=smooth))


def _outline(detection: Any, to_crop: NDArray[np.float64]) -> Outline:
    # Between the hips, on the circle that holds the body, and between the shoulders.
    marks = detection.location_data.relative_keypoints[:3]
    hips_px, rim_px, shoulders_px = (
        (np.array([mark.x, mark.y]) * _SIDE_PX - 0.5 - to_crop[:, 2]) / to_crop[0, 0]
        for mark in marks
    )
    reach_px = float(np.hypot(*(rim_px - hips_px)))
    return Outline(hips_px, reach_px, shoulders_px, float(detection.score[0]))
