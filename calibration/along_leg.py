"""How far apart two places are along a leg, measured alike in rendered and in real pictures."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["parts_of_leg"]


def parts_of_leg(away_px: NDArray[np.float64], leg_px: NDArray[np.float64]) -> float:
    """The part of ``away_px`` along ``leg_px``, in lengths of it; downwards positive.

    Both are (2,) arrays in pixels; ``leg_px`` leads from between the hips to between the ankles.
    """
    length_px = float(np.hypot(*leg_px))
    return float(away_px @ (leg_px / length_px) / length_px)
