"""The tape: the photo's equal. Readings by hand, each questioned where it looks like a slip."""

from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.session import FIELD
from pose_fit.app.views.messages import show_notices
from pose_fit.casebook.clue import TapeClue
from pose_fit.errors import PersonError
from pose_fit.inseam.from_tape import Care, inseam_from_tape
from pose_fit.inseam.tape_questions import question_tape

__all__ = ["ask_tape"]

_CARE_WORDS: Final[dict[Care, str]] = {
    "careful": "with care: barefoot, book pressed up, upright",
    "hasty": "in a hurry, in shoes, or by somebody else",
}


def ask_tape(page: str, child: Child) -> TapeClue | None:
    """The readings and their inseam; None while nothing usable was entered."""
    readings_mm = [
        length_field(f"Reading {number}", f"{page}.tape.{number}", example_mm=600)
        for number in (1, 2, 3)
    ]
    given_mm = [reading_mm for reading_mm in readings_mm if reading_mm is not None]
    key = f"{FIELD}{page}.care"
    st.session_state.setdefault(key, "careful")
    care: Care = st.radio("Taken", tuple(_CARE_WORDS), format_func=_CARE_WORDS.__getitem__, key=key)
    for reading_mm in given_mm:
        show_notices(
            question_tape(reading_mm, age_y=child.age_y, sex=child.sex, stature_mm=child.stature_mm)
        )
    if not given_mm:
        return None
    try:
        inseam = inseam_from_tape(given_mm, care=care)
    except PersonError as error:
        st.error(str(error), icon=":material/edit:")
        return None
    return TapeClue(readings_mm=tuple(given_mm), care=care, inseam=inseam)
