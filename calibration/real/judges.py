"""Face detectors that say what is left of the faces once they are hidden.

Two of them are not what the program itself hides by: dlib's histogram of gradients
(`pip install dlib-bin`), and a network of another project as an ONNX file that gives scores and
corners, parts of the picture's sides, for a picture of 640 x 480.
"""

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.privacy.faces import Face, FaceDetector
from pose_fit.privacy.mediapipe_faces import mediapipe_faces

__all__ = ["DlibFaces", "NetworkFaces", "WholeCascades", "judges"]

_Pixels = NDArray[np.uint8]
#: What counts as found: above the vendors' own examples' limits.
_DLIB_LEAST: Final = 0.0
_NETWORK_LEAST: Final = 0.8
_NETWORK_PX: Final = (640, 480)
_SAME_BOX: Final = 0.3
_CASCADES: Final = ("frontalface_default", "profileface")
_CASCADE_FOLDER: Final = Path(cv2.__file__).with_name("data")


def judges(network: Path | None) -> dict[str, FaceDetector]:
    """Every judge that this machine has, by name."""
    found: dict[str, FaceDetector] = {
        "mediapipe": mediapipe_faces("full"),
        "cascades": WholeCascades(),
    }
    with contextlib.suppress(ImportError):
        found["dlib"] = DlibFaces()
    if network is not None:
        found["network"] = NetworkFaces(network)
    return found


class WholeCascades:
    """OpenCV's cascades that the program does not use, at the picture's full size."""

    def __init__(self) -> None:
        self._cascades = [
            cv2.CascadeClassifier(str(_CASCADE_FOLDER / f"haarcascade_{name}.xml"))
            for name in _CASCADES
        ]

    def find(self, pixels: _Pixels) -> list[Face]:
        """Faces from the front and from the side."""
        grey = cv2.cvtColor(pixels, cv2.COLOR_RGB2GRAY)
        return [
            _face(float(left), float(top), float(width), float(height), 0.6)
            for cascade in self._cascades
            for left, top, width, height in cascade.detectMultiScale(grey, 1.1, 5)
        ]


class DlibFaces:
    """The histogram of gradients of dlib, on small pictures enlarged to twice their size."""

    def __init__(self) -> None:
        import dlib

        self._detector: Any = dlib.get_frontal_face_detector()

    def find(self, pixels: _Pixels) -> list[Face]:
        """Faces of 80 pixels and more, 40 in small pictures."""
        boxes, scores, _ = self._detector.run(
            np.ascontiguousarray(pixels), int(max(pixels.shape) < 1300), _DLIB_LEAST
        )
        return [
            _face(box.left(), box.top(), box.width(), box.height(), min(0.5 + score / 2, 1.0))
            for box, score in zip(boxes, scores, strict=True)
        ]


class NetworkFaces:
    """A network run by OpenCV on the picture and on its nine overlapping quarters."""

    def __init__(self, file: Path) -> None:
        self._network = cv2.dnn.readNetFromONNX(str(file))

    def find(self, pixels: _Pixels) -> list[Face]:
        """Faces of all sizes."""
        boxes: list[tuple[float, float, float, float]] = []
        scores: list[float] = []
        for left, top, part in _quarters(pixels):
            height, width = part.shape[:2]
            blob = cv2.dnn.blobFromImage(part, 1 / 128, _NETWORK_PX, (127, 127, 127))
            self._network.setInput(blob)
            corners, likely = self._network.forward(["boxes", "scores"])
            for (x0, y0, x1, y1), score in zip(corners[0], likely[0, :, 1], strict=True):
                if score > _NETWORK_LEAST:
                    boxes.append(
                        (
                            left + x0 * width,
                            top + y0 * height,
                            (x1 - x0) * width,
                            (y1 - y0) * height,
                        )
                    )
                    scores.append(float(score))
        kept = cv2.dnn.NMSBoxes(boxes, scores, _NETWORK_LEAST, _SAME_BOX) if boxes else []
        found = []
        for place in np.ravel(kept).astype(int).tolist():
            box_left, box_top, box_width, box_height = boxes[place]
            found.append(_face(box_left, box_top, box_width, box_height, scores[place]))
        return found


def _quarters(pixels: _Pixels) -> Iterator[tuple[int, int, _Pixels]]:
    yield 0, 0, pixels
    height, width = pixels.shape[:2]
    if max(height, width) < _NETWORK_PX[0]:
        return
    for top in (0, height // 4, height // 2):
        for left in (0, width // 4, width // 2):
            yield left, top, pixels[top : top + height // 2, left : left + width // 2]


def _face(left: float, top: float, width: float, height: float, score: float) -> Face:
    return Face((left + width / 2, top + height / 2), max(width, height), score)
