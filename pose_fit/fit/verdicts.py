"""Probability of each verdict from the inseams of change, and what it allows to recommend."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from pose_fit.fit.both_met import chance_of_both
from pose_fit.fit.inseams_of_change import Thresholds
from pose_fit.fit.policy import Policy

__all__ = ["VERDICTS", "Judgement", "Verdict", "fitting_from_mm", "judge_many"]

Array = NDArray[np.float64]
Verdict = Literal["contact", "tight", "good", "roomy", "cramped"]

#: From the smallest child to the largest.
VERDICTS: Final[tuple[Verdict, ...]] = ("contact", "tight", "good", "roomy", "cramped")


@dataclass(frozen=True, eq=False, slots=True)
class Judgement:
    """Judgement of N children on M bicycles.

    Attributes
    ----------
    probabilities
        (5, N, M) array in the order of ``VERDICTS``; sums to one over the first axis.
    fitting
        (N, M) array, probability that the policy's clearance is there and nothing is outgrown.
    recommended
        (N, M) bool: probability of contact and of being outgrown within the policy's limits, the
        policy's room left to grow, and more likely fitting than not.
    unsure
        (N, M) bool: the answer could turn with a better measurement.
    """

    probabilities: Array
    fitting: Array
    recommended: NDArray[np.bool_]
    unsure: NDArray[np.bool_]

    @property
    def verdict_index(self) -> NDArray[np.intp]:
        """(N, M) place in ``VERDICTS`` of the most probable verdict; of equals, the smaller child's."""
        return np.asarray(np.argmax(self.probabilities, axis=0))


def judge_many(
    mean_mm: Array | float, sd_mm: Array | float, changes: Thresholds, *, policy: Policy
) -> Judgement:
    """Judge children, or one child on later days, on every bicycle.

    A child's inseam is normal; each inseam of change is normal and independent of it, so that
    the child is beyond it with probability ``Phi((mean - change) / hypot(sd, change sd))``. That the
    top tube is cleared and the ground reached is one event of two limits, which share inseam and shoe.

    Parameters
    ----------
    mean_mm, sd_mm
        Inseam and its standard uncertainty, numbers or (N,) arrays, millimetres, sd above 0.
    changes
        Of M bicycles, from :func:`pose_fit.fit.inseams_of_change.thresholds` with the same policy.
    policy
        Settings.

    Raises
    ------
    ValueError
        A mean or sd is not finite, or an sd not above 0.
    """
    mean, sd = np.broadcast_arrays(np.atleast_1d(mean_mm), np.atleast_1d(sd_mm))
    if not (np.isfinite(mean).all() and np.isfinite(sd).all() and (sd > 0).all()):
        raise ValueError("mean_mm and sd_mm: wanted finite inseams and sd above 0")
    mean, variance = mean[:, None], np.square(sd[:, None], dtype=np.float64)

    def below(change_mm: Array, change_sd_mm: Array) -> Array:
        return np.asarray(ndtr((change_mm - mean) / np.sqrt(variance + change_sd_mm**2)))

    contact = below(changes.contact_below_mm, changes.contact_sd_mm)
    # A cumulative maximum keeps the order of changes where their uncertainties differ.
    good = (changes.clear_from_mm, changes.feet_from_mm)
    below_good = np.maximum(contact, _below_either(mean, variance, changes, *good))
    roomy = (limit_mm + changes.good_band_mm for limit_mm in good)
    below_roomy = np.maximum(below_good, _below_either(mean, variance, changes, *roomy))
    not_cramped = np.maximum(contact, below(changes.cramped_from_mm, changes.cramped_sd_mm))
    tops = (
        contact,
        np.minimum(below_good, not_cramped),
        np.minimum(below_roomy, not_cramped),
        not_cramped,
    )
    probabilities = np.diff(np.stack([0 * contact, *tops, np.ones_like(contact)]), axis=0)
    too_small_child = below_good
    if policy.stretch:
        toes = (changes.contact_below_mm, changes.toes_from_mm)
        usable = _below_either(mean, variance, changes, *toes)
        too_small_child = np.minimum(below_good, np.maximum(contact, usable))
    fitting = np.maximum(not_cramped - too_small_child, 0)
    safe = contact <= policy.max_contact_risk
    lasts = (1 - not_cramped <= policy.max_outgrown_risk) & (
        changes.cramped_from_mm - mean >= policy.min_room_mm
    )
    recommended = changes.judged & safe & lasts & (fitting >= 0.5)
    settled = np.where(recommended, fitting >= policy.sure_from, fitting <= 1 - policy.sure_from)
    return Judgement(
        probabilities=probabilities, fitting=fitting, recommended=recommended, unsure=~settled
    )


def _below_either(
    mean_mm: Array, variance_mm2: Array, changes: Thresholds, tube_mm: Array, saddle_mm: Array
) -> Array:
    """Probability that a child falls short of one of two limits, or of both."""
    shared = variance_mm2 + changes.soles_sd_mm**2
    tube_sd_mm = np.sqrt(variance_mm2 + changes.contact_sd_mm**2)
    saddle_sd_mm = np.sqrt(variance_mm2 + changes.saddle_sd_mm**2)
    return 1 - chance_of_both(
        (mean_mm - tube_mm) / tube_sd_mm,
        (mean_mm - saddle_mm) / saddle_sd_mm,
        shared / (tube_sd_mm * saddle_sd_mm),
    )


def fitting_from_mm(sd_mm: float, changes: Thresholds, *, policy: Policy) -> Array:
    """(M,) inseams, known to ``sd_mm``, from which what the policy wants is likelier there than not.

    Where top tube and saddle ask for nearly the same, that is more than either asks for.
    """
    tube_mm, saddle_mm = changes.clear_from_mm, changes.feet_from_mm
    if policy.stretch:
        tube_mm, saddle_mm = changes.contact_below_mm, changes.toes_from_mm
    low_mm = np.maximum(tube_mm, saddle_mm)
    variance = np.array(sd_mm**2)
    # Half is reached within one standard uncertainty: both limits at once are likelier than Phi(1)^2.
    widest_mm = np.hypot(sd_mm, np.maximum(changes.contact_sd_mm, changes.saddle_sd_mm))
    high_mm = np.where(np.isfinite(saddle_mm), low_mm + widest_mm, low_mm)
    for _ in range(20):
        middle_mm = (low_mm + high_mm) / 2
        is_below = _below_either(middle_mm, variance, changes, tube_mm, saddle_mm) > 0.5
        low_mm = np.where(is_below, middle_mm, low_mm)
        high_mm = np.where(is_below, high_mm, middle_mm)
    return high_mm
