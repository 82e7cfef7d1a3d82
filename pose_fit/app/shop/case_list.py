"""Lists of cases: those that wait, and those that are looked for."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.app.local_time import midnight, moment_text, today
from pose_fit.app.session import FIELD
from pose_fit.app.shop.case_changes import go_to_case
from pose_fit.app.shop.case_words import estimate_words, title
from pose_fit.app.texts.language import date_format, in_language
from pose_fit.app.texts.staff_texts import LISTS
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import STATES, Case
from pose_fit.casebook.query import CaseQuery

__all__ = ["show_find", "show_queue"]

_PAGE_SIZE: Final = 25


def show_queue(book: CaseBook) -> None:
    """Cases that wait, the longest waiting first."""
    say = in_language(LISTS)
    cases = book.queue(limit=_PAGE_SIZE)
    if not cases:
        st.markdown(say.nothing)
        return
    waiting = book.count(CaseQuery(states=("waiting",)))
    st.markdown(say.waiting.format(count=waiting))
    _show_rows(cases, "queue")
    if waiting > len(cases):
        st.caption(say.first.format(count=len(cases)))


def show_find(book: CaseBook, *, by: str) -> None:
    """Search, and the table of what was found."""
    say = in_language(LISTS)
    text = st.text_input(say.words, key=f"{FIELD}staff.text")
    states = st.pills(
        say.state,
        STATES,
        selection_mode="multi",
        format_func=say.states.__getitem__,
        key=f"{FIELD}staff.states",
    )
    left, right = st.columns(2)
    since = left.date_input(say.since, value=None, key=f"{FIELD}staff.since", format=date_format())
    until = right.date_input(say.until, value=None, key=f"{FIELD}staff.until", format=date_format())
    query = CaseQuery(
        text=text or "",
        states=tuple(states),
        received_from=None if since is None else midnight(since),
        received_before=None if until is None else midnight(until + dt.timedelta(days=1)),
    )
    found = book.count(query)
    st.markdown(say.found.format(count=found))
    _show_rows(book.find(query, limit=_PAGE_SIZE), "find")
    if found > _PAGE_SIZE:
        st.caption(say.first_found.format(count=_PAGE_SIZE))
    if found and st.button(say.prepare, icon=":material/table:"):
        st.session_state["staff.table"] = book.export_csv(query, by=by)
    if "staff.table" in st.session_state:
        st.download_button(
            say.download,
            st.session_state["staff.table"],
            file_name=f"cases-{today():%Y-%m-%d}.csv",
            mime="text/csv",
            on_click=_forget_table,
        )


def _forget_table() -> None:
    st.session_state.pop("staff.table", None)


def _show_rows(cases: Sequence[Case], place: str) -> None:
    """One button a case: its name, and what it says."""
    say = in_language(LISTS)
    for case in cases:
        moment = moment_text(case.received_at)
        told = say.row.format(estimate=estimate_words(case), moment=moment)
        if place == "find":
            told = f"{say.states[case.state]}. {told}"
        label = f"**{plain(title(case))}.** {plain(told)}"
        if st.button(label, key=f"staff.open.{place}.{case.case_id}", width="stretch"):
            go_to_case(case)
            st.rerun()
