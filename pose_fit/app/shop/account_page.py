"""Accounts of staff: who may sign in."""

from collections.abc import Callable

import streamlit as st

from pose_fit.app.local_time import local
from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.texts.staff_texts import ACCOUNTS
from pose_fit.app.views.messages import fault_text, plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.staff_accounts import PASSPHRASE_LENGTH
from pose_fit.errors import CaseBookError, SignInError

__all__ = ["show_accounts"]


def show_accounts(book: CaseBook, *, by: str) -> None:
    """List, add, close, and change one's own passphrase."""
    say = in_language(ACCOUNTS)
    members = book.staff.members()
    for place, member in enumerate(members):
        with st.container(horizontal=True, vertical_alignment="center"):
            since = day_text(local(member.added_at).date())
            st.markdown(say.since.format(name=plain(member.name), day=since))
            if member.name != by and st.button(say.close, key=f"staff.close.{place}"):
                book.staff.retire(member.name)
                st.rerun()
    with st.form("add_member", clear_on_submit=True):
        st.markdown(say.another)
        name = st.text_input(say.name)
        passphrase = st.text_input(
            say.passphrase.format(least=PASSPHRASE_LENGTH[0]),
            type="password",
            autocomplete="new-password",
        )
        if st.form_submit_button(say.add):
            _try(lambda: book.staff.add(name, passphrase), say.added.format(name=plain(name)))
    with st.form("change_passphrase", clear_on_submit=True):
        st.markdown(say.own)
        old = st.text_input(say.present, type="password", autocomplete="current-password")
        new = st.text_input(say.new, type="password", autocomplete="new-password")
        if st.form_submit_button(say.change):
            _try(lambda: book.staff.change_passphrase(by, old=old, new=new), say.changed)


def _try(action: Callable[[], object], done: str) -> None:
    try:
        action()
    except (CaseBookError, SignInError) as error:
        st.error(fault_text(error), icon=":material/edit:")
    else:
        st.success(done, icon=":material/check:")
