"""The lowest point of each foot in the picture: where toe or shoe meets the floor."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import ToesCandidate

__all__ = ["SEARCHED_BELOW_PART", "find_toes"]

#: The foot is looked for this near its toe landmark: sideways, and below it, in legs.
_SIDEWAYS: Final = 0.06
SEARCHED_BELOW_PART: Final = 0.16
#: A foot's lowest point lies at least this far below its toe landmark, which marks the joint of
#: the big toe; a mask that ends higher has lost the shoe against the floor.
_LEAST_BELOW: Final = 0.008
#: Share of belief in two feet that are seen, and in one that stands for both.
_BOTH, _ONE = 0.95, 0.75


def find_toes(photo: Photo, body: Body) -> tuple[ToesCandidate, ...]:
    """The lowest points of both feet, or of the one that is seen; none where neither is."""
    found = [
        point
        for mark in ("left_toe", "right_toe")
        if (point := _lowest_point(photo, body, mark)) is not None
    ]
    if not found:
        return ()
    points_px = photo.upright_px(np.array([found[0], found[-1]], float))
    return (ToesCandidate(points_px, _BOTH if len(found) == 2 else _ONE),)


def _lowest_point(photo: Photo, body: Body, mark: Landmark) -> NDArray[np.float64] | None:
    """(2,) working pixels of a foot's lowest point in the mask, or None.

    The mask is an average over several looks, so its half-way crossing is finer than
    its cells. A foot that runs into the picture's edge, or that the mask has lost, has no
    lowest point.
    """
    leg_px = body.leg_px / photo.working_scale
    height, width = body.mask.shape
    x_px, y_px = photo.working_px(body.point_px(mark))
    left = max(int(x_px - _SIDEWAYS * leg_px), 0)
    right = min(int(x_px + _SIDEWAYS * leg_px) + 1, width)
    lowest = min(int(y_px + SEARCHED_BELOW_PART * leg_px) + 1, height)
    highest = max(int(y_px - _SIDEWAYS * leg_px), 0)
    window = body.mask[highest:lowest, left:right]
    if right - left < 2 or lowest - highest < 3 or not (window > 0.5).any():
        return None
    rows = np.where(window > 0.5, np.arange(len(window))[:, None], -1)
    column = int(rows.max(axis=0).argmax())
    row = int(rows[:, column].max())
    if highest + row + 1 >= height - 1 or row + 1 >= len(window):
        return None
    if highest + row < y_px + _LEAST_BELOW * leg_px:
        return None
    inside, outside = float(window[row, column]), float(window[row + 1, column])
    part = (inside - 0.5) / max(inside - outside, 1e-6)
    return np.array([left + column, highest + row + part], float)
