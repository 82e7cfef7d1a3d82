"""Which bicycle, which next, and why; or none, and what would fit."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from pose_fit.bicycle.bicycle import MEASURED_STANDOVER_SD_MM
from pose_fit.fit.judge import Fit
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.shown import UNSETTLED
from pose_fit.inseam.inseam import Inseam

__all__ = ["Choice", "NextSize", "NoneFits", "Order", "choose", "rank", "wanted_standover_mm"]

#: Bicycles, best first.
Order = Callable[[Sequence[Fit]], tuple[Fit, ...]]


@dataclass(frozen=True, slots=True)
class NextSize:
    """Buying one size up: the next bicycle of larger wheels, whether it fits already or not.

    Attributes
    ----------
    fit
        That bicycle.
    wanted_inseam_mm
        Inseam from which it is recommended, measured as well as today.
    """

    fit: Fit
    wanted_inseam_mm: float


@dataclass(frozen=True, slots=True)
class Choice:
    """The best bicycle; ``runner_up`` and ``next_size`` are None where there is none."""

    best: Fit
    runner_up: Fit | None
    next_size: NextSize | None

    def __bool__(self) -> bool:
        return True


@dataclass(frozen=True, slots=True)
class NoneFits:
    """No bicycle can be recommended. Falsy.

    Attributes
    ----------
    wanted_standover_mm
        Lowest and highest standover to look for, as far as the standover alone can say.
    settle_first
        The likeliest bicycle in stock that measuring or trying it would settle, or None.
    not_in_stock
        The best bicycle that would be recommended but is not in stock, or None.
    next_size
        The next larger bicycle, as in :class:`Choice`; where there is nothing to settle, the first
        that will fit.
    """

    wanted_standover_mm: tuple[float, float]
    settle_first: Fit | None
    not_in_stock: Fit | None
    next_size: NextSize | None

    def __bool__(self) -> bool:
        return False


def rank(fits: Sequence[Fit]) -> tuple[Fit, ...]:
    """Best first; equals keep the catalogue's order.

    The recommended bicycles that are in stock, then those that are not: sure before less sure, with
    pedals before without, and then by how much room to grow is sure. The rest follow by how likely
    they fit, those in stock first.
    """

    def merit(fit: Fit) -> tuple[bool, bool, bool, bool, float]:
        in_stock = fit.bicycle.in_stock is not False
        if not fit.recommended:
            return False, in_stock, False, False, fit.fitting
        # Of two guesses the surer one: room that is there but for one standard uncertainty.
        sure_room_mm = fit.room_to_grow_mm - fit.changes.cramped_sd_mm
        return True, in_stock, not fit.unsure, fit.bicycle.pedals, sure_room_mm

    return tuple(sorted(fits, key=merit, reverse=True))


def choose(fits: Sequence[Fit], *, order: Order = rank) -> Choice | NoneFits:
    """Best and runner-up of the recommended bicycles in stock, or what to look for instead.

    ``order`` says which comes first.

    Raises
    ------
    ValueError
        No fits at all: nothing is known of the child then.
    """
    if not fits:
        raise ValueError("choose: wanted at least one fit, found none")
    ranked = order(fits)
    in_stock = [fit for fit in ranked if fit.bicycle.in_stock is not False]
    fitting = [fit for fit in in_stock if fit.recommended]
    if fitting:
        runner_up = fitting[1] if len(fitting) > 1 else None
        return Choice(fitting[0], runner_up, _next_size(fits, after=fitting[0]))
    settle_first = next((fit for fit in in_stock if fit.shown in UNSETTLED), None)
    first = fits[0]
    return NoneFits(
        wanted_standover_mm(first.inseam, rider=first.rider, policy=first.policy),
        settle_first=settle_first,
        not_in_stock=next((fit for fit in ranked if fit.recommended), None),
        # What is recommended is not in stock, and said to be so.
        next_size=_next_size([fit for fit in fits if not fit.recommended], after=settle_first),
    )


def _next_size(fits: Sequence[Fit], *, after: Fit | None) -> NextSize | None:
    """The first of larger wheels to be recommended; no balance bicycle after one with pedals."""
    wheels_in = after.bicycle.tyre.wheel_class_in if after else 0.0
    has_pedals = after is not None and after.bicycle.pedals
    larger = [
        fit
        for fit in fits
        if fit.bicycle.tyre.wheel_class_in > wheels_in
        and (fit.bicycle.pedals or not has_pedals)
        and (
            fit.recommended or (fit.changes.judged and fit.recommended_from_mm > fit.inseam.mean_mm)
        )
    ]
    if not larger:
        return None
    fit = min(larger, key=lambda fit: fit.recommended_from_mm)
    return NextSize(fit, fit.recommended_from_mm)


def wanted_standover_mm(
    inseam: Inseam, *, rider: Rider | None = None, policy: Policy | None = None
) -> tuple[float, float]:
    """Lowest and highest standover that leave the wanted clearance with the wanted certainty.

    Of a level top tube, measured in the shop; millimetres.
    """
    rider, policy = rider or Rider(), policy or Policy()
    wanted_mm = policy.wanted_clearance_mm(rider)
    sd_mm = math.hypot(inseam.sd_mm, rider.soles_sd_mm, MEASURED_STANDOVER_SD_MM)
    highest_mm = inseam.mean_mm + rider.soles_mm - max(wanted_mm, policy.guard_factor * sd_mm)
    return highest_mm - 2 * policy.good_band_mm, highest_mm
