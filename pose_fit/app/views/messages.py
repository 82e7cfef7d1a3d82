"""Refusals, warnings and advice, said kindly."""

from collections.abc import Sequence

import streamlit as st

from pose_fit.refusal import Notice, Refusal

__all__ = ["plain", "show_notices", "show_refusal"]


def show_refusal(refusal: Refusal, *, title: str = "This picture cannot be measured") -> None:
    """Why, and what to do instead."""
    lines = [f"**{title}.**", *(f"- {plain(reason.message)}" for reason in refusal.reasons)]
    if refusal.remedies:
        lines += ["", "**What helps:**", *(f"- {plain(line)}" for line in refusal.remedies)]
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
