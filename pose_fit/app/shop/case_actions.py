"""What staff can do with a case: decide, and then tape, add, correct, reopen, delete."""

from collections.abc import Callable, Mapping
from typing import Final

import streamlit as st

from pose_fit.app.inputs.child_form import ask_child, child_of, fill_child
from pose_fit.app.inputs.lengths import USUAL_INSEAM_MM, length_field
from pose_fit.app.inputs.tape_form import ask_tape, is_against
from pose_fit.app.session import Shot
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.case_changes import change_case, leave_case
from pose_fit.app.shop.case_marks import changed_photos, offer_to_keep
from pose_fit.app.shop.case_words import half_text
from pose_fit.app.shop.shop_book import branch
from pose_fit.app.shop.tape_action import ask_shop_tape
from pose_fit.app.texts.case_action_texts import ACTIONS, MORE, VERDICTS, Grade, More
from pose_fit.app.texts.language import date_format, in_language
from pose_fit.app.views.messages import fault_text
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.clue import Clue, RemarkClue
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked
from pose_fit.casebook.estimate import corrected_estimate, estimate_of
from pose_fit.casebook.events import Action, ClueAdded, DetailsCorrected, PictureRemoved, Reopened
from pose_fit.casebook.letters import photo_request
from pose_fit.errors import CaseBookError, InputError, PersonError
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal

__all__ = ["show_more", "show_verdict"]

#: Standard uncertainty of a number that staff give themselves, by how sure they are: 95 % within
#: some 16, 25 and 40 mm.
_GRADE_SD_MM: Final[Mapping[Grade, float]] = {"sure": 8.0, "fairly": 13.0, "not_sure": 20.0}


def show_verdict(book: CaseBook, case: Case, *, by: str) -> None:
    """Decide: the likeliest decision is open, the others are one press away."""
    say = in_language(ACTIONS)
    key = f"staff.verdict.{case.case_id}.{case.version}"
    measured = isinstance(case.content.estimate, Inseam)
    st.session_state.setdefault(key, "accept" if measured else "ask")
    chosen = st.segmented_control(
        say.verdict, VERDICTS, format_func=say.verdicts.__getitem__, key=key
    )
    match chosen:
        case "accept":
            _accept(book, case, by=by)
        case "ask":
            _ask(book, case, by=by)
        case "override":
            _override(book, case, by=by)


def show_more(book: CaseBook, case: Case, *, by: str) -> None:
    """What else can be done; nothing is open until it is chosen."""
    say = in_language(ACTIONS)
    offered: tuple[More, ...] = MORE if case.state == "waiting" else ("reopen", *MORE)
    chosen = st.segmented_control(
        say.more,
        offered,
        format_func=say.mores.__getitem__,
        key=f"staff.more.{case.case_id}.{case.version}",
        label_visibility="collapsed",
    )
    match chosen:
        case "tape":
            ask_shop_tape(book, case, by=by)
        case "clue":
            _add_clue(book, case, by=by)
        case "correct":
            _correct(book, case, by=by)
        case "reopen":
            _reopen(book, case, by=by)
        case "delete":
            _delete(book, case, by=by)


def _accept(book: CaseBook, case: Case, *, by: str) -> None:
    say = in_language(ACTIONS)
    if isinstance(case.content.estimate, Refusal):
        st.info(say.no_estimate)
        return
    if changed := tuple(changed_photos(case)):
        for place in changed:
            st.warning(say.not_kept.format(number=place + 1), icon=":material/edit_location:")
            offer_to_keep(book, case, place, by=by, where="accept")
        return
    corrected = corrected_estimate(case, book.correction_for(case, shop=branch()))
    is_corrected = isinstance(corrected, Inseam) and corrected is not case.content.estimate
    with st.form("staff.accept", border=False):
        note = st.text_input(say.note, max_chars=500)
        words = say.accept_corrected if is_corrected else say.accept
        if st.form_submit_button(words, type="primary", icon=":material/check:"):
            accepted = corrected if is_corrected and isinstance(corrected, Inseam) else None
            change_case(book, case, Accepted(note, accepted), by=by)


def _ask(book: CaseBook, case: Case, *, by: str) -> None:
    say = in_language(ACTIONS)
    with st.form("staff.ask", border=False):
        message = st.text_area(say.letter, photo_request(case), height=300, help=say.letter_help)
        if st.form_submit_button(say.ask, type="primary", icon=":material/mail:"):
            _checked(book, case, lambda: PhotoAsked(message), by=by)


