"""The face detectors of MediaPipe, whose weights come in its wheel."""

import functools
import threading
import warnings
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.mediapipe_loading import loading_mediapipe
from pose_fit.privacy.faces import Face, Tile, tiles

__all__ = ["MediaPipeFaces", "Range", "mediapipe_faces", "mirrored_faces"]

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
#: For a second search in mirrored pixels: other tiles than those of the first, for two detectors.
_MIRRORED_TILES: Final = (((0.35, 0.3), (0.177, 0.3)), ((0.125, 0.2),))
#: Tiles below this side hold no face that anybody would know.
_LEAST_TILE_PX: Final = 96
#: A tile of this part and more is a large one.
_LARGE: Final = 0.5
#: Below this most finds are none.
_LEAST_SCORE: Final = 0.5


@functools.cache
def mediapipe_faces(reach: Range, *, only_large: bool = False) -> "MediaPipeFaces":
    """The shared detector of this process; ``only_large`` leaves the smaller tiles out."""
    grids = [grid for grid in _TILES[reach] if not only_large or grid[0] >= _LARGE]
    return MediaPipeFaces(reach, grids)


@functools.cache
def mirrored_faces() -> tuple["MediaPipeFaces", ...]:
    """Detectors for a second search: a network sees some faces only the other way round."""
    return tuple(MediaPipeFaces("full", grids, mirrored=True) for grids in _MIRRORED_TILES)


class MediaPipeFaces:
    """One of MediaPipe's face detectors, looked through on overlapping tiles of several sizes.

    Parameters
    ----------
    grids
        Each a tile's side, in parts of the picture's longer side, and how much neighbours share.
    mirrored
        Whether the picture is looked at as in a mirror.
    """

    def __init__(
        self, reach: Range, grids: Sequence[tuple[float, float]], *, mirrored: bool = False
    ) -> None:
        self._reach: Range = reach
        self._grids = tuple(grids)
        self._mirrored = mirrored
        self._lock = threading.Lock()
        with loading_mediapipe(), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            from mediapipe.python.solutions.face_detection import FaceDetection

            self._model = FaceDetection(
                model_selection=_SELECTION[reach], min_detection_confidence=_LEAST_SCORE
            )
            self._model.process(np.zeros((64, 64, 3), np.uint8))

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """Every face on every tile."""
        if not self._mirrored:
            return self._find(pixels)
        last_px = pixels.shape[1] - 1
        return [
            replace(face, centre_px=(last_px - face.centre_px[0], face.centre_px[1]))
            for face in self._find(np.ascontiguousarray(pixels[:, ::-1]))
        ]

    def _find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        longer_px = max(pixels.shape[:2])
        return [
            face
            for part, overlap in self._grids
            if part == 1.0 or part * longer_px >= _LEAST_TILE_PX
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
