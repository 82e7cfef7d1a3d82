"""How far the visible line between the legs ends below the crotch, by what the child wears."""

import math
from typing import Final

from pose_fit.inseam.error_model import ErrorModel
from pose_fit.task.legwear import LEGWEAR, Legwear

__all__ = ["SHARES", "hang_below_crotch_mm"]

#: Of children whose legwear nobody stated, the shares in snug, fitted and loose legwear (common
#: practice, no source).
SHARES: Final = (0.30, 0.55, 0.15)


def hang_below_crotch_mm(legwear: Legwear | None, *, model: ErrorModel) -> tuple[float, float]:
    """How far the visible end of the line lies below the crotch: mean and standard uncertainty.

    Legwear that nobody stated is a mixture of snug, fitted and loose; where a skirt shows the
    line between the legs all the same, it is as unsure as loose legwear.
    """
    worn = tuple(zip(model.hang_means_mm, model.hang_sds_mm, strict=True))
    if legwear is not None:
        return worn[min(LEGWEAR.index(legwear), LEGWEAR.index("loose"))]
    shares = tuple(zip(SHARES, worn, strict=True))
    mean_mm = sum(share * one for share, (one, _) in shares)
    square = sum(share * (sd**2 + (one - mean_mm) ** 2) for share, (one, sd) in shares)
    return mean_mm, math.sqrt(square)
