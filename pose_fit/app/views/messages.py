"""Refusals, warnings and advice, said kindly."""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.refusal import Ask, Notice, Refusal

__all__ = ["plain", "show_notices", "show_refusal"]


#: How to state on the page what would help.
_ASKS: Final[dict[Ask, str]] = {
    "age": "Fill in the age.",
    "crotch": "Click where the legs part.",
    "floor": "Click the tip of the toes.",
    "heels_down": "If you know that both heels were on the floor, tick it.",
    "person": "Or click on the child.",
    "points": "Or click the points of the object yourself.",
    "ruler": "Fill in what the sheet’s ruler measures.",
    "size": "Choose the object, and fill in its size.",
    "soles": "Fill in how thick the soles are.",
    "taken": "Fill in the day of the picture.",
}


def show_refusal(refusal: Refusal, *, title: str = "This picture cannot be measured") -> None:
    """Why, and what to do instead."""
    lines = [f"**{title}.**", *(f"- {plain(reason.message)}" for reason in refusal.reasons)]
    helps = [*(_ASKS[ask] for ask in refusal.asks), *refusal.remedies]
    if helps:
        lines += ["", "**What helps:**", *(f"- {plain(line)}" for line in helps)]
    st.warning("\n".join(lines), icon=":material/photo_camera:")


def show_notices(notices: Sequence[Notice]) -> None:
    """What to know about a value."""
    for notice in notices:
        st.info(plain(notice.message), icon=":material/info:")


def plain(text: str) -> str:
    """Text whose signs Markdown would take for marks of its own."""
    for sign in ("\\", "*", "_", "`", "[", "]", "$", "<", ">", ":", "#", "~"):
        text = text.replace(sign, f"\\{sign}")
    return text