def _override(book: CaseBook, case: Case, *, by: str) -> None:
    say = in_language(ACTIONS)
    inseam_mm = length_field(
        say.inseam,
        f"staff.override.{case.case_id}",
        example_mm=600,
        usual_mm=USUAL_INSEAM_MM,
    )
    grade: Grade = st.radio(
        say.sure,
        tuple(_GRADE_SD_MM),
        format_func=lambda each: say.grades[each].format(half=half_text(_GRADE_SD_MM[each])),
        key=f"staff.grade.{case.case_id}",
    )
    reason = st.text_input(say.reason, max_chars=500)
    is_usable = inseam_mm is not None and not _is_against(inseam_mm, grade, case)
    if st.button(say.override, icon=":material/edit:", disabled=not is_usable):
        assert inseam_mm is not None
        _checked(book, case, lambda: Overridden(inseam_mm, _GRADE_SD_MM[grade], reason), by=by)


def _is_against(inseam_mm: float, grade: Grade, case: Case) -> bool:
    """Whether no such child has an inseam like this; one outside all ranges is told when given."""
    try:
        inseam = Inseam.stated(inseam_mm, _GRADE_SD_MM[grade])
    except PersonError:
        return False
    return is_against(inseam, case.content.child)


def _reopen(book: CaseBook, case: Case, *, by: str) -> None:
    say = in_language(ACTIONS)
    with st.form("staff.reopen", border=False):
        reason = st.text_input(say.reason, max_chars=500)
        if st.form_submit_button(say.reopen, icon=":material/undo:"):
            _checked(book, case, lambda: Reopened(reason), by=by)


def _add_clue(book: CaseBook, case: Case, *, by: str) -> None:
    say = in_language(ACTIONS)
    kind = st.radio(say.kind, (0, 1), format_func=say.kinds.__getitem__, horizontal=True)
    clue: Clue | None = None
    if kind == 0:
        clue = ask_tape(f"staff.{case.case_id}", case.content.child)
    else:
        text = st.text_input(say.remark, max_chars=500)
        clue = RemarkClue(text=text) if text.strip() else None
    if st.button(say.add, icon=":material/add:", disabled=clue is None):
        assert clue is not None
        change_case(book, case, ClueAdded(clue, _with(case, clue)), by=by)


def _with(case: Case, clue: Clue) -> Inseam | Refusal:
    """The estimate with one more clue."""
    estimate = case.content.estimate
    if isinstance(clue, RemarkClue):
        return estimate
    known = [estimate] if isinstance(estimate, Inseam) else []
    return estimate_of([*known, clue.inseam]) or estimate


def _correct(book: CaseBook, case: Case, *, by: str) -> None:
    say, content = in_language(ACTIONS), case.content
    page = f"staff.correct.{case.case_id}.{case.version}"
    fill_child(page, content.child)
    with st.form("staff.correct", border=False):
        label = st.text_input(say.label, content.label, max_chars=200)
        needed_on = st.date_input(say.wanted_for, content.needed_on, format=date_format())
        ask_child(page)
        if st.form_submit_button(say.save, icon=":material/save:"):
            child = child_of(page, before=content.child)
            _checked(book, case, lambda: DetailsCorrected(label, child, needed_on), by=by)


def _delete(book: CaseBook, case: Case, *, by: str) -> None:
    say = in_language(ACTIONS)
    if case.pictures and st.button(say.delete_pictures, icon=":material/hide_image:"):
        _forget(case)
        change_case(book, case, PictureRemoved(), by=by)
    st.markdown(say.delete_words)
    number = str(case.case_id)
    typed = st.text_input(
        say.confirm.format(number=number), key=f"staff.confirm.{number}", autocomplete="off"
    )
    if st.button(say.delete, icon=":material/delete_forever:", disabled=typed != number):
        erasure = book.delete(case.case_id, by=by)
        leave_case()
        _forget(case)
        told = f"{say.deleted.format(number=number)} {erasure.remnant}".strip()
        st.session_state["staff.told"] = told
        st.rerun()


def _forget(case: Case) -> None:
    """Let this session forget the pictures of a case too."""
    mark = f"case.{case.case_id}."
    for key in [key for key in st.session_state if mark in str(key)]:
        kept = st.session_state[key]
        if isinstance(kept, Shot):
            session_pose().forget(kept.photo)
        del st.session_state[key]


def _checked(book: CaseBook, case: Case, make: Callable[[], Action], *, by: str) -> None:
    try:
        action = make()
    except (CaseBookError, InputError) as error:
        st.error(fault_text(error), icon=":material/edit:")
        return
    change_case(book, case, action, by=by)
