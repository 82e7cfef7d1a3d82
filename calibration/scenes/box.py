"""An upright box as a mesh."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["BOX_SIDES", "box_corners"]

_Place = tuple[float, float, float]
#: The six sides of a box by the places of their corners in :func:`box_corners`.
BOX_SIDES: Final = (
    (0, 1, 3, 2),
    (4, 6, 7, 5),
    (0, 4, 5, 1),
    (2, 3, 7, 6),
    (0, 2, 6, 4),
    (1, 5, 7, 3),
)


def box_corners(low: _Place, high: _Place) -> NDArray[np.float64]:
    """(8, 3) array: corners of the box between these two."""
    return np.array(
        [[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    )
