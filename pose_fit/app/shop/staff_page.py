"""The staff side: who waits, one case, finding, giving out, accounts."""

from typing import Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.shop.account_page import show_accounts
from pose_fit.app.shop.case_list import show_find, show_queue
from pose_fit.app.shop.case_page import open_case, show_case
from pose_fit.app.shop.pairs_page import show_pairs
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.shop.sign_in import sign_out, signed_in
from pose_fit.app.shop.stock_page import show_stock
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError

__all__ = ["staff_page"]

_PARTS: Final = ("Waiting", "Find and export", "Photo and tape", "Bicycles", "Accounts")


def staff_page() -> None:
    """The whole page."""
    st.title("Case book")
    try:
        book = case_book()
        by = signed_in(book)
        if by is not None:
            _show(book, by)
    except CaseBookError as error:
        st.error(plain(str(error)), icon=":material/database_off:")


def _show(book: CaseBook, by: str) -> None:
    with st.container(horizontal=True, vertical_alignment="center"):
        st.markdown(f"Signed in as **{plain(by)}**")
        if st.button("Sign out", icon=":material/logout:"):
            sign_out(book)
            st.rerun()
    told = st.session_state.pop("staff.told", None)
    if told is not None:
        st.success(told, icon=":material/check:")
    case = open_case(book)
    if case is not None:
        show_case(book, case, by=by)
        return
    key = f"{FIELD}staff.part"
    st.session_state.setdefault(key, _PARTS[0])
    part = st.segmented_control("Part of the book", _PARTS, key=key)
    match part:
        case "Find and export":
            show_find(book, by=by)
        case "Photo and tape":
            show_pairs(book, by=by)
        case "Bicycles":
            show_stock(book, by=by)
        case "Accounts":
            show_accounts(book, by=by)
        case _:
            show_queue(book)
