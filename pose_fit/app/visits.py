"""A visit outlives the reload of a page: kept in this process's memory, for one browser alone.

Streamlit starts a new session with every reload. What a visitor entered is therefore kept here
too, for half an hour after the last touch, and never on a disk. A visit is found by the secret in
its address together with the secret that the server gave this browser in a cookie: 128 random bits
each. The address alone, sent to somebody or read over a shoulder, opens nothing. The staff side is
left out: who signed in there stands in the case book (:mod:`pose_fit.app.shop.sign_in`).

A visit ends with the process that keeps it, and the page says so (:func:`is_visit_lost`). Another
process could know it only from a disk, and a picture with a face in it is written to none.
"""

import hashlib
import secrets
import threading
import time
from dataclasses import dataclass, field
from typing import Any, Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.shares import Share, take_back
from pose_fit.app.views.messages import fault_text
from pose_fit.errors import CaseBookError

__all__ = [
    "BROWSER_COOKIE",
    "browser_secret",
    "forget_visit",
    "is_visit_lost",
    "keep_visit",
    "resume_visit",
]

#: Set in the session while the page has to say that an earlier visit is not kept any more.
_LOST: Final = "visit.lost"

#: Given by the server with the first answer, read by no script.
BROWSER_COOKIE: Final = "pose_fit_browser"
_KEPT_S: Final = 30 * 60
#: A visit with three measured pictures takes some 60 MB.
_MOST: Final = 40
_PARAMETER: Final = "visit"
_TOKEN: Final = "visit.token"
_KEPT: Final = (FIELD, "shots.", "said.", "catalogue.", "sent.")
_NOT_KEPT: Final = (f"{FIELD}staff.", "said.case.")


@dataclass(slots=True)
class _Visit:
    seen_s: float
    entries: dict[str, Any]


@dataclass(slots=True)
class _Visits:
    """All visits of this process, the longest untouched first."""

    by_key: dict[str, _Visit] = field(default_factory=dict)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def entries(self, key: str) -> dict[str, Any] | None:
        with self.lock:
            self._drop_old()
            visit = self.by_key.get(key)
            return None if visit is None else dict(visit.entries)

    def keep(self, key: str, entries: dict[str, Any]) -> None:
        with self.lock:
            self.by_key.pop(key, None)
            self.by_key[key] = _Visit(time.monotonic(), entries)
            self._drop_old()

    def forget(self, key: str) -> None:
        with self.lock:
            self.by_key.pop(key, None)

    def _drop_old(self) -> None:
        oldest_s = time.monotonic() - _KEPT_S
        old = [key for key, visit in self.by_key.items() if visit.seen_s < oldest_s]
        crowd = list(self.by_key)[: max(len(self.by_key) - _MOST, 0)]
        for key in {*old, *crowd}:
            del self.by_key[key]


@st.cache_resource(show_spinner=False)
def _visits() -> _Visits:
    return _Visits()


def browser_secret() -> str:
    """The secret of this browser; empty where the server gave none, and no visit is kept then."""
    return str(st.context.cookies.get(BROWSER_COOKIE, ""))


def resume_visit() -> None:
    """Bring back what was entered before a reload; called before any field is shown."""
    state: Any = st.session_state
    if _TOKEN not in state:
        told = st.query_params.get(_PARAMETER, "")
        key = _key(told)
        entries = None if key is None else _visits().entries(key)
        state[_TOKEN] = secrets.token_urlsafe(16) if entries is None else told
        for name, value in (entries or {}).items():
            state[name] = value
        if told and entries is None:
            state[_LOST] = True
    if st.query_params.get(_PARAMETER) != state[_TOKEN]:
        st.query_params[_PARAMETER] = state[_TOKEN]


def is_visit_lost() -> bool:
    """Whether the address told of a visit that is not kept here; true once a session."""
    return bool(st.session_state.pop(_LOST, False))


def keep_visit() -> None:
    """Keep what is entered so far; called after every run, also one that failed."""
    state: Any = st.session_state
    key = _key(state[_TOKEN]) if _TOKEN in state else None
    if key is not None:
        entries = {
            str(name): state[name]
            for name in state
            if str(name).startswith(_KEPT) and not str(name).startswith(_NOT_KEPT)
        }
        _visits().keep(key, entries)


def forget_visit() -> None:
    """Let go of everything the visitor brought, here and in the session."""
    state: Any = st.session_state
    key = _key(state[_TOKEN]) if _TOKEN in state else None
    if key is not None:
        _visits().forget(key)
    made = state.get("sent.share")
    for name in list(state):
        del state[name]
    st.query_params.clear()
    if isinstance(made, Share):
        try:
            take_back(made)
        except CaseBookError as fault:
            st.error(fault_text(fault), icon=":material/cloud_off:")


def _key(token: str) -> str | None:
    """Under which a visit is kept: neither secret can be read from it."""
    browser = browser_secret()
    if not token or not browser:
        return None
    return hashlib.sha256(f"{browser}\n{token}".encode()).hexdigest()
