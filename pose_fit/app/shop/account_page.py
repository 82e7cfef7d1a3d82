"""Accounts of staff: who may sign in."""

from collections.abc import Callable

import streamlit as st

from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.staff_accounts import PASSPHRASE_LENGTH
from pose_fit.errors import CaseBookError, SignInError

__all__ = ["show_accounts"]


def show_accounts(book: CaseBook, *, by: str) -> None:
    """List, add, close, and change one's own passphrase."""
    members = book.staff.members()
    for place, member in enumerate(members):
        with st.container(horizontal=True, vertical_alignment="center"):
            st.markdown(f"**{plain(member.name)}**, since {member.added_at:%Y-%m-%d}")
            if member.name != by and st.button("Close this account", key=f"staff.close.{place}"):
                book.staff.retire(member.name)
                st.rerun()
    with st.form("add_member", clear_on_submit=True):
        st.markdown("**Another member of staff**")
        name = st.text_input("Name, or e-mail address for the shop’s own sign-in")
        passphrase = st.text_input(
            f"First passphrase, at least {PASSPHRASE_LENGTH[0]} characters",
            type="password",
            autocomplete="new-password",
        )
        if st.form_submit_button("Add"):
            _try(lambda: book.staff.add(name, passphrase), f"{name} can sign in now.")
    with st.form("change_passphrase", clear_on_submit=True):
        st.markdown("**Your own passphrase**")
        old = st.text_input("Present one", type="password", autocomplete="current-password")
        new = st.text_input("New one", type="password", autocomplete="new-password")
        if st.form_submit_button("Change"):
            _try(
                lambda: book.staff.change_passphrase(by, old=old, new=new),
                "Your passphrase is changed.",
            )


def _try(action: Callable[[], object], done: str) -> None:
    try:
        action()
    except (CaseBookError, SignInError) as error:
        st.error(plain(str(error)), icon=":material/edit:")
    else:
        st.success(plain(done), icon=":material/check:")
