"""Do all pictures show the same child? Asked where they look as if they did not."""

from collections.abc import Sequence

import streamlit as st

from pose_fit.app.measuring import Outcome
from pose_fit.app.session import Fields
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language
from pose_fit.refusal import Refusal

__all__ = ["ask_one_child", "is_one_child"]

_ANSWER = "one_child"


def is_one_child(page: str, outcomes: Sequence[Outcome]) -> bool:
    """Whether somebody said so of just these pictures."""
    return Fields(page).value(_ANSWER, ()) == _keys(outcomes)


def ask_one_child(page: str, outcomes: Sequence[Outcome], why: Refusal) -> None:
    """The button that says so, where that is the question."""
    if "same_child" in why.asks:
        st.button(
            in_language(FAMILY).one_child,
            key=f"{page}.one_child",
            on_click=Fields(page).fill,
            args=(_ANSWER, _keys(outcomes)),
        )


def _keys(outcomes: Sequence[Outcome]) -> tuple[str, ...]:
    return tuple(outcome.shot.key for outcome in outcomes)
