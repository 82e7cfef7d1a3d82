"""The sheet to print, and how to use the tape."""

import streamlit as st

from pose_fit.app.style import drawing
from pose_fit.app.texts.form_texts import TAPE
from pose_fit.app.texts.language import in_language
from pose_fit.drawing.how_to_drawing import tape_drawing
from pose_fit.reference.paper import Paper
from pose_fit.reference.printed_sheet import sheet_pdf

__all__ = ["offer_sheet", "show_tape_drawing"]


def show_tape_drawing() -> None:
    """Book and tape."""
    say = in_language(TAPE)
    drawing(tape_drawing(say.drawn), alt=say.drawn_alt)


def offer_sheet(page: str, paper: Paper, label: str) -> None:
    """The sheet on this paper, to download."""
    st.download_button(
        label,
        _sheet(paper),
        file_name=f"reference-sheet-{paper}.pdf",
        mime="application/pdf",
        key=f"{page}.sheet.{paper}",
        type="tertiary",
        on_click="ignore",
    )


@st.cache_data(show_spinner=False)
def _sheet(paper: Paper) -> bytes:
    return sheet_pdf(paper=paper)
