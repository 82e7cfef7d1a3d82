"""The most robust present, and what to agree with the shop."""

import datetime as dt
from collections.abc import Mapping, Sequence

import streamlit as st

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.style import raw
from pose_fit.app.texts.gift_texts import GIFT, GiftTexts
from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.views.answer_view import inseam_words, show_bicycle_answer, show_no_bicycle
from pose_fit.app.views.bicycle_words import how_long
from pose_fit.fit.chance import chance_text
from pose_fit.fit.judge import Fit
from pose_fit.fit.robust import Robust, most_robust
from pose_fit.growth.inseam_on_day import months_between
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam

__all__ = ["show_robust"]


def show_robust(
    inseam: Inseam,
    fits: Sequence[Fit],
    lines: Mapping[str, Lasting],
    *,
    today: dt.date,
    on: dt.date,
    grown_mm: float | None,
) -> None:
    """The bicycle for the day, how long it lasts from then on, the chances, and the exchange."""
    say = in_language(GIFT)
    robust = most_robust(fits)
    when = _when(say, today, on)
    grown = [] if not grown_mm else [say.grown.format(length=length_text(grown_mm))]
    if robust is None:
        words = " ".join([when + ".", say.nothing_safe_words, *grown])
        show_no_bicycle(say.nothing_safe, words, inseam_words(inseam, say.in_months))
        return
    line = lines.get(robust.fit.bicycle.name)
    last = [] if line is None else [say.lasts.format(lasts=how_long(line))]
    show_bicycle_answer(robust.fit, eyebrow=when, inseam_label=say.in_months, more=[*grown, *last])
    st.markdown(
        say.chances.format(
            fits=_chance(robust.fit.fitting, say),
            big=_chance(robust.too_big, say),
            small=_chance(robust.too_small, say),
        )
    )
    items = "".join(f"<li>{raw(told)}</li>" for told in _exchange(robust, say))
    st.html(f"<h2>{raw(say.exchange_title)}</h2><ul>{items}</ul>")


def _when(say: GiftTexts, today: dt.date, on: dt.date) -> str:
    if on <= today:
        return say.today
    months = months_between(today, on)
    return say.on_the_day.format(day=day_text(on), months=f"{max(round(months), 1)}")


def _exchange(robust: Robust, say: GiftTexts) -> list[str]:
    told = [say.exchange_when]
    if robust.smaller is not None:
        name = robust.smaller.bicycle.name
        told.append(say.too_big.format(chance=_chance(robust.too_big, say), name=name))
    if robust.larger is not None:
        name = robust.larger.bicycle.name
        told.append(say.too_small.format(chance=_chance(robust.too_small, say), name=name))
    return [*told, *say.exchange_more]


def _chance(probability: float, say: GiftTexts) -> str:
    return chance_text(probability, under=say.under, over=say.over)
