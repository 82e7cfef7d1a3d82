"""The inseams at which the verdict on a bicycle changes, with their standard uncertainties.

As the inseam grows, a bicycle goes from ``contact`` over ``tight``, ``good`` and ``roomy`` to
``cramped``. Each change happens at one inseam, which follows from the bicycle's geometry, the
rider and the policy, and knows nothing of the child's inseam. So a catalogue is worked out once,
and any number of children, or of months of growth, is a matter of normal distributions.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.fit.fleet import Fleet
from pose_fit.fit.leg import (
    FLAT_FOOT_SHARE,
    SADDLE_SD_MM,
    THIGH_SCATTER,
    Leg,
    flat_foot_inseam_mm,
    flat_foot_saddle_mm,
    tiptoe_gain_mm,
    tiptoe_inseam_mm,
)
from pose_fit.fit.policy import MIN_CLEARANCE_MM, Policy, Rider
from pose_fit.fit.side_view import knee_gap_mm

__all__ = [
    "BY_KNEES",
    "BY_LIFT",
    "BY_NOTHING",
    "BY_SADDLE",
    "TO_BOTTOM_BRACKET",
    "TO_PEDAL",
    "KNEE_ROOM_MM",
    "Thresholds",
    "saddle_wanted_mm",
    "thresholds",
]

Array = NDArray[np.float64]

#: Saddle to pedal over the inseam: Hamley and Thomas 1967, as compared in Peveler et al. 2005.
TO_PEDAL: Final = 1.09
#: Saddle to bottom bracket over the inseam: coaches' rule of thumb (common practice, no source).
TO_BOTTOM_BRACKET: Final = 0.883

#: Without pedals the child pushes best with the knees a little bent, the saddle about an inch below
#: the crotch in shoes (``FLAT_FOOT_SHARE``). With the saddle this share of the inseam below it, twice
#: as far, the knees bend by some 45 degrees: outgrown (geometry; common practice, no source).
_PUSHING_SHARE: Final = 2 * FLAT_FOOT_SHARE

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
    cramped_mm, cramped_sd_mm, cramped_by = _cramped(fleet, rider, contact_mm)
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


def _later(
    first_mm: Array, first_sd_mm: Array, second_mm: Array, second_sd_mm: float | Array
) -> tuple[Array, Array]:
    """The larger of two thresholds with its own uncertainty; a NaN second one is not known."""
    second_wins = second_mm > first_mm
    return (
        np.where(second_wins, second_mm, first_mm),
        np.where(second_wins, second_sd_mm, first_sd_mm),
    )


def _cramped(
    fleet: Fleet, rider: Rider, contact_mm: Array
) -> tuple[Array, Array, NDArray[np.int64]]:
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
    cramped_mm = np.where(by_saddle, _saddle_outgrown_mm(fleet, rider), cramped_mm)
    cramped_sd_mm = np.where(by_saddle, np.hypot(SADDLE_SD_MM, rider.soles_sd_mm), cramped_sd_mm)
    cramped_by = np.where(by_saddle, BY_SADDLE, cramped_by)

    knees_mm = _knees_meet_mm(fleet, rider, contact_mm, cramped_mm)
    by_knees = knees_mm < cramped_mm
    cramped_mm = np.where(by_knees, knees_mm, cramped_mm)
    cramped_sd_mm = np.where(by_knees, THIGH_SCATTER * knees_mm, cramped_sd_mm)
    cramped_by = np.where(by_knees, BY_KNEES, cramped_by)
    return cramped_mm, cramped_sd_mm, cramped_by


def _saddle_outgrown_mm(fleet: Fleet, rider: Rider) -> Array:
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
