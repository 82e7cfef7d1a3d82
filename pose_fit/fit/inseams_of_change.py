"""The inseams at which the verdict on a bicycle changes, with their standard uncertainties.

As the inseam grows, a bicycle goes from ``contact`` over ``tight``, ``good`` and ``roomy`` to
``cramped``. Each change happens at one inseam, which follows from the bicycle's geometry, the
rider and the policy, and knows nothing of the child's inseam. So a catalogue is worked out once,
and any number of children, or of months of growth, is a matter of normal distributions.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pose_fit.fit.clearance import MIN_CLEARANCE_MM
from pose_fit.fit.fleet import Fleet
from pose_fit.fit.leg import SADDLE_SD_MM, flat_foot_inseam_mm, tiptoe_inseam_mm
from pose_fit.fit.outgrown import BY_NOTHING, outgrown_from_mm
from pose_fit.fit.policy import Policy, Rider

__all__ = ["Thresholds", "thresholds"]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False, slots=True)
class Thresholds:
    """Inseams of change of M bicycles, millimetres, each an (M,) array with its uncertainty.

    Attributes
    ----------
    contact_below_mm
        The rider touches the top tube; without one: does not reach the ground from the lowest
        saddle.
    clear_from_mm
        The wanted clearance, as uncertain as contact; without a top tube the feet as well.
    toes_from_mm, feet_from_mm
        With a top tube: the toes reach the ground from the lowest saddle, and the feet reach it as
        the rider's skill needs; minus infinite where nothing is known, or nothing more is asked.
    saddle_sd_mm
        Their standard uncertainty.
    good_band_mm
        How far ``roomy`` lies above ``good``.
    soles_sd_mm
        Standard uncertainty of the riding shoe, which all limits share.
    cramped_from_mm
        Saddle or cockpit outgrown; infinite where nothing is known.
    cramped_by
        (M,) int, what outgrows first: ``BY_SADDLE``, ``BY_KNEES``, ``BY_LIFT`` (a guess from the
        standover alone) or ``BY_NOTHING``.
    judged
        (M,) bool; False where too much geometry is missing to call the bicycle fitting.
    """

    contact_below_mm: Array
    contact_sd_mm: Array
    clear_from_mm: Array
    toes_from_mm: Array
    feet_from_mm: Array
    saddle_sd_mm: float
    good_band_mm: float
    soles_sd_mm: float
    cramped_from_mm: Array
    cramped_sd_mm: Array
    cramped_by: NDArray[np.int64]
    judged: NDArray[np.bool_]

    def __len__(self) -> int:
        return self.contact_below_mm.size

    @property
    def usable_from_mm(self) -> Array:
        """Off the top tube, and toes on the ground: what a family that stretches still gets."""
        return np.maximum(self.contact_below_mm, self.toes_from_mm)

    @property
    def good_from_mm(self) -> Array:
        """The wanted clearance, and the feet on the ground as the rider's skill needs."""
        return np.maximum(self.clear_from_mm, self.feet_from_mm)

    @property
    def roomy_from_mm(self) -> Array:
        """More clearance than needed."""
        return self.good_from_mm + self.good_band_mm


def thresholds(fleet: Fleet, *, rider: Rider, policy: Policy) -> Thresholds:
    """Work out the inseams of change of every bicycle for a rider of this skill and shoe."""
    sole_mm = rider.soles_mm
    tube_mm = fleet.standover_mm - sole_mm
    tube_sd_mm = np.hypot(fleet.standover_sd_mm, rider.soles_sd_mm)
    saddle_sd_mm = math.hypot(SADDLE_SD_MM, rider.soles_sd_mm)

    # Without pedals the child sits with both feet flat: at the least with the legs straight.
    ground_mm = np.where(
        fleet.has_pedals,
        tiptoe_inseam_mm(fleet.saddle_min_mm, sole_mm=sole_mm),
        fleet.saddle_min_mm - sole_mm,
    )
    # With an unknown saddle, flat feet cannot be promised.
    flat = ~fleet.has_pedals | (rider.skill == "first_pedals")
    feet_known = ~flat | np.isfinite(fleet.saddle_min_mm)
    feet_mm = np.where(flat, flat_foot_inseam_mm(fleet.saddle_min_mm, sole_mm=sole_mm), ground_mm)

    by_saddle = ~fleet.has_top_tube & np.isfinite(ground_mm)
    # What a child walks astride is stepped over, so that only the saddle counts.
    tube_mm = np.where(by_saddle & ~fleet.has_pedals, -np.inf, tube_mm)
    contact_mm, contact_sd_mm = _later(
        tube_mm, tube_sd_mm, np.where(by_saddle, ground_mm, np.nan), saddle_sd_mm
    )
    wanted_mm = np.where(fleet.has_pedals | fleet.has_top_tube, MIN_CLEARANCE_MM[rider.skill], 0.0)
    # Without a top tube the lowest saddle sets every limit, so the larger of two is exact.
    clear_mm = contact_mm + wanted_mm
    clear_mm = np.where(fleet.has_top_tube, clear_mm, np.fmax(clear_mm, feet_mm))
    cramped_mm, cramped_sd_mm, cramped_by = outgrown_from_mm(fleet, rider, contact_mm)
    return Thresholds(
        contact_below_mm=contact_mm,
        contact_sd_mm=contact_sd_mm,
        clear_from_mm=clear_mm,
        toes_from_mm=_with_tube(fleet, ground_mm),
        feet_from_mm=_with_tube(fleet, feet_mm),
        saddle_sd_mm=saddle_sd_mm,
        good_band_mm=policy.good_band_mm,
        soles_sd_mm=rider.soles_sd_mm,
        cramped_from_mm=cramped_mm,
        cramped_sd_mm=cramped_sd_mm,
        cramped_by=cramped_by,
        judged=(fleet.has_top_tube | by_saddle) & (cramped_by != BY_NOTHING) & feet_known,
    )


def _with_tube(fleet: Fleet, limit_mm: Array) -> Array:
    return np.where(fleet.has_top_tube & np.isfinite(limit_mm), limit_mm, -np.inf)


def _later(
    first_mm: Array, first_sd_mm: Array, second_mm: Array, second_sd_mm: float | Array
) -> tuple[Array, Array]:
    """The larger of two thresholds with its own uncertainty; a NaN second one is not known."""
    second_wins = second_mm > first_mm
    return (
        np.where(second_wins, second_mm, first_mm),
        np.where(second_wins, second_sd_mm, first_sd_mm),
    )
