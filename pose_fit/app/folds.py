"""Parts of a page that fold away and stay as the visitor left them."""

from typing import TYPE_CHECKING

import streamlit as st

from pose_fit.app.session import FIELD

if TYPE_CHECKING:
    from streamlit.elements.lib.mutable_expander_container import ExpanderContainer

__all__ = ["fold", "unfold"]


def unfold(name: str) -> None:
    """Show the part of this name unfolded when its page is next opened."""
    st.session_state[_key(name)] = True


def fold(label: str, name: str, *, opened: bool = False) -> "ExpanderContainer":
    """A part that folds; ``open`` says whether it is unfolded.

    Without a name of its own a part is known by its place on the page, and folds by itself when
    something appears above it.
    """
    return st.expander(label, expanded=opened, key=_key(name), on_change="rerun")


def _key(name: str) -> str:
    return f"{FIELD}fold.{name}"
