"""Where the network is taught that the sights are, in its window along the legs."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.sights.legs_network import LEG_PX, WINDOW_PX

__all__ = ["BASE_ASIDE", "targets_px"]

#: The wall's base is looked for this far to each side of the legs, in parts of the leg.
BASE_ASIDE: Final = 0.38


def targets_px(truth: dict[str, object], to_picture: NDArray[np.float64]) -> NDArray[np.float64]:
    """(14, 2) true places of sights and joints in a window, NaN where there is none."""
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
    points += [
        inside(landmarks[f"{joint}_{side}"])
        for joint in ("hip", "knee", "ankle")
        for side in ("right", "left")
    ]
    return np.stack(points)
