"""Parts of a page that fold away and stay as the visitor left them."""

from typing import TYPE_CHECKING

import streamlit as st

from pose_fit.app.session import FIELD

if TYPE_CHECKING:
    from streamlit.elements.lib.mutable_expander_container import ExpanderContainer

__all__ = ["fold"]


def fold(label: str, name: str) -> "ExpanderContainer":
    """A part that folds, folded at first; ``open`` says whether it is unfolded.

    Without a name of its own a part is known by its place on the page, and folds by itself when
    something appears above it.
    """
    key = f"{FIELD}fold.{name}"
    return st.expander(label, key=key, on_change="rerun")
