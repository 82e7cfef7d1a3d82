"""What one visitor's session holds. Nothing here is shared with others or written to a disk."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Final, TypeVar

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.known_object import ObjectOfKnownSize
from pose_fit.photo.photo import Photo, Place
from pose_fit.privacy.faces import Face
from pose_fit.task.stated import NOTHING_STATED, Stated

__all__ = [
    "FIELD",
    "Fields",
    "Points",
    "SaidOfShot",
    "Shot",
    "forget_shot",
    "keep_fields",
    "remembered",
    "said_of",
    "shots",
]

T = TypeVar("T")
Points = list[tuple[float, float]]

#: Keys of entry fields begin so. Streamlit forgets a field that a run did not show; those that
#: begin so are kept while the visitor looks at another page.
FIELD: Final = "field."


@dataclass(frozen=True, slots=True, eq=False)
class Shot:
    """A picture of this session; ``key`` tells it from the others."""

    key: str
    name: str
    photo: Photo


@dataclass(slots=True, eq=False)
class SaidOfShot:
    """Everything said of one picture, and what it gave; forgotten with the picture.

    Attributes
    ----------
    stated
        Soles, legwear and heels; marks and the person meant are beside it.
    answered
        Questions that were answered, also by "I do not know".
    known_object
        As the visitor described it; None to have it looked for.
    child
        The child of a sample picture, of which everything is known; None for one's own.
    moves, points
        Joints, crotch and floor put right, by mark; points marked, by what they mark.
    answer, supposed
        What was asked last, and what came of it; the same, were both heels down.
    shown, faces
        That result, and its picture with marks as the page shows it; the faces hidden in it.
    """

    stated: Stated = NOTHING_STATED
    answered: set[str] = field(default_factory=set)
    known_object: ObjectOfKnownSize | None = None
    child: Child | None = None
    moves: dict[Any, Place] = field(default_factory=dict)
    points: dict[str, Points] = field(default_factory=dict)
    answer: tuple[Any, Any] | None = None
    supposed: tuple[Any, Any] | None = None
    shown: tuple[Any, str] | None = None
    faces: tuple[Face, ...] | None = None


@dataclass(frozen=True, slots=True)
class Fields:
    """The entry fields of one form: named, filled and forgotten by that form alone."""

    form: str

    def key(self, name: str) -> str:
        """Key of one field, for the widget that shows it."""
        return f"{FIELD}{self.form}.{name}"

    def value(self, name: str, default: T) -> T:
        """What the field holds."""
        found: T = st.session_state.get(self.key(name), default)
        return found

    def fill(self, name: str, value: object) -> None:
        """Put a value in, before the field is shown."""
        st.session_state[self.key(name)] = value

    def forget(self) -> None:
        """Empty every field of this form."""
        for key in [key for key in st.session_state if str(key).startswith(self.key(""))]:
            del st.session_state[key]


def keep_fields() -> None:
    """Hold on to every field of every page; called first in each run."""
    for key in list(st.session_state):
        if str(key).startswith(FIELD):
            st.session_state[key] = st.session_state[key]


def remembered(key: str, make: Callable[[], T]) -> T:
    """The session's own object under this key, made at first use."""
    state: Any = st.session_state
    if key not in state:
        state[key] = make()
    found: T = state[key]
    return found


def shots(group: str) -> dict[str, Shot]:
    """The pictures of one page of this session, in the order they came."""
    empty: dict[str, Shot] = {}
    return remembered(f"shots.{group}", lambda: empty)


def said_of(shot: Shot) -> SaidOfShot:
    """What is said of this picture."""
    return remembered(f"said.{shot.key}", SaidOfShot)


def forget_shot(group: str, shot: Shot) -> None:
    """Let go of a picture and of everything said of it."""
    shots(group).pop(shot.key, None)
    st.session_state.pop(f"said.{shot.key}", None)
    Fields(f"shot.{shot.key}").forget()
