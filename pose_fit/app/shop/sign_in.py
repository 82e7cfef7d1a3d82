"""Who is at the staff side: name and passphrase, or the shop's own OpenID provider.

A sign-in outlives a reload where the server gave the browser a secret in a cookie; the book
remembers it for a working day unless nobody touches the page, and forgets it at the sign-out.
What the provider vouched for begins such a sign-in, with the same limits.
"""

import secrets
import sys
import time
from collections.abc import Mapping
from typing import Any, Final

import streamlit as st

from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.staff_texts import STAFF
from pose_fit.app.views.messages import fault_text
from pose_fit.app.visits import browser_secret
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.staff_accounts import PASSPHRASE_LENGTH, StaffMember
from pose_fit.casebook.staff_sign_ins import IDLE
from pose_fit.errors import CaseBookError, SignInError

__all__ = ["sign_out", "signed_in"]

_NAME: Final = "staff.name"
_SEEN: Final = "staff.seen_s"


def signed_in(book: CaseBook) -> str | None:
    """Name of the member of staff at this session; the form is shown where there is none."""
    name = _kept_name(book)
    if name is not None:
        st.session_state[_SEEN] = time.monotonic()
        return name
    if not book.staff.members():
        _ask_first_account(book)
        return None
    if _provider_is_configured():
        _ask_provider()
    _ask_passphrase(book)
    return None


def sign_out(book: CaseBook) -> None:
    """Forget who was here, and what they were looking at."""
    book.sign_ins.end(browser_secret())
    for key in [key for key in st.session_state if str(key).startswith("staff.")]:
        del st.session_state[key]
    if _provider_is_configured() and st.user.is_logged_in:
        st.logout()


def _kept_name(book: CaseBook) -> str | None:
    name: str | None = st.session_state.get(_NAME)
    secret = browser_secret()
    known = book.sign_ins.member(secret)
    if name is None:
        if known is None and _provider_is_configured() and st.user.is_logged_in:
            known = _provided_member(book)
            if known is not None:
                book.sign_ins.begin(known, secret)
        if known is not None:
            st.session_state[_NAME] = name = known.name
    elif (is_idle := _is_idle()) or (known is None and secret):
        sign_out(book)
        if is_idle:
            st.info(in_language(STAFF).idle)
        return None
    # An account that was closed meanwhile is out at once.
    return name if name in {member.name for member in book.staff.members()} else None


def _is_idle() -> bool:
    """By this page alone, which is all there is where the browser keeps no secret."""
    seen_s: float = st.session_state[_SEEN]
    return time.monotonic() - seen_s > IDLE.total_seconds()


def _provided_member(book: CaseBook) -> StaffMember | None:
    """The account whose name is the e-mail address that the provider vouches for."""
    told: dict[str, Any] = dict(st.user)
    if not _is_fresh(told):
        sign_out(book)
        st.info(in_language(STAFF).idle)
        return None
    address = str(told.get("email") or "")
    if told.get("email_verified") is not False:
        for member in book.staff.members():
            if address and member.name.casefold() == address.casefold():
                return member
    st.error(in_language(STAFF).not_on_list)
    return None


def _is_fresh(told: Mapping[str, Any]) -> bool:
    """Whether somebody signed in at the provider just now.

    The browser keeps the provider's word for weeks, longer than any sign-in may last here. ``iat``,
    seconds since 1970, is when it was given (OpenID Connect Core 1.0, section 2; required there).
    """
    given_s = told.get("iat")
    if not isinstance(given_s, int | float):
        return False
    return time.time() - given_s < IDLE.total_seconds()


def _ask_passphrase(book: CaseBook) -> None:
    say = in_language(STAFF)
    with st.form("sign_in"):
        name = st.text_input(say.name, autocomplete="username")
        passphrase = st.text_input(say.passphrase, type="password", autocomplete="current-password")
        sent = st.form_submit_button(say.sign_in, type="primary", icon=":material/login:")
    if not sent:
        return
    try:
        member = book.staff.sign_in(name, passphrase)
    except (SignInError, CaseBookError) as error:
        st.error(fault_text(error), icon=":material/lock:")
        return
    _enter(book, member)


def _enter(book: CaseBook, member: StaffMember) -> None:
    book.sign_ins.begin(member, browser_secret())
    st.session_state[_NAME] = member.name
    st.session_state[_SEEN] = time.monotonic()
    st.rerun()


def _ask_first_account(book: CaseBook) -> None:
    """The first account of a new book, for whoever reads the terminal the app runs in."""
    say = in_language(STAFF)
    code = _setup_code(str(id(book)))
    st.info(say.no_account, icon=":material/key:")
    with st.form("first_account"):
        typed = st.text_input(say.setup_code, autocomplete="off")
        name = st.text_input(say.your_name, autocomplete="username")
        passphrase = st.text_input(
            say.passphrase_new.format(least=PASSPHRASE_LENGTH[0]),
            type="password",
            autocomplete="new-password",
        )
        sent = st.form_submit_button(say.make_account)
    if not sent:
        return
    if not secrets.compare_digest(typed.strip().encode(), code.encode()):
        st.error(say.wrong_code, icon=":material/lock:")
        return
    try:
        member = book.staff.add(name, passphrase)
    except CaseBookError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return
    _enter(book, member)


@st.cache_resource(show_spinner=False)
def _setup_code(_book: str) -> str:
    code = secrets.token_hex(8)
    print(f"Setup code for the first staff account: {code}", file=sys.stderr, flush=True)
    return code


def _provider_is_configured() -> bool:
    """Whether Streamlit's secrets name an OpenID provider."""
    try:
        return "auth" in st.secrets
    except FileNotFoundError:
        return False


def _ask_provider() -> None:
    if st.button(in_language(STAFF).sign_in_with_shop, icon=":material/badge:"):
        st.login()
