"""What the child wears on the legs, and how far the line between them then lies below the crotch."""

import math
from typing import Final, Literal, get_args

from pose_fit.body.crotch import CrotchPoint
from pose_fit.errors import InputError
from pose_fit.inseam.error_model import ErrorModel

__all__ = ["LEGWEAR", "Legwear", "check_legwear", "hang_below_crotch_mm"]

#: Trousers, leggings or shorts of ordinary cut; loose ones that hang below the crotch; or a
#: skirt, dress or long top that hides it.
Legwear = Literal["fitted", "loose", "hidden"]
LEGWEAR: Final[tuple[Legwear, ...]] = get_args(Legwear)
#: Of children whose legwear nobody stated, the share in loose ones (common practice, no source).
LOOSE_SHARE: Final = 0.15


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


def hang_below_crotch_mm(
    crotch: CrotchPoint, legwear: Legwear | None, *, model: ErrorModel
) -> tuple[float, float]:
    """How far the visible end of the line lies below the crotch: mean and standard uncertainty.

    Legwear that nobody stated is a mixture of fitted and loose.
    """
    wide_mm = model.hang_slope_mm * (crotch.thigh_part - model.usual_thigh_part)
    fitted, loose = (
        (model.hang_mean_mm + wide_mm, model.hang_sd_mm),
        (model.loose_hang_mean_mm + wide_mm, model.loose_hang_sd_mm),
    )
    if legwear == "fitted":
        return fitted
    if legwear is not None:
        return loose
    mean_mm = (1 - LOOSE_SHARE) * fitted[0] + LOOSE_SHARE * loose[0]
    within = (1 - LOOSE_SHARE) * fitted[1] ** 2 + LOOSE_SHARE * loose[1] ** 2
    between = LOOSE_SHARE * (1 - LOOSE_SHARE) * (loose[0] - fitted[0]) ** 2
    return mean_mm, math.sqrt(within + between)
