"""The judgement of a whole catalogue as text and JSON."""

import math
from collections.abc import Sequence
from typing import Any

from pose_fit.anthropometry.child import Child
from pose_fit.fit.choice import choose, rank
from pose_fit.fit.judge import Fit
from pose_fit.fit.words import GENERAL_CAUTIONS, choice_text, headline, reasons
from pose_fit.growth.lasting import Lasting, forecast_of, lasting
from pose_fit.metrology.units import both_units
from pose_fit.report.fit_data import as_dict

__all__ = ["advice_lines", "advice_object"]


def advice_object(fits: Sequence[Fit], child: Child) -> dict[str, Any]:
    """Fits, best first, each with its months where the age is known; the choice; the cautions."""
    ranked = rank(fits)
    return {
        "fits": [
            as_dict(fit) | {"months": _months_object(months)}
            for fit, months in zip(ranked, _lasting(ranked, child), strict=True)
        ],
        "choice": choice_text(choose(fits)),
        "cautions": list(GENERAL_CAUTIONS),
    }


def advice_lines(fits: Sequence[Fit], child: Child) -> list[str]:
    """A few lines a bicycle, best first, for a parent."""
    ranked = rank(fits)
    lines = ["Bicycles, best first", f"  {choice_text(choose(fits))}", ""]
    for fit, months in zip(ranked, _lasting(ranked, child), strict=True):
        low_mm, high_mm = fit.clearance_interval95_mm
        lines.append(f"  {fit.verdict.upper():8} {fit.bicycle.name} ({fit.bicycle.tyre.marking})")
        lines.append(f"           {headline(fit)}.")
        if fit.bicycle.has_top_tube:
            lines.append(
                f"           Above the bar: {both_units(fit.clearance_mm)},"
                f" between {both_units(low_mm)} and {both_units(high_mm)}."
            )
        # The clearance just printed is the first reason of a bicycle with a bar.
        lines += [
            f"           {reason.message}" for reason in reasons(fit) if reason.code != "clearance"
        ]
        if months is not None and fit.recommended:
            lines.append(f"           {_months_text(months)}")
    return [*lines, "", *GENERAL_CAUTIONS]


def _lasting(fits: Sequence[Fit], child: Child) -> Sequence[Lasting | None]:
    """Months of each bicycle; None of any where nobody said how old the child is."""
    if child.age_y is None or not fits:
        return [None] * len(fits)
    return lasting(fits, forecast_of(fits[0].inseam, child))


def _months_object(months: Lasting | None) -> dict[str, Any] | None:
    """Months until it is ready and outgrown; null is beyond the forecast of three years."""
    if months is None:
        return None

    def finite(value: float) -> float | None:
        return round(value, 1) if math.isfinite(value) else None

    return {
        "until_recommended": finite(months.ready_months),
        "until_outgrown": finite(months.outgrown_months),
        "outgrown_window80": [finite(month) for month in months.window80_months],
    }


def _months_text(months: Lasting) -> str:
    if not math.isfinite(months.outgrown_months):
        return "At a usual pace of growth it lasts more than three years."
    soonest, latest = months.window80_months
    until = f"{latest:.0f}" if math.isfinite(latest) else "over 36"
    return (
        f"At a usual pace of growth it lasts about {months.outgrown_months:.0f} months"
        f" ({soonest:.0f} to {until})."
    )
