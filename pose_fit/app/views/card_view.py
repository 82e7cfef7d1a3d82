"""The fit card for the family, to download."""

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Literal

import streamlit as st

from pose_fit.app.views.messages import plain
from pose_fit.card.from_fit import fit_card
from pose_fit.card.pdf import CardPaper, card_pdf
from pose_fit.errors import InputError
from pose_fit.fit.judge import Fit
from pose_fit.inseam.inseam import Inseam

__all__ = ["offer_card"]


def offer_card(
    inseam: Inseam,
    fits: Sequence[Fit],
    *,
    page: str,
    label: str = "",
    checked: str = "",
    shop: str = "",
    on_given: Callable[[], None] | None = None,
) -> None:
    """PDF on either paper, each made when it is asked for."""
    st.caption(
        "One page with result, interval, bicycles, drawing and cautions. Nothing on it names the"
        " child but what you type."
    )
    typed = st.text_input(
        "Name or words on the card", label, max_chars=120, key=f"{page}.card.label"
    )
    try:
        card = fit_card(
            inseam, fits, made_on=dt.date.today(), label=typed, checked=checked, shop=shop
        )
    except InputError as error:
        st.error(plain(str(error)), icon=":material/edit:")
        return

    def pdf(paper: CardPaper) -> Callable[[], bytes]:
        return lambda: card_pdf(card, paper=paper)

    given: Callable[[], None] | Literal["ignore"] = on_given or "ignore"
    name = f"fit-card-{card.made_on:%Y-%m-%d}"
    with st.container(horizontal=True):
        st.download_button(
            "PDF, Letter",
            pdf("letter"),
            file_name=f"{name}.pdf",
            mime="application/pdf",
            key=f"{page}.card.letter",
            icon=":material/picture_as_pdf:",
            on_click=given,
        )
        st.download_button(
            "PDF, A4",
            pdf("a4"),
            file_name=f"{name}.pdf",
            mime="application/pdf",
            key=f"{page}.card.a4",
            icon=":material/picture_as_pdf:",
            on_click=given,
        )
