"""The fit card of a decided case."""

import os
from typing import Final

import streamlit as st

from pose_fit.app.inputs.catalogue_form import ask_catalogue
from pose_fit.app.inputs.child_form import ask_rider
from pose_fit.app.views.bicycles_view import show_bicycles
from pose_fit.app.views.card_view import offer_card
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.events import Exported
from pose_fit.fit.judge import judge

__all__ = ["SHOP_VARIABLE", "show_case_card"]

#: Environment variable with the shop's name and address, for its cards.
SHOP_VARIABLE: Final = "POSE_FIT_SHOP"


def show_case_card(book: CaseBook, case: Case, *, by: str) -> None:
    """Card with the inseam that staff stand by."""
    answer = case.content.answer
    if answer is None:
        st.caption("Accept or override the estimate first: the card carries the shop’s word.")
        return
    page = f"{'case' if by == 'family' else 'staff'}.card.{case.case_id}"
    rider = ask_rider(page)
    fits = judge(answer, ask_catalogue(page), rider=rider)
    show_bicycles(fits, page=page)
    offer_card(
        answer,
        fits,
        page=page,
        label=case.content.label,
        checked="Checked by our fitter",
        shop=os.environ.get(SHOP_VARIABLE, ""),
        on_given=lambda: book.note_export(case.case_id, Exported("fit card"), by=by),
    )
