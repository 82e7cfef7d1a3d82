"""One judged bicycle: what was judged, the inseams of change, and the probabilities."""

import math
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.fit.inseams_of_change import Thresholds
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.verdicts import Verdict
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = ["Changes", "CrampedBy", "Judged", "changes_of"]

CrampedBy = Literal["nothing", "saddle", "knees", "lift"]
_CRAMPED_BY: Final[tuple[CrampedBy, ...]] = ("nothing", "saddle", "knees", "lift")


@dataclass(frozen=True, slots=True)
class Changes:
    """Inseams at which the verdict on one bicycle changes; see ``Thresholds``. Millimetres."""

    contact_below_mm: float
    contact_sd_mm: float
    usable_from_mm: float
    good_from_mm: float
    roomy_from_mm: float
    cramped_from_mm: float
    cramped_sd_mm: float
    cramped_by: CrampedBy
    judged: bool


@dataclass(frozen=True, slots=True)
class Judged:
    """Judgement of one bicycle for one child, as probabilities.

    Attributes
    ----------
    bicycle, inseam, rider, policy
        What was judged, and how.
    changes
        Inseams at which the verdict changes.
    probabilities
        Of each verdict; sums to one.
    fitting
        Probability that the wanted clearance is there and nothing is outgrown.
    verdict
        The most probable one.
    recommended
        Safe enough, likely to fit, and with room to grow; see ``judge_many``.
        Never true where too little geometry is known.
    unsure
        A better measurement could turn the answer; see ``settle_by``.
    recommended_from_mm
        Smallest inseam, measured as well as today, that gets the bicycle recommended: the guard
        band over the top tube, or what the policy wants, whichever is more. Meaningless where the
        bicycle is outgrown before it is clear.
    """

    bicycle: Bicycle
    inseam: Inseam
    rider: Rider
    policy: Policy
    changes: Changes
    probabilities: dict[Verdict, float]
    fitting: float
    verdict: Verdict
    recommended: bool
    unsure: bool
    recommended_from_mm: float

    @property
    def too_big(self) -> float:
        """Probability that the bicycle is too big: contact, or less clearance than wanted."""
        below = 1 - self.fitting - self.probabilities["cramped"]
        return max(below, self.probabilities["contact"])

    @property
    def clearance_mm(self) -> float:
        """Inseam + sole - standover height."""
        return self.inseam.mean_mm + self.rider.soles_mm - self.bicycle.standover_mm

    @property
    def wanted_clearance_mm(self) -> float:
        """Least clearance wanted over the top tube; 0 where the family stretches."""
        return self.policy.wanted_clearance_mm(self.rider)

    @property
    def clearance_sd_mm(self) -> float:
        """Standard uncertainty of the clearance: inseam, sole and standover."""
        return math.hypot(self.inseam.sd_mm, self.rider.soles_sd_mm, self.bicycle.standover_sd_mm)

    @property
    def clearance_interval95_mm(self) -> tuple[float, float]:
        """Central 95 % interval of the clearance."""
        half_width_mm = COVERAGE_FACTOR_95 * self.clearance_sd_mm
        return self.clearance_mm - half_width_mm, self.clearance_mm + half_width_mm

    @property
    def room_to_grow_mm(self) -> float:
        """Inseam still to grow until the bicycle is as likely outgrown as not."""
        return self.changes.cramped_from_mm - self.inseam.mean_mm


def changes_of(changes: Thresholds) -> list[Changes]:
    """The inseams of change of each bicycle as one value."""
    columns = zip(
        changes.contact_below_mm.tolist(),
        changes.contact_sd_mm.tolist(),
        changes.usable_from_mm.tolist(),
        changes.good_from_mm.tolist(),
        changes.roomy_from_mm.tolist(),
        changes.cramped_from_mm.tolist(),
        changes.cramped_sd_mm.tolist(),
        [_CRAMPED_BY[place] for place in changes.cramped_by.tolist()],
        changes.judged.tolist(),
        strict=True,
    )
    return [Changes(*row) for row in columns]
