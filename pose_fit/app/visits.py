"""A visit outlives the reload of a page: kept in this process's memory, under a secret in the URL.

Streamlit starts a new session with every reload. What a visitor entered is therefore kept here
too, for half an hour after the last touch, and never on a disk. The secret is 128 random bits;
whoever does not have it finds nothing. The staff side is left out: a reload signs out.
"""

import secrets
import threading
import time
from dataclasses import dataclass, field
from typing import Any, Final

import streamlit as st

from pose_fit.app.session import FIELD

__all__ = ["forget_visit", "keep_visit", "resume_visit"]

_KEPT_S: Final = 30 * 60
#: A visit with three measured pictures takes some 60 MB.
_MOST: Final = 40
_PARAMETER: Final = "visit"
_TOKEN: Final = "visit.token"
_KEPT: Final = (FIELD, "shots.", "points.", "moves.", "answer.", "catalogue.", "sample.")
_NOT_KEPT: Final = (f"{FIELD}staff.", "answer.case.", "moves.case.", "points.case.")


@dataclass(slots=True)
class _Visit:
    seen_s: float
    entries: dict[str, Any]


@dataclass(slots=True)
class _Visits:
    """All visits of this process, the longest untouched first."""

    by_token: dict[str, _Visit] = field(default_factory=dict)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def entries(self, token: str) -> dict[str, Any] | None:
        with self.lock:
            self._drop_old()
            visit = self.by_token.get(token)
            return None if visit is None else dict(visit.entries)

    def keep(self, token: str, entries: dict[str, Any]) -> None:
        with self.lock:
            self.by_token.pop(token, None)
            self.by_token[token] = _Visit(time.monotonic(), entries)
            self._drop_old()

    def forget(self, token: str) -> None:
        with self.lock:
            self.by_token.pop(token, None)

    def _drop_old(self) -> None:
        oldest_s = time.monotonic() - _KEPT_S
        old = [token for token, visit in self.by_token.items() if visit.seen_s < oldest_s]
        crowd = list(self.by_token)[: max(len(self.by_token) - _MOST, 0)]
        for token in {*old, *crowd}:
            del self.by_token[token]


@st.cache_resource(show_spinner=False)
def _visits() -> _Visits:
    return _Visits()


def resume_visit() -> None:
    """Bring back what was entered before a reload; called before any field is shown."""
    state: Any = st.session_state
    if _TOKEN not in state:
        told = st.query_params.get(_PARAMETER, "")
        entries = _visits().entries(told)
        state[_TOKEN] = secrets.token_urlsafe(16) if entries is None else told
        for key, value in (entries or {}).items():
            state[key] = value
    if st.query_params.get(_PARAMETER) != state[_TOKEN]:
        st.query_params[_PARAMETER] = state[_TOKEN]


def keep_visit() -> None:
    """Keep what is entered so far; called after every run, also one that failed."""
    state: Any = st.session_state
    if _TOKEN in state:
        entries = {
            str(key): state[key]
            for key in state
            if str(key).startswith(_KEPT) and not str(key).startswith(_NOT_KEPT)
        }
        _visits().keep(state[_TOKEN], entries)


def forget_visit() -> None:
    """Let go of everything the visitor brought, here and in the session."""
    state: Any = st.session_state
    if _TOKEN in state:
        _visits().forget(state[_TOKEN])
    for key in list(state):
        del state[key]
    st.query_params.clear()
