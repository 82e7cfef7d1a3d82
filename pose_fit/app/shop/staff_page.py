"""The staff side: who waits, one case, finding, giving out, accounts."""

from typing import get_args

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.shop.account_page import show_accounts
from pose_fit.app.shop.case_list import show_find, show_queue
from pose_fit.app.shop.case_page import open_case, show_case
from pose_fit.app.shop.pairs_page import show_pairs
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.shop.sign_in import sign_out, signed_in
from pose_fit.app.shop.stock_page import show_stock
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.staff_texts import STAFF, StaffPart
from pose_fit.app.views.messages import fault_text, plain
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError

__all__ = ["staff_page"]


def staff_page() -> None:
    """The whole page."""
    st.title(in_language(STAFF).title)
    try:
        book = case_book()
        by = signed_in(book)
        if by is not None:
            _show(book, by)
    except CaseBookError as error:
        st.error(fault_text(error), icon=":material/database_off:")


def _show(book: CaseBook, by: str) -> None:
    _show_who(book, by)
    told = st.session_state.pop("staff.told", None)
    if told is not None:
        st.success(told, icon=":material/check:")
    case = open_case(book)
    if case is not None:
        show_case(book, case, by=by)
        return
    match _part():
        case "find":
            show_find(book, by=by)
        case "pairs":
            show_pairs(book, by=by)
        case "stock":
            show_stock(book, by=by)
        case "accounts":
            show_accounts(book, by=by)
        case _:
            show_queue(book)


def _part() -> StaffPart | None:
    say = in_language(STAFF)
    parts: tuple[StaffPart, ...] = get_args(StaffPart)
    key = f"{FIELD}staff.part"
    st.session_state.setdefault(key, parts[0])
    return st.segmented_control(
        say.part, parts, format_func=say.parts.__getitem__, key=key, label_visibility="collapsed"
    )


def _show_who(book: CaseBook, by: str) -> None:
    say = in_language(STAFF)
    with st.container(horizontal=True, vertical_alignment="center"):
        st.markdown(say.signed_in.format(name=plain(by)))
        if st.button(say.sign_out, icon=":material/logout:", type="tertiary"):
            sign_out(book)
            st.rerun()
