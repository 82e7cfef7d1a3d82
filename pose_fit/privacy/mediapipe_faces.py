"""The face detectors of MediaPipe, whose weights come in its wheel."""

import functools
import threading
import warnings
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.mediapipe_pose import quiet_stderr
from pose_fit.privacy.faces import Face, Tile, tiles

__all__ = ["MediaPipeFaces", "Range", "mediapipe_faces"]

#: The vendor's two models: for faces that fill much of a picture, and for smaller ones.
Range = Literal["short", "full"]
#: Side of the vendor's own input, pixels.
_INPUT_PX: Final[dict[Range, int]] = {"short": 128, "full": 192}
_SELECTION: Final[dict[Range, int]] = {"short": 0, "full": 1}
#: Tiles in parts of the picture's longer side, and how much neighbours share. The model of short
#: range is quick and sees faces from an eighth of a tile, that of full range from a twentieth.
_TILES: Final[dict[Range, tuple[tuple[float, float], ...]]] = {
    "short": ((1.0, 0.0), (0.5, 0.5), (0.25, 0.5), (0.125, 0.5)),
    "full": ((1.0, 0.0), (0.5, 0.3), (0.25, 0.3), (0.125, 0.2)),
}
#: Tiles below this side hold no face that anybody would know.
_LEAST_TILE_PX: Final = 96
#: Below this most finds are none.
_LEAST_SCORE: Final = 0.5


@functools.cache
def mediapipe_faces(reach: Range, *, only_large: bool = False) -> "MediaPipeFaces":
    """The shared detector of this process; ``only_large`` leaves the smaller tiles out."""
    return MediaPipeFaces(reach, least_part=0.5 if only_large else 0.0)


class MediaPipeFaces:
    """One of MediaPipe's face detectors, looked through on overlapping tiles of several sizes."""

    def __init__(self, reach: Range, *, least_part: float = 0.0) -> None:
        self._reach: Range = reach
        self._least_part = least_part
        self._lock = threading.Lock()
        with quiet_stderr(), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            from mediapipe.python.solutions.face_detection import FaceDetection

            self._model = FaceDetection(
                model_selection=_SELECTION[reach], min_detection_confidence=_LEAST_SCORE
            )
            self._model.process(np.zeros((64, 64, 3), np.uint8))

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """Every face on every tile."""
        longer_px = max(pixels.shape[:2])
        return [
            face
            for part, overlap in _TILES[self._reach]
            if part == 1.0 or (part * longer_px >= _LEAST_TILE_PX and part >= self._least_part)
            for tile in tiles(pixels, part=part, overlap=overlap, resized_px=_INPUT_PX[self._reach])
            for face in self._on_tile(tile)
        ]

    def _on_tile(self, tile: Tile) -> list[Face]:
        with self._lock, warnings.catch_warnings():
            # The vendor's Python still asks protobuf for a field by its old name.
            warnings.simplefilter("ignore")
            found = self._model.process(tile.pixels).detections or ()
        return [_face(detection, tile) for detection in found]


def _face(detection: Any, tile: Tile) -> Face:
    box = detection.location_data.relative_bounding_box
    return Face(
        (
            tile.left_px + (box.xmin + box.width / 2) * tile.side_px,
            tile.top_px + (box.ymin + box.height / 2) * tile.side_px,
        ),
        max(box.width, box.height) * tile.side_px,
        float(detection.score[0]),
    )
