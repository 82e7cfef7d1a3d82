"""What one visitor's session holds. Nothing here is shared with others or written to a disk."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, TypeVar

import streamlit as st

from pose_fit.body.body import Body, PoseModel
from pose_fit.photo.photo import Photo

__all__ = ["FIELD", "BodyOnce", "Points", "Shot", "keep_fields", "remembered", "shots"]

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


class BodyOnce:
    """A pose model that looks at each photo of the session once."""

    def __init__(self, model: PoseModel) -> None:
        self._model = model
        self._found: dict[int, tuple[Photo, Body | None]] = {}

    def find(self, photo: Photo) -> Body | None:
        """The person in the photo, from memory where it was looked at before."""
        if id(photo) not in self._found:
            # The photo is kept with its body, so that its id stays its own.
            self._found[id(photo)] = photo, self._model.find(photo)
        return self._found[id(photo)][1]

    def know(self, photo: Photo, body: Body) -> None:
        """Take it as known who is in the photo."""
        self._found[id(photo)] = photo, body

    def forget(self, photo: Photo) -> None:
        """Drop a photo and what was found in it."""
        self._found.pop(id(photo), None)


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
