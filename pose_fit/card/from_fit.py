"""A fit card from what the engine worked out."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from types import MappingProxyType
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
from pose_fit.card.card_texts import CARD_TEXTS, CardLanguage
from pose_fit.card.spanish import CHOICE_IN_SPANISH, reason_es, settle_es, to_do_es
from pose_fit.checks.retake import advising_notice
from pose_fit.checks.retake_spanish import advice_es
from pose_fit.drawing.bicycle_svg import bicycle_svg
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.errors import InputError
from pose_fit.fit.cautions import told_cautions
from pose_fit.fit.choice import Order, choose, rank
from pose_fit.fit.choice_words import CHOICE_IN_ENGLISH, ChoiceTexts, choice_text
from pose_fit.fit.judge import Fit
from pose_fit.fit.shown import Shown
from pose_fit.fit.words import reasons, settle_text
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import Unit, both_units
from pose_fit.refusal import Notice, Refusal, told_once

__all__ = ["SayNotice", "card_bicycle", "card_drawing", "fit_card"]

_NOTHING: Final[Mapping[str, str]] = MappingProxyType({})
_CHOICE: Final[Mapping[CardLanguage, ChoiceTexts]] = {
    "en": CHOICE_IN_ENGLISH,
    "es": CHOICE_IN_SPANISH,
}

#: What is shown on a bicycle that is surely not for this child.
_LEAVE: Final[tuple[Shown, ...]] = ("touching", "too big", "outgrown")

#: Says a notice of the library in the card's language.
SayNotice = Callable[[Notice], str]


def _own_words(notice: Notice) -> str:
    return notice.message


def card_bicycle(
    fit: Fit,
    *,
    unit: Unit = "in",
    language: CardLanguage = "en",
    say_notice: SayNotice = _own_words,
    lasts: str = "",
) -> CardBicycle:
    """One bicycle as it stands on the card."""
    say = CARD_TEXTS[language]
    sure = fit.recommended and not fit.unsure
    standing: Standing = "try" if sure else ("leave" if fit.shown in _LEAVE else "check")
    shown_cautions = tuple(say_notice(notice) for notice in told_cautions(fit))
    # Where there is no room for all, the last reasons go, never a caution.
    room = BICYCLE_LENGTH - sum(len(caution) for caution in shown_cautions) - len(lasts)
    word = DRAWING_TEXTS[language].headlines[fit.shown]
    to_do = fit.to_do if language == "en" else to_do_es(fit)
    out_of_stock = fit.bicycle.in_stock is False
    told = [lasts] if lasts else []
    return CardBicycle(
        name=_shortened(fit.bicycle.name),
        standing=standing,
        headline=say.not_certain.format(word=word) if fit.recommended and fit.unsure else word,
        to_do=say.not_in_stock.format(to_do=to_do) if out_of_stock else to_do,
        reasons=(*told, *within(_reasons(fit, unit, language), room)),
        cautions=shown_cautions,
    )


def _reasons(fit: Fit, unit: Unit, language: CardLanguage) -> list[str]:
    found = reasons(fit, unit=unit)
    if language == "en":
        return [notice.message for notice in found]
    return [reason_es(fit, notice.code, unit=unit) for notice in found]


def card_drawing(
    fit: Fit, *, unit: Unit = "in", language: CardLanguage = "en"
) -> CardDrawing | None:
    """The child standing over this bicycle, or pushing it; None where it cannot be drawn."""
    say, texts = CARD_TEXTS[language], DRAWING_TEXTS[language]
    svg = bicycle_svg(fit, unit=unit, texts=texts)
    if isinstance(svg, Refusal):
        return None
    name = _shortened(fit.bicycle.name)
    words = say.standing if fit.bicycle.pedals else say.pushing
    length = both_units(fit.inseam.mean_mm, unit)
    description = words.format(length=length, name=name, word=texts.headlines[fit.shown])
    return CardDrawing(svg, name, description)


def fit_card(
    inseam: Inseam,
    fits: Sequence[Fit],
    *,
    made_on: dt.date,
    label: str = "",
    checked: str = "",
    shop: str = "",
    unit: Unit = "in",
    language: CardLanguage = "en",
    say_notice: SayNotice = _own_words,
    lasts: Mapping[str, str] = _NOTHING,
    order: Order = rank,
    inseam_on: dt.date | None = None,
) -> FitCard:
    """A card with the best of the bicycles judged, the choice among all, and a drawing of the best.

    Parameters
    ----------
    inseam
        What the bicycles were judged with.
    fits
        Judgements from :func:`pose_fit.fit.judge.judge`; may be empty.
    say_notice
        Says a warning or caution in the card's language; by default in the library's own.
    lasts
        How long a bicycle will last, one sentence, by its name.
    order
        Which bicycle comes first; by default as for a child who can try them.
    made_on, label, checked, shop, unit, language, inseam_on
        As in :class:`FitCard`.

    Raises
    ------
    InputError
        A bicycle was judged with another inseam.
    """
    _check_judged_with(inseam, fits)
    ranked = order(fits)
    shown = ranked[:MOST_BICYCLES]
    told = partial(card_bicycle, unit=unit, language=language, say_notice=say_notice)
    return FitCard(
        made_on=made_on,
        inseam=inseam,
        measured=CARD_TEXTS[language].methods[inseam.method],
        bicycles=tuple(told(fit, lasts=lasts.get(fit.bicycle.name, "")) for fit in shown),
        label=label,
        advice=within(_advice(inseam, ranked, unit, language), ADVICE_LENGTH),
        drawing=card_drawing(shown[0], unit=unit, language=language) if shown else None,
        checked=checked,
        shop=shop,
        unit=unit,
        language=language,
        inseam_on=inseam_on,
        notes=tuple(say_notice(warning) for warning in told_once(inseam.warnings)),
    )


def _check_judged_with(inseam: Inseam, fits: Sequence[Fit]) -> None:
    for fit in fits:
        if fit.inseam != inseam:
            raise InputError(
                f"fit card: wanted bicycles judged with this inseam, {inseam.mean_mm:.1f} mm,"
                f" found {fit.bicycle.name} judged with {fit.inseam.mean_mm:.1f} mm"
            )


def _advice(inseam: Inseam, ranked: Sequence[Fit], unit: Unit, language: CardLanguage) -> list[str]:
    # What a note above asks for is not asked for again.
    advice = [one for one in inseam.retake if advising_notice(inseam.warnings, one) is None]
    if language == "es":
        advice = [said for line in advice if (said := advice_es(line)) is not None]
    advice = advice[:2]
    if not ranked:
        return advice
    choice, first = choose(ranked, order=tuple), ranked[0]
    unsure = first.recommended and first.unsure
    told = [choice_text(choice, unit=unit, texts=_CHOICE[language])]
    if unsure:
        told.append(settle_text(first) if language == "en" else settle_es(first))
    return told + advice


def _shortened(name: str) -> str:
    return name if len(name) <= LINE_LENGTH else name[: LINE_LENGTH - 1] + "…"
