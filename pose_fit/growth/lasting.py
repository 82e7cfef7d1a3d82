"""The child's legs over the coming months against the bicycles it might ride."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pose_fit.anthropometry.child import Child
from pose_fit.fit.judge import Fit
from pose_fit.growth.age import ages_of
from pose_fit.growth.forecast import GrowthForecast, forecast_inseam
from pose_fit.growth.runway import months_until
from pose_fit.inseam.inseam import Inseam

__all__ = ["Lasting", "forecast_of", "lasting"]


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long one bicycle serves; months from now, ``inf`` beyond the forecast.

    Attributes
    ----------
    until_mm
        Inseam at which it is outgrown.
    recommended
        Whether it is today.
    ready_months
        Until the legs are long enough for it; 0 today.
    outgrown_months
        As likely outgrown as not.
    window80_months
        Between these it is outgrown 8 times in 10.
    """

    name: str
    until_mm: float
    recommended: bool
    ready_months: float
    outgrown_months: float
    window80_months: tuple[float, float]


def forecast_of(inseam: Inseam, child: Child) -> GrowthForecast:
    """Three years, month by month.

    Raises
    ------
    PersonError
        An inseam or age outside what the tables know.
    """
    return forecast_inseam(
        inseam.mean_mm, sd_mm=inseam.sd_mm, age_range_y=ages_of(child), sex=child.sex
    )


def lasting(fits: Sequence[Fit], forecast: GrowthForecast) -> tuple[Lasting, ...]:
    """How long each bicycle serves."""
    lines = []
    for fit in fits:
        until_mm = fit.changes.cramped_from_mm
        limit_mm = until_mm if math.isfinite(until_mm) else 10_000.0
        runway = months_until(forecast, [fit.recommended_from_mm, limit_mm])
        low, high = runway.window80_months
        lines.append(
            Lasting(
                name=fit.bicycle.name,
                until_mm=until_mm,
                recommended=fit.recommended,
                ready_months=0.0 if fit.recommended else float(runway.median_months[0]),
                outgrown_months=float(runway.median_months[1]),
                window80_months=(float(low[1]), float(high[1])),
            )
        )
    return tuple(lines)
