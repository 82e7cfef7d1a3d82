"""Where one bicycle's verdicts begin and end, and where the child stands among them."""

import math
from dataclasses import dataclass
from typing import Final

from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import Shown
from pose_fit.fit.verdicts import VERDICTS, Verdict
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = ["Strip", "Zone", "strip_of"]

#: The scale every bicycle shares, so that their strips compare: clearance, millimetres.
LOW_MM: Final = -75.0
HIGH_MM: Final = 225.0


@dataclass(frozen=True, slots=True)
class Zone:
    """Clearances at which one verdict holds, and its word for people."""

    verdict: Verdict
    word: Shown
    low_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True)
class Strip:
    """Zones in order, none empty, from ``LOW_MM`` to ``HIGH_MM``, and the child's clearance.

    On a step-through frame the clearance is what the legs have to spare over reaching the ground
    from the lowest saddle.
    """

    zones: tuple[Zone, ...]
    mean_mm: float
    low_mm: float
    high_mm: float


def _word(verdict: Verdict, fit: Fit) -> Shown:
    match verdict:
        case "contact":
            return "touching" if fit.bicycle.has_top_tube else "too big"
        case "cramped":
            return "outgrown"
    return verdict


def strip_of(fit: Fit) -> Strip:
    """The strip of one judged bicycle."""
    changes = fit.changes
    origin_mm = changes.contact_below_mm
    cramped_mm = max(changes.cramped_from_mm - origin_mm, 0.0)
    starts_mm = (
        -math.inf,
        0.0,
        min(changes.good_from_mm - origin_mm, cramped_mm),
        min(changes.roomy_from_mm - origin_mm, cramped_mm),
        cramped_mm,
    )
    ends_mm = (*starts_mm[1:], math.inf)
    zones = (
        Zone(verdict, _word(verdict, fit), max(start_mm, LOW_MM), min(end_mm, HIGH_MM))
        for verdict, start_mm, end_mm in zip(VERDICTS, starts_mm, ends_mm, strict=True)
    )
    mean_mm = fit.inseam.mean_mm - origin_mm
    half_mm = COVERAGE_FACTOR_95 * math.hypot(fit.inseam.sd_mm, changes.contact_sd_mm)
    return Strip(
        zones=tuple(zone for zone in zones if zone.high_mm > zone.low_mm),
        mean_mm=mean_mm,
        low_mm=mean_mm - half_mm,
        high_mm=mean_mm + half_mm,
    )
