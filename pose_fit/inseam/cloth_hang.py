"""How far the line between the legs, and the network, see the crotch too low in what is worn."""

import math
from typing import Final

from pose_fit.inseam.error_model import ErrorModel
from pose_fit.task.legwear import LEGWEAR, Legwear

__all__ = ["SHARES", "hang_below_crotch_mm", "skin_below_part"]

#: Of children whose legwear nobody stated, the shares in snug, fitted and loose legwear (common
#: practice, no source).
SHARES: Final = (0.30, 0.55, 0.15)


def hang_below_crotch_mm(legwear: Legwear | None, *, model: ErrorModel) -> tuple[float, float]:
    """How far the visible end of the line lies below the crotch: mean and standard uncertainty.

    Legwear that nobody stated is a mixture of snug, fitted and loose; where a skirt shows the
    line between the legs all the same, it is as unsure as loose legwear.
    """
    return _of_worn(legwear, tuple(zip(model.hang_means_mm, model.hang_sds_mm, strict=True)))


def skin_below_part(
    legwear: Legwear | None, hang_part: float, *, model: ErrorModel
) -> tuple[float, float]:
    """How far the network's crotch lies below the true one, in legs: mean and uncertainty.

    In clothes unlike all it was trained on it takes the cloth to hang as those did. What it sees
    of the cloth's crotch and what is said of the legwear take out part of that.
    """
    sd = model.skin_crotch_sd_part
    worn = tuple((mean, sd) for mean in model.skin_crotch_below)
    mean, sd = _of_worn(legwear, worn)
    return mean - model.skin_crotch_hang_share * hang_part, sd


def _of_worn(legwear: Legwear | None, worn: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Mean and standard uncertainty in this legwear, of those in snug, fitted and loose."""
    if legwear is not None:
        return worn[min(LEGWEAR.index(legwear), LEGWEAR.index("loose"))]
    shares = tuple(zip(SHARES, worn, strict=True))
    mean = sum(share * one for share, (one, _) in shares)
    square = sum(share * (sd**2 + (one - mean) ** 2) for share, (one, sd) in shares)
    return mean, math.sqrt(square)
