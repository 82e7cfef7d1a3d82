"""What would settle an unsure case: the source of uncertainty that matters for this decision."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final, Literal

from pose_fit.budget_sources import BudgetSource
from pose_fit.fit.judged import Judged
from pose_fit.inseam.from_tape import TAPE_CARE

__all__ = ["Action", "BicycleSource", "Settle", "settle_by"]

Action = Literal["measure_bicycle", "second_photo", "tape", "repeat_tape", "try_in_person"]

#: What is unsure of a bicycle, beside the lines of the inseam's budget.
BicycleSource = Literal[
    "standover height",
    "lowest saddle",
    "highest saddle against this leg",
    "proportions of the leg",
    "missing geometry of the bicycle",
]


@dataclass(frozen=True, slots=True)
class Settle:
    """The largest source of uncertainty in one decision, and what to do about it.

    Attributes
    ----------
    decision
        ``too_big`` (is the top tube cleared?) or ``too_small`` (is it outgrown?).
    source
        Name of the source, from the inseam's budget or the bicycle.
    sd_mm
        Its standard uncertainty.
    action
        What would settle it.
    """

    decision: Literal["too_big", "too_small"]
    source: BudgetSource | BicycleSource
    sd_mm: float
    action: Action


def settle_by(fit: Judged) -> Settle:
    """Largest source in the decision this bicycle hangs on, and the action that removes it.

    Without that source the estimate would move by about its standard uncertainty. If it would
    then more likely than not still lie within half of what uncertainty is left of the deciding
    inseam, only trying the bicycle helps.
    """
    if not fit.changes.judged:
        sd_mm = max(fit.changes.contact_sd_mm, fit.changes.cramped_sd_mm)
        return Settle("too_big", "missing geometry of the bicycle", sd_mm, "measure_bicycle")
    too_big = fit.probabilities["contact"] + fit.probabilities["tight"]
    if too_big >= fit.probabilities["cramped"]:
        return _bar_or_ground(fit)
    return _outgrown(fit)


def _bar_or_ground(fit: Judged) -> Settle:
    bicycle, changes, policy = fit.bicycle, fit.changes, fit.policy
    name: BicycleSource = "standover height" if bicycle.has_top_tube else "lowest saddle"
    measurable = bicycle.has_top_tube and bicycle.standover_source != "measured"
    source, sd_mm, action = _largest(
        fit, name, changes.contact_sd_mm, "measure_bicycle" if measurable else "try_in_person"
    )
    rest_mm = _rest_mm(fit, changes.contact_sd_mm, sd_mm)
    wanted_mm = changes.usable_from_mm if policy.stretch else changes.good_from_mm
    edge_mm = max(changes.contact_below_mm + policy.guard_factor * rest_mm, wanted_mm)
    if _stays_open(fit.inseam.mean_mm - edge_mm, sd_mm, rest_mm):
        action = "try_in_person"
    return Settle("too_big", source, sd_mm, action)


_OUTGROWN_BY: Final[Mapping[str, BicycleSource]] = {
    "saddle": "highest saddle against this leg",
    "knees": "proportions of the leg",
}


def _outgrown(fit: Judged) -> Settle:
    changes = fit.changes
    name = _OUTGROWN_BY.get(changes.cramped_by, "missing geometry of the bicycle")
    source, sd_mm, action = _largest(
        fit,
        name,
        changes.cramped_sd_mm,
        "measure_bicycle" if changes.cramped_by == "lift" else "try_in_person",
    )
    rest_mm = _rest_mm(fit, changes.cramped_sd_mm, sd_mm)
    if _stays_open(fit.inseam.mean_mm - changes.cramped_from_mm, sd_mm, rest_mm):
        action = "try_in_person"
    return Settle("too_small", source, sd_mm, action)


def _largest(
    fit: Judged, bicycle_source: BicycleSource, bicycle_sd_mm: float, bicycle_action: Action
) -> tuple[BudgetSource | BicycleSource, float, Action]:
    line = fit.inseam.length.largest
    if bicycle_sd_mm >= line.sd_mm:
        return bicycle_source, bicycle_sd_mm, bicycle_action
    return line.source, line.sd_mm, _better_inseam(fit, line.shared)


def _rest_mm(fit: Judged, bicycle_sd_mm: float, without_sd_mm: float) -> float:
    """Standard uncertainty that is left of the decision without one source."""
    return math.sqrt(max(fit.inseam.sd_mm**2 + bicycle_sd_mm**2 - without_sd_mm**2, 0.0))


def _stays_open(margin_mm: float, removed_sd_mm: float, rest_mm: float) -> bool:
    moved = NormalDist(margin_mm, removed_sd_mm)
    return moved.cdf(rest_mm / 2) - moved.cdf(-rest_mm / 2) > 0.5


def _better_inseam(fit: Judged, shared: bool) -> Action:
    if fit.inseam.method == "tape":
        return "repeat_tape"
    if fit.inseam.method == "photo" and not shared:
        return "second_photo"
    return "tape" if fit.inseam.sd_mm > TAPE_CARE["careful"].sd_mm else "try_in_person"
