"""The judgement of a whole catalogue as text and JSON."""

from collections.abc import Sequence
from typing import Any

from pose_fit.fit.choice import choose, rank
from pose_fit.fit.judge import Fit
from pose_fit.fit.report import as_dict
from pose_fit.fit.words import GENERAL_CAUTIONS, choice_text, headline, reasons
from pose_fit.units import both_units

__all__ = ["advice_lines", "advice_object"]


def advice_object(fits: Sequence[Fit]) -> dict[str, Any]:
    """Fits, best first, the choice in words, and the cautions."""
    return {
        "fits": [as_dict(fit) for fit in rank(fits)],
        "choice": choice_text(choose(fits)),
        "cautions": list(GENERAL_CAUTIONS),
    }


def advice_lines(fits: Sequence[Fit]) -> list[str]:
    """A few lines a bicycle, best first, for a parent."""
    lines = ["Bicycles, best first", f"  {choice_text(choose(fits))}", ""]
    for fit in rank(fits):
        low_mm, high_mm = fit.clearance_interval95_mm
        lines.append(f"  {fit.verdict.upper():8} {fit.bicycle.name} ({fit.bicycle.tyre.marking})")
        lines.append(f"           {headline(fit)}.")
        if fit.bicycle.has_bar:
            lines.append(
                f"           Above the bar: {both_units(fit.clearance_mm)},"
                f" between {both_units(low_mm)} and {both_units(high_mm)}."
            )
        # The clearance just printed is the first reason of a bicycle with a bar.
        lines += [
            f"           {reason.message}" for reason in reasons(fit) if reason.code != "clearance"
        ]
    return [*lines, "", *GENERAL_CAUTIONS]
