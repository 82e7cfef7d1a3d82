"""How to take the picture, and the sheet to print."""

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.style import drawing
from pose_fit.drawing.how_to_drawing import PICTURE_ALT, TAPE_ALT, picture_drawing, tape_drawing
from pose_fit.metrology.units import both_units
from pose_fit.reference.sheet import RULER_MM, Paper, sheet_pdf

__all__ = ["show_how_to", "show_tape_drawing"]


def show_how_to(page: str) -> None:
    """Drawing, the sheet in two paper sizes, and what to do without a printer."""
    with fold("How to take the picture, and the sheet to print", f"{page}.how_to"):
        left, right = st.columns(2, gap="medium")
        with left:
            drawing(picture_drawing(), alt=PICTURE_ALT)
        with right:
            st.markdown(
                "1. Print the sheet at 100 %, not “fit to page”.\n"
                f"2. Measure its ruler: it should be {both_units(RULER_MM)} long. If it is not, say"
                " below what it measures.\n"
                "3. Tape it flat to the wall, its middle at the height of the child’s knees.\n"
                "4. The child stands beside it, facing you, heels at the wall, feet a hand apart,"
                " barefoot or in thin socks.\n"
                "5. Hold the phone level at the height of the hips, 2 to 3 m (7 to 10 ft) away, and"
                " take two or three pictures.\n"
                "6. Send the original files: messengers strip what the lens was."
            )
            with st.container(horizontal=True):
                _download(page, "letter", "The sheet on Letter paper (PDF)")
                _download(page, "a4", "The sheet on A4 paper (PDF)")
            st.markdown(
                "No printer? A blank sheet of Letter or A4 paper on the wall, a door beside the"
                " child, or the child’s own bicycle wheel will do too."
            )


def show_tape_drawing() -> None:
    """Book and tape."""
    drawing(tape_drawing(), alt=TAPE_ALT)


def _download(page: str, paper: Paper, label: str) -> None:
    st.download_button(
        label,
        _sheet(paper),
        file_name=f"reference-sheet-{paper}.pdf",
        mime="application/pdf",
        key=f"{page}.sheet.{paper}",
        icon=":material/print:",
        on_click="ignore",
    )


@st.cache_data(show_spinner=False)
def _sheet(paper: Paper) -> bytes:
    return sheet_pdf(paper=paper)
