"""What the child wears on the legs, and how far the line between them then lies below the crotch."""

import math
from typing import Final, Literal, get_args

from pose_fit.errors import InputError
from pose_fit.inseam.error_model import ErrorModel

__all__ = ["LEGWEAR", "Legwear", "check_legwear", "hang_below_crotch_mm"]

#: Leggings, tights or bare legs; trousers or shorts of ordinary cut; loose ones that hang below
#: the crotch; or a skirt, dress or long top that hides it.
Legwear = Literal["snug", "fitted", "loose", "hidden"]
LEGWEAR: Final[tuple[Legwear, ...]] = get_args(Legwear)
#: Of children whose legwear nobody stated, the shares in snug, fitted and loose legwear (common
#: practice, no source).
SHARES: Final = (0.30, 0.55, 0.15)


def check_legwear(text: str) -> Legwear:
    """The legwear of this name.

    Raises
    ------
    InputError
        Any other name.
    """
    for name in LEGWEAR:
        if text == name:
            return name
    raise InputError(f"wanted one of {', '.join(LEGWEAR)} as legwear, found {text!r}")


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
