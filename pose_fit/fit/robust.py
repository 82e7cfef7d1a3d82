"""For a present: the bicycle most likely to fit on the day, and the sizes to exchange it for."""

from collections.abc import Sequence
from dataclasses import dataclass

from pose_fit.fit.judge import Fit

__all__ = ["Robust", "most_robust"]


@dataclass(frozen=True, slots=True)
class Robust:
    """The most robust choice.

    Attributes
    ----------
    fit
        Of the bicycles whose risk of contact is within the policy, the likeliest to fit.
    too_big, too_small
        Probability that it turns out so on the day.
    smaller, larger
        What to exchange it for then; None where the list has none.
    """

    fit: Fit
    too_big: float
    too_small: float
    smaller: Fit | None
    larger: Fit | None


def most_robust(fits: Sequence[Fit]) -> Robust | None:
    """The likeliest to fit of those safe enough; None where none is recommended."""
    safe = [fit for fit in fits if fit.recommended and fit.bicycle.in_stock is not False]
    if not safe:
        return None
    best = max(safe, key=lambda fit: fit.fitting)
    reach_mm = best.changes.contact_below_mm
    judged = [fit for fit in fits if fit.changes.judged and fit is not best]
    smaller = [fit for fit in judged if fit.changes.good_from_mm < best.changes.good_from_mm - 12]
    larger = [
        fit
        for fit in judged
        if fit.changes.contact_below_mm > reach_mm
        and fit.changes.cramped_from_mm > best.changes.cramped_from_mm + 12
    ]
    return Robust(
        fit=best,
        too_big=best.probabilities["contact"] + best.probabilities["tight"],
        too_small=best.probabilities["cramped"],
        smaller=max(smaller, key=lambda fit: fit.changes.good_from_mm, default=None),
        larger=min(larger, key=lambda fit: fit.changes.contact_below_mm, default=None),
    )
