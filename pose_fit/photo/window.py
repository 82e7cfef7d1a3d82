"""The part of a picture that holds some places: steps that look at it alone need not touch the rest."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["window_around"]


def window_around(
    shape: tuple[int, ...],
    points_px: NDArray[np.float32] | NDArray[np.float64],
    *,
    margin_px: float,
) -> tuple[slice, slice]:
    """Rows and columns of a picture that hold points and a margin around them, at least one each.

    Parameters
    ----------
    shape
        Rows and columns of the picture come first in it.
    points_px
        (N, 2) array, x and y.
    """
    size = np.array([shape[1], shape[0]])
    low = np.clip(np.floor(points_px.min(axis=0) - margin_px), 0, size - 1).astype(int)
    high = np.clip(np.ceil(points_px.max(axis=0) + margin_px), low + 1, size).astype(int)
    return slice(int(low[1]), int(high[1])), slice(int(low[0]), int(high[0]))
