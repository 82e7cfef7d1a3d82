"""Lists of cases: those that wait, and those that are looked for."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.shop.case_changes import go_to_case
from pose_fit.app.shop.case_words import STATE_WORDS, estimate_words, title
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import STATES, Case
from pose_fit.casebook.query import CaseQuery

__all__ = ["show_find", "show_queue"]

_PAGE_SIZE: Final = 25


def show_queue(book: CaseBook) -> None:
    """Cases that wait, the longest waiting first."""
    cases = book.queue(limit=_PAGE_SIZE)
    waiting = book.count(CaseQuery(states=("waiting",)))
    st.markdown(f"**{waiting}** waiting, longest first")
    if not cases:
        st.caption("Nothing waits.")
    _show_rows(cases, "queue")
    if waiting > len(cases):
        st.caption(f"The first {len(cases)} are shown.")


def show_find(book: CaseBook, *, by: str) -> None:
    """Search, and the table of what was found."""
    text = st.text_input("Words in label, notes, reasons or names", key=f"{FIELD}staff.text")
    states = st.pills(
        "State",
        STATES,
        selection_mode="multi",
        format_func=STATE_WORDS.__getitem__,
        key=f"{FIELD}staff.states",
    )
    left, right = st.columns(2)
    since = left.date_input("Received from", value=None, key=f"{FIELD}staff.since")
    until = right.date_input("Received until", value=None, key=f"{FIELD}staff.until")
    query = CaseQuery(
        text=text or "",
        states=tuple(states),
        received_from=None if since is None else _midnight(since),
        received_before=None if until is None else _midnight(until + dt.timedelta(days=1)),
    )
    found = book.count(query)
    st.markdown(f"**{found}** found, newest first")
    _show_rows(book.find(query, limit=_PAGE_SIZE), "find")
    if found > _PAGE_SIZE:
        st.caption(f"The first {_PAGE_SIZE} are shown; narrow the search, or export.")
    if found and st.button("Prepare a table of all found (CSV)", icon=":material/table:"):
        st.session_state["staff.table"] = book.export_csv(query, by=by)
    if "staff.table" in st.session_state:
        st.download_button(
            "Download the table",
            st.session_state["staff.table"],
            file_name=f"cases-{dt.date.today():%Y-%m-%d}.csv",
            mime="text/csv",
            on_click=_forget_table,
        )


def _forget_table() -> None:
    st.session_state.pop("staff.table", None)


def _show_rows(cases: Sequence[Case], place: str) -> None:
    for case in cases:
        with st.container(border=True, horizontal=True, vertical_alignment="center"):
            st.markdown(
                f"**{plain(title(case))}**  \n{STATE_WORDS[case.state]},"
                f" {plain(estimate_words(case))}, received {case.received_at:%Y-%m-%d %H:%M} UTC"
            )
            if st.button(f"Open case {case.case_id}", key=f"staff.open.{place}.{case.case_id}"):
                go_to_case(case)
                st.rerun()


def _midnight(day: dt.date) -> dt.datetime:
    return dt.datetime.combine(day, dt.time.min, tzinfo=dt.UTC)
