"""Heads of people who are found by their bodies: a face in a helmet, or turned away, is none to others."""

import functools
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.mediapipe_people import Outline, PeopleDetector
from pose_fit.privacy.faces import Face, Tile, tiles

__all__ = ["HeadsOfPeople", "heads_of_people"]

#: The head's middle above the shoulders, and a face's width, in lengths of the trunk. Drawn around
#: a face of this width, the disc holds the heads of children, which are larger, as well.
_ABOVE_SHOULDERS: Final = 0.40
_FACE_PART: Final = 0.53
#: Side of what the detector is given, pixels.
_GIVEN_PX: Final = 448
#: Tiles in parts of the longer side and what neighbours share. On smaller ones limbs and hands are
#: taken for people: of 38 new finds from 0.6 on tiles of a quarter, two were heads.
_WHOLE: Final = ((1.0, 0.0),)
_HALVES: Final = ((0.5, 0.5),)
#: How sure is enough on each, and the most that a head found by its body counts: no such head is
#: painted over what is measured on this word alone.
_LEAST_ON_WHOLE: Final = 0.7
_LEAST_ON_HALVES: Final = 0.6
_MOST: Final = 0.9


@functools.cache
def heads_of_people(*, nearer: bool = False) -> "HeadsOfPeople":
    """The shared detector of this process; ``nearer`` looks at overlapping halves instead."""
    return (
        HeadsOfPeople(_HALVES, _LEAST_ON_HALVES)
        if nearer
        else HeadsOfPeople(_WHOLE, _LEAST_ON_WHOLE)
    )


class HeadsOfPeople:
    """The first stage of the pose model, which sees several people, on tiles."""

    def __init__(self, grids: Sequence[tuple[float, float]], least_score: float) -> None:
        self._grids = tuple(grids)
        self._least_score = least_score
        self._people = PeopleDetector()

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """The head of everybody found, as a face."""
        return [
            _head(outline, tile)
            for part, overlap in self._grids
            for tile in tiles(pixels, part=part, overlap=overlap, resized_px=_GIVEN_PX)
            for outline in self._people.find(tile.pixels)
            if outline.score >= self._least_score
        ]


def _head(outline: Outline, tile: Tile) -> Face:
    scale = tile.side_px / _GIVEN_PX
    trunk_px = outline.shoulders_px - outline.hips_px
    x_px, y_px = (outline.shoulders_px + _ABOVE_SHOULDERS * trunk_px) * scale
    return Face(
        (tile.left_px + float(x_px), tile.top_px + float(y_px)),
        _FACE_PART * float(np.hypot(*trunk_px)) * scale,
        min(outline.score, _MOST),
    )
