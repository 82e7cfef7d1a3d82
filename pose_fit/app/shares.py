"""Answers that somebody shared: numbers and bicycles under a secret of their own, no picture.

The address of a visit belongs to its browser. What is shared is another thing: it holds no picture
and nothing that was typed, ends by itself, and ends at once when it is taken back. It is kept in
this process's memory, never on a disk, so that it also ends when the program is started anew.
"""

import datetime as dt
import hashlib
import secrets
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

import streamlit as st

from pose_fit.fit.choice import Choice, NoneFits
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam

__all__ = ["KEPT", "Share", "SharedAnswer", "share", "shared_answer", "take_back"]

#: So long a shared answer is shown.
KEPT: Final = dt.timedelta(days=7)
#: The oldest make room for more.
_MOST: Final = 2000


@dataclass(frozen=True, slots=True)
class SharedAnswer:
    """What is shown to whoever has the link: the choice, the inseam, how long each bicycle lasts."""

    choice: Choice | NoneFits
    inseam: Inseam
    lasting: Mapping[str, Lasting]

    @property
    def mark(self) -> tuple[object, ...]:
        """The same for the same answer."""
        best = self.choice.best if isinstance(self.choice, Choice) else None
        bicycle = None if best is None else (best.bicycle.name, best.shown)
        return bicycle, self.inseam.mean_mm, self.inseam.sd_mm


@dataclass(frozen=True, slots=True)
class Share:
    """What the sharer holds: the secret that stands in the link, and when it ends."""

    secret: str
    ends_at: dt.datetime


@dataclass(slots=True)
class _Shares:
    """All shared answers of this process by digest of their secret, the oldest first."""

    by_digest: dict[str, tuple[dt.datetime, SharedAnswer]] = field(default_factory=dict)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def drop_old(self, now: dt.datetime) -> None:
        ended = [digest for digest, (ends_at, _) in self.by_digest.items() if ends_at <= now]
        crowd = list(self.by_digest)[: max(len(self.by_digest) - _MOST, 0)]
        for digest in {*ended, *crowd}:
            del self.by_digest[digest]


@st.cache_resource(show_spinner=False)
def _shares() -> _Shares:
    return _Shares()


def share(answer: SharedAnswer) -> Share:
    """A new link's secret for this answer."""
    made = Share(secrets.token_urlsafe(16), _now() + KEPT)
    shares = _shares()
    with shares.lock:
        shares.by_digest[_digest(made.secret)] = made.ends_at, answer
        shares.drop_old(_now())
    return made


def shared_answer(secret: str) -> SharedAnswer | None:
    """The answer under this secret; None where there is none, or none any more."""
    shares = _shares()
    with shares.lock:
        shares.drop_old(_now())
        found = shares.by_digest.get(_digest(secret))
    return None if found is None else found[1]


def take_back(made: Share) -> None:
    """The link shows nothing from now on."""
    shares = _shares()
    with shares.lock:
        shares.by_digest.pop(_digest(made.secret), None)


def _now() -> dt.datetime:
    return dt.datetime.now(dt.UTC)


def _digest(secret: str) -> str:
    return hashlib.sha256(f"share\n{secret}".encode()).hexdigest()
