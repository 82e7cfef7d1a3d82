"""The most robust present, and what to agree with the shop."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Final

import streamlit as st

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.session import Fields
from pose_fit.app.style import raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.gift_texts import GIFT, GiftTexts
from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.views.answer_view import inseam_words, show_bicycle_answer, show_no_bicycle
from pose_fit.app.views.bicycle_words import how_long
from pose_fit.app.views.messages import plain, show_notes
from pose_fit.fit.chance import chance_text
from pose_fit.fit.judge import Fit
from pose_fit.fit.robust import Kind, Robust, first_kind, robust_of_each_kind
from pose_fit.growth.inseam_on_day import months_between
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam

__all__ = ["kind_shown", "show_chances", "show_robust"]

_OTHER: Final[Mapping[Kind, Kind]] = {"pedals": "balance", "balance": "pedals"}


def kind_shown(
    fits: Sequence[Fit], *, page: str, age_y: float | None, today: dt.date, on: dt.date
) -> Kind:
    """With or without pedals: as the visitor chose, else by the age on the day.

    ``age_y`` is today's.
    """
    on_day_y = None if age_y is None else age_y + max((on - today).days, 0) / 365.25
    return _fields(page).value("asked", first_kind(robust_of_each_kind(fits), age_y=on_day_y))


def _fields(page: str) -> Fields:
    return Fields(f"{page}.kind")


def show_robust(
    inseam: Inseam,
    fits: Sequence[Fit],
    lines: Mapping[str, Lasting],
    *,
    page: str,
    kind: Kind,
    today: dt.date,
    on: dt.date,
    grown_mm: float | None,
) -> Robust | None:
    """The bicycle for the day, how long it lasts from then on, and the exchange.

    The choice that is shown comes back.
    """
    say = in_language(GIFT)
    found = robust_of_each_kind(fits)
    robust, other = found[kind], found[_OTHER[kind]]
    when = _when(say, today, on)
    inseam_label = say.in_months if on > today else in_language(FAMILY).inseam
    grown = [] if not grown_mm else [say.grown.format(length=length_text(grown_mm))]
    if robust is None:
        title = say.nothing_safe if other is None else say.nothing_of_kind[kind]
        words = " ".join([when + ".", say.nothing_safe_words, *grown])
        show_no_bicycle(title, words, inseam_words(inseam, inseam_label))
    else:
        line = lines.get(robust.fit.bicycle.name)
        lasts = say.lasts if on > today else say.lasts_today
        last = [] if line is None else [lasts.format(lasts=how_long(robust.fit, line))]
        show_bicycle_answer(
            robust.fit, eyebrow=when, inseam_label=inseam_label, more=[*grown, *last]
        )
    if other is not None:
        _offer_other(other, _OTHER[kind], _fields(page), say)
    show_notes([one for one in inseam.warnings if one.code == "readings_disagree"])
    if robust is not None:
        items = "".join(f"<li>{raw(told)}</li>" for told in _exchange(robust, say))
        st.html(f"<h2>{raw(say.exchange_title)}</h2><ul>{items}</ul>")
    return robust


def _offer_other(robust: Robust, kind: Kind, fields: Fields, say: GiftTexts) -> None:
    """The other kind of bicycle below the answer, and a press that puts it first."""
    with st.container(key="gift_other_kind"):
        st.markdown(say.other_kind[kind].format(name=plain(robust.fit.bicycle.name)))
        st.button(
            say.show_kind[kind],
            key=f"{fields.form}.other",
            on_click=fields.fill,
            args=("asked", kind),
        )


def show_chances(robust: Robust) -> None:
    """How likely it fits on the day, for the curious."""
    say = in_language(GIFT)
    st.markdown(
        say.chances.format(
            fits=_chance(robust.fit.fitting, say),
            big=_chance(robust.too_big, say),
            small=_chance(robust.too_small, say),
        )
    )


def _when(say: GiftTexts, today: dt.date, on: dt.date) -> str:
    if on <= today:
        return say.today
    months = max(round(months_between(today, on)), 1)
    words = say.on_the_day_one if months == 1 else say.on_the_day
    return words.format(day=day_text(on), months=months)


def _exchange(robust: Robust, say: GiftTexts) -> list[str]:
    """What to agree on; of the other sizes the likelier one first."""
    sizes = [
        (robust.too_big, say.too_big, robust.smaller),
        (robust.too_small, say.too_small, robust.larger),
    ]
    sizes.sort(key=lambda size: size[0], reverse=True)
    told = [words.format(name=fit.bicycle.name) for _, words, fit in sizes if fit is not None]
    return [say.exchange_when, *told, *say.exchange_more]


def _chance(probability: float, say: GiftTexts) -> str:
    return chance_text(probability, under=say.under, over=say.over)
