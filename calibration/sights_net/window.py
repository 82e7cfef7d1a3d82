"""The window along the legs, and the sights looked for in it."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

__all__ = [
    "BASE_ASIDE",
    "LEG_PX",
    "SIGHTS",
    "STRIDE",
    "WINDOW_HIP_ROW",
    "WINDOW_PX",
    "targets_px",
    "window_map",
]

#: Height and width of the window, and rows a leg's length from hips to ankles.
WINDOW_PX: Final = (320, 224)
LEG_PX: Final = 190.0
#: Row of the line between the hips.
WINDOW_HIP_ROW: Final = 28.0
#: Window pixels a cell of the maps.
STRIDE: Final = 2
#: The wall's base is looked for this far to each side of the legs, in parts of the leg.
BASE_ASIDE: Final = 0.38
#: Sides are those of the picture.
SIGHTS: Final = (
    "crotch",
    "cloth_crotch",
    "toe_left",
    "toe_right",
    "heel_left",
    "heel_right",
    "base_left",
    "base_right",
)


def window_map(hips_px: NDArray[np.float64], ankles_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """(2, 3) affine map from window (column, row) to picture pixels.

    ``hips_px`` and ``ankles_px`` are the middles between the two hips and ankles, (2,).
    """
    along = ankles_px - hips_px
    scale = float(np.hypot(*along)) / LEG_PX
    along = along / np.hypot(*along)
    across = np.array([along[1], -along[0]])
    middle = (WINDOW_PX[1] - 1) / 2
    corner = hips_px - scale * (middle * across + WINDOW_HIP_ROW * along)
    return np.column_stack([across * scale, along * scale, corner])


def targets_px(truth: dict[str, object], to_picture: NDArray[np.float64]) -> NDArray[np.float64]:
    """(8, 2) true places of the sights in a window, NaN where there is none."""
    landmarks = truth["landmarks_px"]
    assert isinstance(landmarks, dict)
    inverse = cv2.invertAffineTransform(to_picture)

    def inside(point: object) -> NDArray[np.float64]:
        placed: NDArray[np.float64] = np.asarray(point, float) @ inverse[:, :2].T + inverse[:, 2]
        return placed

    cloth = truth.get("cloth_crotch_px")
    # The child's left is on the picture's right.
    points = [
        inside(landmarks["crotch"]),
        np.full(2, np.nan) if cloth is None else inside(cloth),
        *(
            inside(landmarks[f"shod_{end}_{side}"])
            for end in ("toe", "heel")
            for side in ("right", "left")
        ),
    ]
    base = inside(truth["wall_base_px"])
    middle = (WINDOW_PX[1] - 1) / 2
    for way in (-1, 1):
        column = middle + way * BASE_ASIDE * LEG_PX
        order = np.argsort(base[:, 0])
        row = float(np.interp(column, base[order, 0], base[order, 1]))
        points.append(np.array([column, row]))
    return np.stack(points)
