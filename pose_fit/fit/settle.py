"""What would settle an unsure case: the source of uncertainty that matters for this decision."""

import math
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.fit.judge import Fit

__all__ = ["Action", "Settle", "settle_by"]

Action = Literal["measure_bicycle", "second_photo", "tape", "repeat_tape", "try_in_person"]

#: Standard uncertainty of a careful tape reading by a parent, millimetres (common practice, no
#: source; parents' stature readings scatter by 6 mm, Remmits et al. 2023).
_TAPE_SD_MM: Final = 7.0


@dataclass(frozen=True, slots=True)
class Settle:
    """The largest source of uncertainty in one decision, and what to do about it.

    Attributes
    ----------
    decision
        ``too_big`` (is the bar clear?) or ``too_small`` (is it outgrown?).
    source
        Name of the source, from the inseam's budget or the bicycle.
    sd_mm
        Its standard uncertainty.
    action
        What would settle it.
    """

    decision: Literal["too_big", "too_small"]
    source: str
    sd_mm: float
    action: Action


def settle_by(fit: Fit) -> Settle:
    """Largest source in the decision this bicycle hangs on, and the action that removes it.

    If the decision would stay open even without that source, only trying the bicycle helps.
    """
    too_big = fit.probabilities["contact"] + fit.probabilities["tight"]
    decision: Literal["too_big", "too_small"] = (
        "too_big" if too_big >= fit.probabilities["cramped"] else "too_small"
    )
    changes = fit.changes
    if decision == "too_big":
        bicycle_source = "standover height" if fit.bicycle.has_bar else "lowest saddle"
        bicycle_sd_mm = changes.contact_sd_mm
        distance_mm = fit.recommended_from_mm - fit.inseam.mean_mm
    else:
        bicycle_source = {
            "saddle": "highest saddle against this leg",
            "knees": "proportions of the leg",
        }.get(changes.cramped_by, "missing geometry of the bicycle")
        bicycle_sd_mm = changes.cramped_sd_mm
        distance_mm = fit.inseam.mean_mm - changes.cramped_from_mm
    largest = fit.inseam.length.largest
    if bicycle_sd_mm >= largest.sd_mm:
        source, sd_mm, shared = bicycle_source, bicycle_sd_mm, True
        measurable = decision == "too_big" and fit.bicycle.standover_source != "measured"
        action: Action = "measure_bicycle" if measurable else "try_in_person"
        if changes.cramped_by == "lift" and decision == "too_small":
            action = "measure_bicycle"
    else:
        source, sd_mm, shared = largest.source, largest.sd_mm, largest.shared
        action = _better_inseam(fit, shared)
    rest_mm = math.sqrt(max(fit.inseam.sd_mm**2 + bicycle_sd_mm**2 - sd_mm**2, 0.0))
    if action != "try_in_person" and abs(distance_mm) < rest_mm / 2:
        action = "try_in_person"
    return Settle(decision, source, sd_mm, action)


def _better_inseam(fit: Fit, shared: bool) -> Action:
    if fit.inseam.method == "tape":
        return "repeat_tape"
    if fit.inseam.method == "photo" and not shared:
        return "second_photo"
    return "tape" if fit.inseam.sd_mm > _TAPE_SD_MM else "try_in_person"
