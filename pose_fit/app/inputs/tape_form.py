"""The tape: the photo's equal. Readings by hand, each questioned where it looks like a slip.

Readings that lie too far apart, or of legs that no child of the stated age or height has, are not
used: a family gets no bicycle by them, and staff cannot keep them, until all go together.
"""

from collections.abc import Sequence
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.lengths import length_field, length_of
from pose_fit.app.session import Fields
from pose_fit.app.texts.form_texts import TAPE, TapeTexts
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.notice_texts import notice_text
from pose_fit.app.views.messages import fault_text, plain, show_notices
from pose_fit.casebook.clue import TapeClue
from pose_fit.errors import PersonError
from pose_fit.inseam.from_tape import Care, inseam_from_tape
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.tape_questions import question_readings
from pose_fit.refusal import Notice
from pose_fit.report.contradiction import TAPE_DISAGREES, contradiction

__all__ = ["ask_tape", "forget_tape", "is_against", "tape_of", "tape_questions_of"]

_NUMBERS: Final = (1, 2, 3)
_USUAL: Final[Care] = "careful"


def tape_of(page: str) -> TapeClue | None:
    """The readings entered so far and their inseam; None without a usable one."""
    care: Care = Fields(f"{page}.tape").value("care", _USUAL)
    try:
        return _clue(_readings_mm(page), care)
    except PersonError:
        return None


def tape_questions_of(page: str, child: Child) -> tuple[Notice, ...]:
    """What may have been measured in place of the inseam, by the readings entered so far."""
    return question_readings(_readings_mm(page), child)


def ask_tape(
    page: str, child: Child, *, with_button: bool = False, said: Sequence[Notice] = ()
) -> TapeClue | None:
    """Three readings and how they were taken; with a button they are taken together.

    None where the readings are no answer yet. What the page has ``said`` already is not repeated.
    """
    say, fields = in_language(TAPE), Fields(f"{page}.tape")
    st.session_state.setdefault(fields.key("care"), _USUAL)
    if with_button:
        with st.form(fields.key("form"), border=False):
            _ask_readings(page, fields, say)
            st.form_submit_button(say.show, type="primary")
    else:
        _ask_readings(page, fields, say)
    questions = tape_questions_of(page, child)
    try:
        clue = _clue(_readings_mm(page), fields.value("care", _USUAL))
    except PersonError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return None
    if clue is not None and not said and is_against(clue.inseam.with_warnings(*questions), child):
        return None
    codes = {notice.code for notice in said}
    show_notices([notice for notice in questions if notice.code not in codes])
    return clue


def is_against(inseam: Inseam, child: Child) -> bool:
    """Whether this is no inseam to keep; then why, and what to check, is said.

    Either the readings are too far apart, or no child of this age or height has such legs.
    """
    why = contradiction(inseam, child)
    if why is None:
        return False
    say, first = in_language(TAPE), why.reasons[0]
    told = plain(notice_text(first, language()))
    check = "" if first.code in TAPE_DISAGREES else f" {say.check}"
    st.warning(f"**{say.check_title}** {told}{check}", icon=":material/straighten:")
    return True


def _ask_readings(page: str, fields: Fields, say: TapeTexts) -> None:
    for column, number in zip(st.columns(3), _NUMBERS, strict=True):
        with column:
            label = say.reading.format(number=number)
            length_field(label, f"{page}.tape.{number}", example_mm=600)
    st.radio(
        say.care,
        tuple(say.cares),
        format_func=say.cares.__getitem__,
        key=fields.key("care"),
        horizontal=True,
    )


def forget_tape(page: str) -> None:
    """Empty the form."""
    Fields(f"{page}.tape").forget()


def _readings_mm(page: str) -> tuple[float, ...]:
    readings = (length_of(f"{page}.tape.{number}") for number in _NUMBERS)
    return tuple(reading_mm for reading_mm in readings if reading_mm is not None)


def _clue(readings_mm: tuple[float, ...], care: Care) -> TapeClue | None:
    """The clue; PersonError where the readings cannot be an inseam."""
    if not readings_mm:
        return None
    inseam = inseam_from_tape(readings_mm, care=care)
    return TapeClue(readings_mm=readings_mm, care=care, inseam=inseam)
