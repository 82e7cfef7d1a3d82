"""The face detectors of MediaPipe, whose weights come in its wheel."""

import functools
import threading
from collections.abc import Sequence
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.mediapipe_loading import loading_mediapipe
from pose_fit.privacy.faces import Face, Tile, tiles

__all__ = ["MediaPipeFaces", "Range", "mediapipe_faces"]

#: The vendor's two models: for faces that fill much of a picture, and for smaller ones.
Range = Literal["short", "full"]
#: Side of the vendor's own input, pixels.
_INPUT_PX: Final[dict[Range, int]] = {"short": 128, "full": 192}
#: The vendor's own names of them.
_GRAPH: Final[dict[Range, str]] = {
    "short": "FaceDetectionShortRange",
    "full": "FaceDetectionFullRange",
}
#: Tiles in parts of the picture's longer side, and how much neighbours share. The model of short
#: range is quick and sees faces from an eighth of a tile, that of full range from a twentieth.
_TILES: Final[dict[Range, tuple[tuple[float, float], ...]]] = {
    "short": ((1.0, 0.0), (0.5, 0.5), (0.25, 0.5), (0.125, 0.5)),
    "full": ((1.0, 0.0), (0.5, 0.3), (0.25, 0.3), (0.125, 0.2)),
}
#: Tiles below this side hold no face that anybody would know.
_LEAST_TILE_PX: Final = 96
#: A tile of this part and more is a large one.
_LARGE: Final = 0.5
#: Below this most finds of a single look are none.
_LEAST_SCORE: Final[dict[Range, float]] = {"short": 0.5, "full": 0.6}


@functools.cache
def mediapipe_faces(reach: Range, *, only_large: bool = False) -> "MediaPipeFaces":
    """The shared detector of this process; ``only_large`` leaves the smaller tiles out."""
    grids = [grid for grid in _TILES[reach] if not only_large or grid[0] >= _LARGE]
    return MediaPipeFaces(reach, grids)


class MediaPipeFaces:
    """One of MediaPipe's face detectors, looked through on overlapping tiles of several sizes.

    Parameters
    ----------
    grids
        Each a tile's side, in parts of the picture's longer side, and how much neighbours share.
    least_score
        Finds of a lower score are left out.
    least_tile_px
        Grids of smaller tiles are left out.
    """

    def __init__(
        self,
        reach: Range,
        grids: Sequence[tuple[float, float]],
        *,
        least_score: float | None = None,
        least_tile_px: float = _LEAST_TILE_PX,
    ) -> None:
        self._reach: Range = reach
        self._grids = tuple(grids)
        self._least_tile_px = least_tile_px
        self._lock = threading.Lock()
        self._graph = _graph(reach, _LEAST_SCORE[reach] if least_score is None else least_score)

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """Every face on every tile."""
        return [face for look in self.looks(pixels) for face in look]

    def looks(self, pixels: NDArray[np.uint8]) -> list[list[Face]]:
        """The faces on the tiles of each grid."""
        longer_px = max(pixels.shape[:2])
        size_px = _INPUT_PX[self._reach]
        return [
            [
                face
                for tile in tiles(pixels, part=part, overlap=overlap, resized_px=size_px)
                for face in self._on_tile(tile)
            ]
            for part, overlap in self._grids
            if part == 1.0 or part * longer_px >= self._least_tile_px
        ]

    def _on_tile(self, tile: Tile) -> list[Face]:
        with self._lock:
            found = self._graph.process({"image": tile.pixels}).detections or ()
        return [_face(detection, tile) for detection in found]


def _graph(reach: Range, least_score: float) -> Any:
    """The vendor's graph with a score of our own: its Python ignores the one it is given."""
    with loading_mediapipe():
        from mediapipe.framework import calculator_pb2
        from mediapipe.python.solution_base import SolutionBase

        config = calculator_pb2.CalculatorGraphConfig(
            input_stream=["image"], output_stream=["detections"]
        )
        config.node.add(
            calculator=f"{_GRAPH[reach]}Cpu",
            input_stream=["IMAGE:image"],
            output_stream=["DETECTIONS:detections"],
        )
        inside = f"{_GRAPH[reach]}Cpu__{_GRAPH[reach]}__FaceDetection".lower()
        graph = SolutionBase(
            graph_config=config,
            outputs=["detections"],
            calculator_params={
                f"{inside}__TensorsToDetectionsCalculator.min_score_thresh": least_score
            },
        )
        graph.process({"image": np.zeros((64, 64, 3), np.uint8)})
    return graph


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
