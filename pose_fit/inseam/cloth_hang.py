"""How far the line between the legs, and the network, see the crotch too low in what is worn."""

import math
from typing import Final

from pose_fit.inseam.error_model import ErrorModel
from pose_fit.task.legwear import LEGWEAR, Legwear

__all__ = ["SHARES", "hang_below_crotch_mm", "loose_cloth_sd_mm", "skin_below_part"]

#: Of children whose legwear nobody stated, the shares in snug, fitted and loose legwear (common
#: practice, no source).
SHARES: Final = (0.30, 0.55, 0.15)
#: What loose cloth adds to every reading alike, since hips are guessed through it as the crotch
#: is: in legwear stated to be loose, and in parts of how far the network sees cloth hang. Chosen
#: so that photos of both kinds err by what they claim in rendered worlds left out of the fit.
_LOOSE_SD_MM: Final = 8.0
_HANG_SD_SHARE: Final = 0.2


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


def loose_cloth_sd_mm(legwear: Legwear | None, hang_mm: float) -> float:
    """Standard uncertainty that loose or hanging cloth adds to the fused reading.

    Parameters
    ----------
    hang_mm
        How far the picture shows cloth to hang below the crotch, 0 where it shows none.
    """
    share = SHARES[-1] if legwear is None else float(legwear == "loose")
    return math.hypot(math.sqrt(share) * _LOOSE_SD_MM, _HANG_SD_SHARE * max(hang_mm, 0.0))


def _of_worn(legwear: Legwear | None, worn: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Mean and standard uncertainty in this legwear, of those in snug, fitted and loose."""
    if legwear is not None:
        return worn[min(LEGWEAR.index(legwear), LEGWEAR.index("loose"))]
    shares = tuple(zip(SHARES, worn, strict=True))
    mean = sum(share * one for share, (one, _) in shares)
    square = sum(share * (sd**2 + (one - mean) ** 2) for share, (one, sd) in shares)
    return mean, math.sqrt(square)
