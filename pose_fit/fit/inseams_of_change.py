"""The inseams at which the verdict on a bicycle changes, with their standard uncertainties.

As the inseam grows, a bicycle goes from ``contact`` over ``tight``, ``good`` and ``roomy`` to
``cramped``. Each change happens at one inseam, which follows from the bicycle's geometry, the
rider and the policy, and knows nothing of the child's inseam. So a catalogue is worked out once,
and any number of children, or of months of growth, is a matter of normal distributions.
"""

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


@dataclass(frozen=True, slots=True)
class Thresholds:
    """Inseams of change of M bicycles, millimetres, each an (M,) array with its uncertainty.

    Attributes
    ----------
    contact_below_mm
        The rider touches the top tube; without one: does not reach the ground from the lowest
        saddle.
    usable_from_mm
        Off the top tube, and toes on the ground from the lowest saddle: what a family that stretches
        still gets.
    good_from_mm
        The wanted clearance, and the feet on the ground as the rider's skill needs.
    roomy_from_mm
        More clearance than needed.
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
    usable_from_mm: Array
    usable_sd_mm: Array
    good_from_mm: Array
    good_sd_mm: Array
    roomy_from_mm: Array
    cramped_from_mm: Array
    cramped_sd_mm: Array
    cramped_by: NDArray[np.int64]
    judged: NDArray[np.bool_]

    def __len__(self) -> int:
        return self.contact_below_mm.size


def thresholds(fleet: Fleet, *, rider: Rider, policy: Policy) -> Thresholds:
    """Work out the inseams of change of every bicycle for a rider of this skill and shoe."""
    sole_mm = rider.soles_mm
    tube_mm = fleet.standover_mm - sole_mm
    tube_sd_mm = np.hypot(fleet.standover_sd_mm, rider.soles_sd_mm)
    saddle_sd_mm = np.hypot(SADDLE_SD_MM, rider.soles_sd_mm)

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
    usable_mm, usable_sd_mm = _later(contact_mm, contact_sd_mm, ground_mm, saddle_sd_mm)
    wanted_mm = np.where(fleet.has_pedals | fleet.has_top_tube, MIN_CLEARANCE_MM[rider.skill], 0.0)
    clear_mm, clear_sd_mm = _later(contact_mm + wanted_mm, contact_sd_mm, usable_mm, usable_sd_mm)
    good_mm, good_sd_mm = _later(clear_mm, clear_sd_mm, feet_mm, saddle_sd_mm)
    cramped_mm, cramped_sd_mm, cramped_by = outgrown_from_mm(fleet, rider, contact_mm)
    return Thresholds(
        contact_below_mm=contact_mm,
        contact_sd_mm=contact_sd_mm,
        usable_from_mm=usable_mm,
        usable_sd_mm=usable_sd_mm,
        good_from_mm=good_mm,
        good_sd_mm=good_sd_mm,
        roomy_from_mm=good_mm + policy.good_band_mm,
        cramped_from_mm=cramped_mm,
        cramped_sd_mm=cramped_sd_mm,
        cramped_by=cramped_by,
        judged=(fleet.has_top_tube | by_saddle) & (cramped_by != BY_NOTHING) & feet_known,
    )


def _later(
    first_mm: Array, first_sd_mm: Array, second_mm: Array, second_sd_mm: float | Array
) -> tuple[Array, Array]:
    """The larger of two thresholds with its own uncertainty; a NaN second one is not known."""
    second_wins = second_mm > first_mm
    return (
        np.where(second_wins, second_mm, first_mm),
        np.where(second_wins, second_sd_mm, first_sd_mm),
    )
