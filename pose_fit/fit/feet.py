"""Whether a child on the lowest saddle reaches the ground."""

import math
from statistics import NormalDist
from typing import Literal

import numpy as np

from pose_fit.fit.judged import Judged
from pose_fit.fit.leg import SADDLE_SD_MM, flat_foot_inseam_mm, tiptoe_inseam_mm

__all__ = ["Feet", "feet_on_ground"]

#: From the lowest saddle. A place is promised only where it is as sure as ``Policy.sure_from``.
Feet = Literal["both feet flat", "tiptoes", "perhaps tiptoes", "not at the lowest saddle"]


def feet_on_ground(fit: Judged) -> Feet | None:
    """How the feet reach the ground from the lowest saddle; None where that is not known."""
    saddle_mm = fit.bicycle.saddle_min_mm
    if saddle_mm is None:
        return None
    saddle = np.array(saddle_mm, dtype=np.float64)
    sole_mm, sure = fit.rider.soles_mm, fit.policy.sure_from
    inseam = NormalDist(
        fit.inseam.mean_mm, math.hypot(fit.inseam.sd_mm, SADDLE_SD_MM, fit.rider.soles_sd_mm)
    )
    flat = 1 - inseam.cdf(float(flat_foot_inseam_mm(saddle, sole_mm=sole_mm)))
    tiptoe = 1 - inseam.cdf(float(tiptoe_inseam_mm(saddle, sole_mm=sole_mm)))
    if flat >= sure:
        return "both feet flat"
    if tiptoe >= sure:
        return "tiptoes"
    return "perhaps tiptoes" if tiptoe > 1 - sure else "not at the lowest saddle"
