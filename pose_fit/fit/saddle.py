"""The saddle height that a rider needs, and the inseam that has outgrown the highest one."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.fit.fleet import Fleet
from pose_fit.fit.leg import (
    FLAT_FOOT_SHARE,
    flat_foot_inseam_mm,
    flat_foot_saddle_mm,
    tiptoe_gain_mm,
    tiptoe_inseam_mm,
)
from pose_fit.fit.policy import Rider

__all__ = ["TO_BOTTOM_BRACKET", "TO_PEDAL", "saddle_outgrown_mm", "saddle_wanted_mm"]

Array = NDArray[np.float64]

#: Saddle to pedal over the inseam: Hamley and Thomas 1967, as compared in Peveler et al. 2005.
TO_PEDAL: Final = 1.09
#: Saddle to bottom bracket over the inseam: coaches' rule of thumb (common practice, no source).
TO_BOTTOM_BRACKET: Final = 0.883

#: Without pedals the child pushes best with the knees a little bent, the saddle about an inch below
#: the crotch in shoes (``FLAT_FOOT_SHARE``). With the saddle this share of the inseam below it, twice
#: as far, the knees bend by some 45 degrees: outgrown (geometry; common practice, no source).
_PUSHING_SHARE: Final = 2 * FLAT_FOOT_SHARE


def saddle_wanted_mm(fleet: Fleet, inseam_mm: Array, *, rider: Rider) -> Array:
    """Floor to top of the saddle that the rider needs, (M,) array.

    A beginner, or without pedals: both feet flat. Otherwise the lowest of what the toes reach from the saddle and
    what the two saddle rules give the legs; a child stops with a foot on the ground, so the legs
    get their full stretch only where the ground allows it.
    """
    flat_mm = flat_foot_saddle_mm(inseam_mm, sole_mm=rider.soles_mm)
    if rider.skill == "first_pedals":
        return np.broadcast_to(flat_mm, fleet.standover_mm.shape)
    ground_mm = inseam_mm + tiptoe_gain_mm(inseam_mm) + rider.soles_mm
    along_mm = np.fmin(TO_BOTTOM_BRACKET * inseam_mm, TO_PEDAL * inseam_mm - fleet.crank_mm)
    sine = 1 / np.hypot(1, fleet.saddle_run)
    pedalling_mm = np.fmin(ground_mm, fleet.bottom_bracket_height_mm + along_mm * sine)
    return np.asarray(np.where(fleet.has_pedals, pedalling_mm, flat_mm))


def saddle_outgrown_mm(fleet: Fleet, rider: Rider) -> Array:
    """Inseam whose wanted saddle is the highest one: inverse of :func:`saddle_wanted_mm`.

    Without pedals: whose knees are bent too far to push well.
    """
    pushing_mm = (fleet.saddle_max_mm - rider.soles_mm) / (1 - _PUSHING_SHARE)
    if rider.skill == "first_pedals":
        flat_mm = flat_foot_inseam_mm(fleet.saddle_max_mm, sole_mm=rider.soles_mm)
        return np.where(fleet.has_pedals, flat_mm, pushing_mm)
    ground_mm = tiptoe_inseam_mm(fleet.saddle_max_mm, sole_mm=rider.soles_mm)
    along_mm = (fleet.saddle_max_mm - fleet.bottom_bracket_height_mm) * np.hypot(
        1, fleet.saddle_run
    )
    bracket_mm = along_mm / TO_BOTTOM_BRACKET
    pedal_mm = (along_mm + fleet.crank_mm) / TO_PEDAL
    pedalling_mm = np.fmax(ground_mm, np.fmax(bracket_mm, pedal_mm))
    return np.asarray(np.where(fleet.has_pedals, pedalling_mm, pushing_mm))
