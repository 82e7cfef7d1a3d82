"""The inseam from which a bicycle is outgrown: by its saddle, by the knees at the handlebar, or by a
guess from its standover alone.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.fit.fleet import Fleet
from pose_fit.fit.leg import SADDLE_SD_MM, THIGH_SCATTER, Leg
from pose_fit.fit.policy import Rider
from pose_fit.fit.saddle import saddle_outgrown_mm, saddle_wanted_mm
from pose_fit.fit.side_view import knee_gap_mm

__all__ = ["BY_KNEES", "BY_LIFT", "BY_NOTHING", "BY_SADDLE", "KNEE_ROOM_MM", "outgrown_from_mm"]

Array = NDArray[np.float64]

#: Free space wanted between knee and straight handlebar: what it sweeps back beside the knee,
#: 90 mm from the middle, when turned 30 degrees (90 tan 30; geometry, angle from memory).
KNEE_ROOM_MM: Final = 52.0

#: Without a saddle range: clearance of a bicycle that is outgrown, as a share of its standover
#: and at least a hand's breadth, and the scatter of that share. A post gives the saddle of a
#: larger frame more travel, so the share holds from 12 to 26 in (common practice, no source).
_OUTGROWN_SHARE: Final = 0.27
_OUTGROWN_SHARE_SD: Final = 0.07
_HAND_BREADTH_MM: Final = 90.0

#: Values of ``Thresholds.cramped_by``.
BY_NOTHING, BY_SADDLE, BY_KNEES, BY_LIFT = range(4)


def outgrown_from_mm(
    fleet: Fleet, rider: Rider, contact_mm: Array
) -> tuple[Array, Array, NDArray[np.int64]]:
    """Inseam from which each of M bicycles is outgrown, its standard uncertainty, and by what first.

    Infinite, with ``BY_NOTHING``, where nothing is known.
    """
    count = len(fleet)
    cramped_mm = np.full(count, np.inf)
    cramped_sd_mm = np.ones(count)
    cramped_by = np.full(count, BY_NOTHING)

    by_lift = fleet.has_top_tube & fleet.has_pedals & np.isnan(fleet.saddle_max_mm)
    spare_mm = np.maximum(_OUTGROWN_SHARE * fleet.standover_mm, _HAND_BREADTH_MM)
    lift_sd_mm = np.hypot(_OUTGROWN_SHARE_SD * fleet.standover_mm, rider.soles_sd_mm)
    cramped_mm = np.where(by_lift, contact_mm + spare_mm, cramped_mm)
    cramped_sd_mm = np.where(by_lift, lift_sd_mm, cramped_sd_mm)
    cramped_by = np.where(by_lift, BY_LIFT, cramped_by)

    by_saddle = np.isfinite(fleet.saddle_max_mm)
    cramped_mm = np.where(by_saddle, saddle_outgrown_mm(fleet, rider), cramped_mm)
    cramped_sd_mm = np.where(by_saddle, np.hypot(SADDLE_SD_MM, rider.soles_sd_mm), cramped_sd_mm)
    cramped_by = np.where(by_saddle, BY_SADDLE, cramped_by)

    knees_mm = _knees_meet_mm(fleet, rider, contact_mm, cramped_mm)
    by_knees = knees_mm < cramped_mm
    cramped_mm = np.where(by_knees, knees_mm, cramped_mm)
    cramped_sd_mm = np.where(by_knees, THIGH_SCATTER * knees_mm, cramped_sd_mm)
    cramped_by = np.where(by_knees, BY_KNEES, cramped_by)
    return cramped_mm, cramped_sd_mm, cramped_by


def _knees_meet_mm(fleet: Fleet, rider: Rider, contact_mm: Array, until_mm: Array) -> Array:
    """Inseam below ``until_mm`` from which the knees lack room behind the handlebar, else infinite."""

    def spare_mm(some: Fleet, inseam_mm: Array) -> Array:
        leg = Leg.of_inseam(inseam_mm, rider=rider)
        saddle_mm = np.fmin(saddle_wanted_mm(some, inseam_mm, rider=rider), some.saddle_max_mm)
        saddle_mm = np.fmax(saddle_mm, some.saddle_min_mm)
        return knee_gap_mm(some, leg, saddle_mm=saddle_mm) - KNEE_ROOM_MM

    highest_mm = np.where(np.isfinite(until_mm), until_mm, 2 * fleet.standover_mm)
    meet_mm = np.full(len(fleet), np.inf)
    # Comparison with NaN is False: unknown cockpits are left alone.
    (index,) = np.nonzero(spare_mm(fleet, highest_mm) < 0)
    if index.size:
        some = fleet.take(index)
        low_mm, high_mm = np.minimum(contact_mm, highest_mm)[index], highest_mm[index]
        for _ in range(12):
            middle_mm = (low_mm + high_mm) / 2
            meets = spare_mm(some, middle_mm) < 0
            high_mm = np.where(meets, middle_mm, high_mm)
            low_mm = np.where(meets, low_mm, middle_mm)
        meet_mm[index] = high_mm
    return meet_mm
