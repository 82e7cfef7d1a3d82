"""The fit card of a decided case."""

import os
from typing import Final

import streamlit as st

from pose_fit.app.inputs.catalogue_form import ask_catalogue
from pose_fit.app.inputs.child_form import ask_rider
from pose_fit.app.local_time import today
from pose_fit.app.shop.case_day import show_on_day
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import LANGUAGE_NAMES, LANGUAGES, Language, in_language
from pose_fit.app.views.bicycles_view import show_bicycles
from pose_fit.app.views.card_view import offer_card
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.child_history import forecast_for
from pose_fit.casebook.events import Exported
from pose_fit.casebook.present import order_of, present_day
from pose_fit.errors import PersonError
from pose_fit.fit.judge import judge
from pose_fit.growth.lasting import lasting

__all__ = ["SHOP_VARIABLE", "show_case_card"]

#: Environment variable with the shop's name and address, for its cards.
SHOP_VARIABLE: Final = "POSE_FIT_SHOP"


def show_case_card(book: CaseBook, case: Case, *, by: str) -> None:
    """Card with the inseam that staff stand by, in the family's language; a present's on its day."""
    say, answer = in_language(CASE), case.content.answer
    if answer is None:
        st.caption(say.card_first)
        return
    page = f"{'case' if by == 'family' else 'staff'}.card.{case.case_id}"
    rider = ask_rider(page)
    on, wanted = present_day(case), show_on_day(case, answer)
    fits = judge(wanted, ask_catalogue(page), rider=rider)
    order = order_of(case, fits)
    try:
        day = max(today(), on or today())
        lines = lasting(fits, forecast_for(case, book.cases_of_child(case.content.child_code), day))
    except PersonError:
        # The growth tables say nothing of these legs.
        lines = ()
    offer_card(
        wanted,
        fits,
        page=page,
        lines=lines,
        label=case.content.label,
        checked=say.card_checked,
        shop=os.environ.get(SHOP_VARIABLE, ""),
        speaks=_asked_language(case, page),
        order=order,
        inseam_on=None if wanted is answer else on,
        on_given=lambda: book.note_export(case.case_id, Exported("fit card"), by=by),
    )
    show_bicycles(fits, page=page, order=order)


def _asked_language(case: Case, page: str) -> Language:
    chosen: Language = st.radio(
        in_language(CASE).card_language,
        LANGUAGES,
        index=LANGUAGES.index(case.content.language),
        format_func=LANGUAGE_NAMES.__getitem__,
        key=f"{page}.language",
        horizontal=True,
    )
    return chosen
