"""A fit card from what the engine worked out."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

from pose_fit.card.card import (
    ADVICE_LENGTH,
    BICYCLE_LENGTH,
    LINE_LENGTH,
    MOST_BICYCLES,
    CardBicycle,
    CardDrawing,
    FitCard,
    Standing,
    within,
)
from pose_fit.drawing.bicycle_svg import bicycle_svg
from pose_fit.errors import InputError
from pose_fit.fit.choice import choose, rank
from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import Shown
from pose_fit.fit.words import cautions, choice_text, headline, reasons, settle_text
from pose_fit.inseam.inseam import Inseam, Method
from pose_fit.metrology.units import Unit, both_units
from pose_fit.refusal import Refusal

__all__ = ["MEASURED_WORDS", "card_bicycle", "card_drawing", "fit_card"]

#: What is shown on a bicycle that is surely not for this child.
_LEAVE: Final[tuple[Shown, ...]] = ("touching", "too big", "outgrown")

#: How an inseam was measured, for a parent, where no better text is given.
MEASURED_WORDS: Final[dict[Method, str]] = {
    "photo": "From a photo, with an object of known size in it.",
    "tape": "With a tape, from the floor to a book between the legs.",
    "trousers": "From a pair of trousers that fits: a rough reading.",
    "lift": "From lifting a bicycle until its top tube touched.",
    "stature": "Guessed from the child’s height: a rough reading.",
    "age": "Guessed from the child’s age: a very rough reading.",
    "combined": "From several readings together, each weighted by how sure it is.",
    "stated": "Stated by the fitter.",
}


def card_bicycle(fit: Fit, *, unit: Unit = "in") -> CardBicycle:
    """One bicycle as it stands on the card."""
    sure = fit.recommended and not fit.unsure
    standing: Standing = "try" if sure else ("leave" if fit.shown in _LEAVE else "check")
    unlike = ", not certain" if fit.recommended and fit.unsure else ""
    shown_cautions = tuple(notice.message for notice in cautions(fit))
    # Where there is no room for all, the last reasons go, never a caution.
    room = BICYCLE_LENGTH - sum(len(caution) for caution in shown_cautions)
    stock = "not in stock; " if fit.bicycle.in_stock is False else ""
    return CardBicycle(
        name=_shortened(fit.bicycle.name),
        standing=standing,
        headline=f"{headline(fit)}{unlike}",
        to_do=f"{stock}{fit.to_do}",
        reasons=within([notice.message for notice in reasons(fit, unit=unit)], room),
        cautions=shown_cautions,
    )


def card_drawing(fit: Fit, *, unit: Unit = "in") -> CardDrawing | None:
    """The child standing over this bicycle, or pushing it; None where it cannot be drawn."""
    svg = bicycle_svg(fit, unit=unit)
    if isinstance(svg, Refusal):
        return None
    name, how = _shortened(fit.bicycle.name), "standing over" if fit.bicycle.pedals else "pushing"
    return CardDrawing(
        svg,
        name,
        f"Drawing to scale: a child with an inseam of {both_units(fit.inseam.mean_mm, unit)}"
        f" {how} {name}. {headline(fit)}.",
    )


def fit_card(
    inseam: Inseam,
    fits: Sequence[Fit],
    *,
    made_on: dt.date,
    measured: str = "",
    label: str = "",
    checked: str = "",
    shop: str = "",
    unit: Unit = "in",
) -> FitCard:
    """A card with the best of the bicycles judged, the choice among all, and a drawing of the best.

    Parameters
    ----------
    inseam
        What the bicycles were judged with.
    fits
        Judgements from :func:`pose_fit.fit.judge.judge`; may be empty.
    measured
        How it was measured; by default what :data:`MEASURED_WORDS` says of the method.
    made_on, label, checked, shop, unit
        As in :class:`FitCard`.

    Raises
    ------
    InputError
        A bicycle was judged with another inseam.
    """
    for fit in fits:
        if fit.inseam != inseam:
            raise InputError(
                f"fit card: wanted bicycles judged with this inseam, {inseam.mean_mm:.1f} mm,"
                f" found {fit.bicycle.name} judged with {fit.inseam.mean_mm:.1f} mm"
            )
    shown = rank(fits)[:MOST_BICYCLES]
    advice = list(inseam.retake[:2])
    if shown:
        advice.insert(0, choice_text(choose(fits), unit=unit))
        if shown[0].recommended and shown[0].unsure:
            advice.insert(1, settle_text(shown[0]))
    return FitCard(
        made_on=made_on,
        inseam=inseam,
        measured=measured or MEASURED_WORDS[inseam.method],
        bicycles=tuple(card_bicycle(fit, unit=unit) for fit in shown),
        label=label,
        advice=within(advice, ADVICE_LENGTH),
        drawing=card_drawing(shown[0], unit=unit) if shown else None,
        checked=checked,
        shop=shop,
        unit=unit,
    )


def _shortened(name: str) -> str:
    return name if len(name) <= LINE_LENGTH else name[: LINE_LENGTH - 1] + "…"
