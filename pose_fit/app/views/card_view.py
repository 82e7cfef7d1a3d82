"""The fit card for the family, to download."""

import datetime as dt
from collections.abc import Callable, Sequence
from functools import partial

import streamlit as st

from pose_fit.app.local_time import today
from pose_fit.app.texts.clue_texts import CARD
from pose_fit.app.texts.fit_texts import FIT
from pose_fit.app.texts.language import Language, in_language, language, unit
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.views.bicycle_words import how_long
from pose_fit.app.views.messages import fault_text
from pose_fit.card.card import FitCard
from pose_fit.card.from_fit import fit_card
from pose_fit.card.pdf import CardPaper, card_pdf
from pose_fit.errors import InputError
from pose_fit.fit.choice import Order, rank
from pose_fit.fit.judge import Fit
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam

__all__ = ["offer_card"]


def offer_card(
    inseam: Inseam,
    fits: Sequence[Fit],
    *,
    page: str,
    lines: Sequence[Lasting] = (),
    label: str = "",
    checked: str = "",
    shop: str = "",
    speaks: Language | None = None,
    on_given: Callable[[], None] | None = None,
    order: Order = rank,
    inseam_on: dt.date | None = None,
) -> None:
    """PDF on either paper, each made when it is asked for.

    ``lines`` say how long each bicycle lasts. The card speaks the visitor's language, or the one
    that is named. ``order`` and ``inseam_on`` are as for :func:`fit_card`.
    """
    say, spoken = in_language(CARD), speaks or language()
    fit_of = {fit.bicycle.name: fit for fit in fits}
    st.caption(say.note)
    typed = st.text_input(say.label, label, max_chars=120, key=f"{page}.card.label")
    try:
        card = fit_card(
            inseam,
            fits,
            made_on=today(),
            label=typed,
            checked=checked,
            shop=shop,
            unit=unit(),
            language=spoken,
            say_notice=partial(notice_text, language=spoken),
            lasts={
                line.name: _sentence(how_long(fit_of[line.name], line, FIT[spoken]))
                for line in lines
                # Its word says so already.
                if fit_of[line.name].shown != "outgrown"
            },
            order=order,
            inseam_on=inseam_on,
        )
    except InputError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return
    _offer_pdf(card, page=page, on_given=on_given)


def _offer_pdf(card: FitCard, *, page: str, on_given: Callable[[], None] | None) -> None:
    """A button for each paper."""

    def pdf(paper: CardPaper) -> Callable[[], bytes]:
        return lambda: card_pdf(card, paper=paper)

    papers: tuple[tuple[CardPaper, str], ...] = (("letter", "Letter"), ("a4", "A4"))
    with st.container(horizontal=True):
        for paper, name in papers:
            st.download_button(
                in_language(CARD).pdf.format(paper=name),
                pdf(paper),
                file_name=f"fit-card-{card.made_on:%Y-%m-%d}.pdf",
                mime="application/pdf",
                key=f"{page}.card.{paper}",
                on_click=on_given or "ignore",
            )


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
