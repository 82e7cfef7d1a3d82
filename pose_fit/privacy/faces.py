"""Every face in a picture, by several detectors that miss different ones.

The pose model knows of one person, and of those beside it whose bodies it sees. A spectator's
head, a face in a mirror or on a poster belongs to nobody it found, so faces are looked for by
themselves. A patch of wall taken for a face costs little; a face that stays costs more.
"""

from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Final, Protocol

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.halved import halved

__all__ = ["Face", "FaceDetector", "Tile", "find_faces", "groups_of", "tiles"]

#: Two findings are one face where their middles lie this near, in widths of the larger, and
#: their sizes differ by less than this factor.
_SAME_PLACE: Final = 0.45
_SAME_SIZE: Final = 2.5


@dataclass(frozen=True, slots=True)
class Face:
    """A face, or what looks like one.

    Attributes
    ----------
    centre_px
        (x, y) of its middle, between the eyes and the mouth.
    width_px
        From ear to ear.
    score
        How surely it is a face, 0 to 1.
    """

    centre_px: tuple[float, float]
    width_px: float
    score: float

    def is_same(self, other: "Face") -> bool:
        """Whether both are one face, as two detectors see it."""
        wider, narrower = sorted((self.width_px, other.width_px), reverse=True)
        apart_px = np.hypot(*np.subtract(self.centre_px, other.centre_px))
        return bool(apart_px < _SAME_PLACE * wider and wider < _SAME_SIZE * narrower)


class FaceDetector(Protocol):
    """What a face detector must do for us; a new one needs one class with this method."""

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """Every face in (H, W, 3) RGB pixels, small ones too; one face may come several times."""
        ...


def find_faces(pixels: NDArray[np.uint8], detectors: Sequence[FaceDetector]) -> tuple[Face, ...]:
    """Every face that a detector finds, each once; the detectors run at the same time.

    Each detector that sees a face leaves ``1 - score`` of the doubt. What one detector sees on
    several tiles is one opinion, the surest.
    """
    with ThreadPoolExecutor(max_workers=max(len(detectors), 1)) as pool:
        found = pool.map(lambda detector: detector.find(pixels), detectors)
        opinions = [group[0] for faces in found for group in groups_of(faces)]
    return tuple(
        Face(
            group[0].centre_px,
            group[0].width_px,
            1 - float(np.prod([1 - face.score for face in group])),
        )
        for group in groups_of(opinions)
    )


def groups_of(faces: Iterable[Face]) -> list[list[Face]]:
    """Findings of the same face, the surest first."""
    groups: list[list[Face]] = []
    for face in sorted(faces, key=lambda face: -face.score):
        group = next((group for group in groups if group[0].is_same(face)), None)
        if group is None:
            groups.append([face])
        else:
            group.append(face)
    return groups


@dataclass(frozen=True, eq=False, slots=True)
class Tile:
    """A square part of a picture, resized for a detector.

    Attributes
    ----------
    left_px, top_px, side_px
        Where it lies in the picture; it may reach beyond.
    pixels
        (S, S, 3) RGB, black beyond the picture.
    """

    left_px: int
    top_px: int
    side_px: int
    pixels: NDArray[np.uint8]


def tiles(
    pixels: NDArray[np.uint8], *, part: float, overlap: float, resized_px: int
) -> Iterator[Tile]:
    """Overlapping squares that cover a picture.

    Parameters
    ----------
    part
        Their side, in parts of the picture's longer side.
    overlap
        How much of its side a tile shares with its neighbour, at least: a face that is at most
        this large lies whole in one of them.
    """
    height_px, width_px = pixels.shape[:2]
    side_px = max(round(part * max(height_px, width_px)), 2)
    for top_px in _starts(height_px, side_px, overlap):
        for left_px in _starts(width_px, side_px, overlap):
            yield Tile(
                left_px, top_px, side_px, _square(pixels, left_px, top_px, side_px, resized_px)
            )


def _starts(length_px: int, side_px: int, overlap: float) -> list[int]:
    """Where tiles begin along one side of the picture, evenly spread."""
    spare_px = length_px - side_px
    if spare_px <= 0:
        return [spare_px // 2]
    count = int(np.ceil(spare_px / ((1 - overlap) * side_px))) + 1
    return [round(start) for start in np.linspace(0, spare_px, count)]


def _square(
    pixels: NDArray[np.uint8], left_px: int, top_px: int, side_px: int, resized_px: int
) -> NDArray[np.uint8]:
    height_px, width_px = pixels.shape[:2]
    left, top = max(left_px, 0), max(top_px, 0)
    right, bottom = min(left_px + side_px, width_px), min(top_px + side_px, height_px)
    part = pixels[top:bottom, left:right]
    if part.shape[:2] != (side_px, side_px):
        border = (
            top - top_px,
            top_px + side_px - bottom,
            left - left_px,
            left_px + side_px - right,
        )
        part = np.asarray(cv2.copyMakeBorder(part, *border, cv2.BORDER_CONSTANT), np.uint8)
    while min(part.shape[:2]) >= 2 * resized_px:
        part = halved(part)
    smooth = cv2.INTER_AREA if len(part) > resized_px else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(part, (resized_px, resized_px), interpolation=smooth), np.uint8)
