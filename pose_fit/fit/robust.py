"""For a present: the bicycle most likely to fit on the day, and the sizes to exchange it for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final, Literal

from pose_fit.fit.choice import Order, rank
from pose_fit.fit.judge import Fit

__all__ = [
    "PEDALS_FROM_Y",
    "Kind",
    "Robust",
    "first_kind",
    "most_robust",
    "order_of_presents",
    "rank_presents",
    "robust_of_each_kind",
]

#: With pedals, or a balance bicycle that the child pushes with the feet.
Kind = Literal["pedals", "balance"]
#: Age from which a child is given pedals: most ride with them by four to five (common practice, no
#: source).
PEDALS_FROM_Y: Final = 4.0


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
    safe = _safe(rank(fits))
    if not safe:
        return None
    best = safe[0]
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


def rank_presents(fits: Sequence[Fit], *, kind: Kind) -> tuple[Fit, ...]:
    """As :func:`rank`, but those that may be given come first, the likeliest of this kind before all.

    A child who is not there cannot try a bicycle, so it counts more that it fits on the day than
    how long it lasts.
    """
    ranked = rank(fits)
    safe = sorted(_safe(ranked), key=lambda fit: fit.bicycle.pedals != (kind == "pedals"))
    return (*safe, *(fit for fit in ranked if not _may_be_given(fit)))


def _safe(ranked: Sequence[Fit]) -> list[Fit]:
    """Those that may be given, likeliest to fit first."""
    return sorted(filter(_may_be_given, ranked), key=lambda fit: fit.fitting, reverse=True)


def _may_be_given(fit: Fit) -> bool:
    return fit.recommended and fit.bicycle.in_stock is not False


def robust_of_each_kind(fits: Sequence[Fit]) -> dict[Kind, Robust | None]:
    """The most robust bicycle with pedals and without; each is exchanged for its own kind."""
    return {
        "pedals": most_robust([fit for fit in fits if fit.bicycle.pedals]),
        "balance": most_robust([fit for fit in fits if not fit.bicycle.pedals]),
    }


def first_kind(robust: Mapping[Kind, Robust | None], *, age_y: float | None) -> Kind:
    """Which kind to name first where nobody asked for one.

    Pedals from ``PEDALS_FROM_Y`` on, even where only a balance bicycle is safe. A younger child
    gets what is likeliest to fit; without an age, pedals where a bicycle with pedals is safe.

    Parameters
    ----------
    age_y
        On the day of the present.
    """
    pedals, balance = robust["pedals"], robust["balance"]
    if balance is None or (age_y is not None and age_y >= PEDALS_FROM_Y):
        return "pedals"
    if pedals is None:
        return "balance"
    is_likelier = balance.fit.fitting > pedals.fit.fitting
    return "balance" if age_y is not None and is_likelier else "pedals"


def order_of_presents(fits: Sequence[Fit], *, age_y: float | None) -> Order:
    """The order of :func:`rank_presents` where nobody asked for a kind; ``age_y`` is on the day."""
    return partial(rank_presents, kind=first_kind(robust_of_each_kind(fits), age_y=age_y))
