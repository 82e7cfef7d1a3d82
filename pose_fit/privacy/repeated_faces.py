"""Faces that one look leaves in doubt: blurred, small, from the side, in the dark or under a helmet.

The network gives such a face little, but gives it again: on larger and smaller tiles, in the mirror
and in brightened pixels. What looks like a face by chance does so in one or two of these looks.
"""

import functools
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.privacy.faces import Face, groups_of
from pose_fit.privacy.mediapipe_faces import MediaPipeFaces

__all__ = ["RepeatedFaces", "repeated_faces", "seen_repeatedly"]

#: Tiles in parts of the longer side, and what neighbours share; each size is a look of its own.
_GRIDS: Final = ((1.0, 0.0), (0.5, 0.3), (0.35, 0.3), (0.25, 0.3), (0.177, 0.3), (0.125, 0.3))
_LEAST_TILE_PX: Final = 48.0
#: The least score that one look counts with, and the sum over all looks from which it is a face.
#: In 50 real pictures of several people this finds 24 of 52 faces that were left, most of them
#: of spectators, for three discs a picture where there is none.
_LEAST_SCORE: Final = 0.25
_ENOUGH: Final = 1.5
#: As seen by one look alone: every third of its finds is none.
_SCORE: Final = 0.65
#: Smaller ones are specks.
_LEAST_FACE_PX: Final = 5.0
#: Local contrast: how far it is raised, and in how many parts of each side.
_CONTRAST: Final = 3.0
_PARTS: Final = (8, 8)

_Pixels = NDArray[np.uint8]


@functools.cache
def repeated_faces() -> "RepeatedFaces":
    """The shared detector of this process."""
    return RepeatedFaces()


class RepeatedFaces:
    """MediaPipe's face detector of full range, asked many times and believed by the sum."""

    def __init__(self) -> None:
        self._plain, self._mirrored, self._brightened = (
            MediaPipeFaces("full", _GRIDS, least_score=_LEAST_SCORE, least_tile_px=_LEAST_TILE_PX)
            for _ in range(3)
        )

    def find(self, pixels: _Pixels) -> list[Face]:
        """Every face that several looks see."""
        ways: tuple[Callable[[_Pixels], list[list[Face]]], ...] = (
            self._plain.looks,
            self._in_mirror,
            lambda seen: self._brightened.looks(_brightened(seen)),
        )
        with ThreadPoolExecutor(max_workers=len(ways)) as pool:
            looks = [look for found in pool.map(lambda way: way(pixels), ways) for look in found]
        return seen_repeatedly(looks)

    def _in_mirror(self, pixels: _Pixels) -> list[list[Face]]:
        last_px = pixels.shape[1] - 1
        return [
            [
                replace(face, centre_px=(last_px - face.centre_px[0], face.centre_px[1]))
                for face in look
            ]
            for look in self._mirrored.looks(np.ascontiguousarray(pixels[:, ::-1]))
        ]


def seen_repeatedly(looks: Sequence[Sequence[Face]]) -> list[Face]:
    """The faces whose scores, the surest of each look, add up to enough."""
    opinions = [group[0] for look in looks for group in groups_of(look)]
    return [
        Face(group[0].centre_px, group[0].width_px, _SCORE)
        for group in groups_of(opinions)
        if group[0].width_px >= _LEAST_FACE_PX and sum(face.score for face in group) >= _ENOUGH
    ]


def _brightened(pixels: _Pixels) -> _Pixels:
    """The same with more contrast in each part: faces in the shade and against the light."""
    lab = cv2.cvtColor(pixels, cv2.COLOR_RGB2LAB)
    lab[..., 0] = cv2.createCLAHE(_CONTRAST, _PARTS).apply(lab[..., 0])
    return np.asarray(cv2.cvtColor(lab, cv2.COLOR_LAB2RGB), np.uint8)
