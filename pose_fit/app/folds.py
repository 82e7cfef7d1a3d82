"""Parts of a page that fold away and stay as the visitor left them while the page is open."""

from typing import TYPE_CHECKING

import streamlit as st

from pose_fit.app.session import Fields

if TYPE_CHECKING:
    from streamlit.elements.lib.mutable_expander_container import ExpanderContainer

__all__ = ["fold", "unfold"]

_UNFOLDED = Fields("fold")


def unfold(name: str) -> None:
    """Show the part of this name unfolded when its page is next opened."""
    _UNFOLDED.fill(name, True)


def fold(label: str, name: str, *, opened: bool = False) -> "ExpanderContainer":
    """A part that folds, ``opened`` until the visitor presses it.

    The browser alone knows whether it is unfolded: a press does not run the page again, and an
    answer that was under way cannot fold the part back. Without a name of its own a part is known
    by its place on the page, and folds by itself when something appears above it. Once ``opened``
    changes it is another part.
    """
    is_opened = opened or _UNFOLDED.value(name, False)
    return st.expander(label, expanded=is_opened, key=f"fold.{name}.{is_opened}")
