"""What staff can do with a case: accept, ask, override, add, correct, reopen, give out, delete."""

from collections.abc import Callable
from typing import Final

import streamlit as st

from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.inputs.tape_form import ask_tape
from pose_fit.app.session import Shot
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.case_changes import change_case, leave_case
from pose_fit.app.shop.shop_book import branch
from pose_fit.app.shop.tape_action import ask_shop_tape
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.clue import Clue, RemarkClue
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked
from pose_fit.casebook.estimate import corrected_estimate, estimate_of
from pose_fit.casebook.events import Action, ClueAdded, DetailsCorrected, PictureRemoved, Reopened
from pose_fit.casebook.letters import photo_request
from pose_fit.errors import CaseBookError, InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal

__all__ = ["show_actions"]

_WAITING: Final = (
    "Accept",
    "Ask for another picture",
    "Override",
    "Tape in the shop",
    "Add a clue",
    "Correct",
    "Delete",
)
_DECIDED: Final = ("Reopen", "Tape in the shop", "Add a clue", "Correct", "Delete")


def show_actions(book: CaseBook, case: Case, *, by: str) -> None:
    """Choose one, fill it in, do it."""
    offered = _WAITING if case.state == "waiting" else _DECIDED
    chosen = st.segmented_control(
        "Action", offered, key=f"staff.action.{case.case_id}.{case.state}"
    )
    match chosen:
        case "Accept":
            _accept(book, case, by=by)
        case "Ask for another picture":
            _ask(book, case, by=by)
        case "Override":
            _override(book, case, by=by)
        case "Reopen":
            _reopen(book, case, by=by)
        case "Tape in the shop":
            ask_shop_tape(book, case, by=by)
        case "Add a clue":
            _add_clue(book, case, by=by)
        case "Correct":
            _correct(book, case, by=by)
        case "Delete":
            _delete(book, case, by=by)
        case _:
            st.caption("Choose what to do.")


def _accept(book: CaseBook, case: Case, *, by: str) -> None:
    if isinstance(case.content.estimate, Refusal):
        st.info("There is no estimate to accept. Override it, or ask for another picture.")
        return
    corrected = corrected_estimate(case, book.correction_for(case, shop=branch()))
    is_corrected = isinstance(corrected, Inseam) and corrected is not case.content.estimate
    with st.form("staff.accept", border=False):
        note = st.text_input("Note, optional", max_chars=500)
        words = "Accept the corrected estimate" if is_corrected else "Accept the estimate"
        if st.form_submit_button(words, icon=":material/check:"):
            accepted = corrected if is_corrected and isinstance(corrected, Inseam) else None
            change_case(book, case, Accepted(note, accepted), by=by)


def _ask(book: CaseBook, case: Case, *, by: str) -> None:
    with st.form("staff.ask", border=False):
        message = st.text_area("Text to send", photo_request(case), height=360)
        if st.form_submit_button("Note that this was asked", icon=":material/mail:"):
            _checked(book, case, lambda: PhotoAsked(message), by=by)
    st.caption("Copy the text into your mail; the app sends nothing by itself.")


def _override(book: CaseBook, case: Case, *, by: str) -> None:
    inseam_mm = length_field("Inseam", f"staff.override.{case.case_id}", example_mm=600)
    sd_mm: float = st.number_input(
        "Standard uncertainty (mm)", min_value=1.0, max_value=60.0, value=8.0, step=1.0
    )
    reason = st.text_input("Reason", max_chars=500)
    if st.button("Override the estimate", icon=":material/edit:", disabled=inseam_mm is None):
        assert inseam_mm is not None
        _checked(book, case, lambda: Overridden(inseam_mm, sd_mm, reason), by=by)


def _reopen(book: CaseBook, case: Case, *, by: str) -> None:
    with st.form("staff.reopen", border=False):
        reason = st.text_input("Reason", max_chars=500)
        if st.form_submit_button("Reopen", icon=":material/undo:"):
            _checked(book, case, lambda: Reopened(reason), by=by)


def _add_clue(book: CaseBook, case: Case, *, by: str) -> None:
    kind = st.radio("Kind", ("Tape readings", "Remark"), horizontal=True)
    clue: Clue | None = None
    if kind == "Tape readings":
        clue = ask_tape(f"staff.{case.case_id}", case.content.child)
    else:
        text = st.text_input("Remark", max_chars=500)
        clue = RemarkClue(text=text) if text.strip() else None
    if st.button("Add it", icon=":material/add:", disabled=clue is None):
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
    content = case.content
    with st.form("staff.correct", border=False):
        label = st.text_input("Label", content.label, max_chars=200)
        needed_on = st.date_input("Wanted for", content.needed_on)
        if st.form_submit_button("Save", icon=":material/save:"):
            _checked(book, case, lambda: DetailsCorrected(label, content.child, needed_on), by=by)


def _delete(book: CaseBook, case: Case, *, by: str) -> None:
    if case.pictures and st.button("Delete only the pictures", icon=":material/hide_image:"):
        change_case(book, case, PictureRemoved(), by=by)
    st.markdown(
        "Deleting takes the case with picture, numbers and history out of the book and its files,"
        " for good."
    )
    typed = st.text_input(f"Type {case.case_id} to confirm", key=f"staff.confirm.{case.case_id}")
    if st.button(
        "Delete for good", icon=":material/delete_forever:", disabled=typed != str(case.case_id)
    ):
        erasure = book.delete(case.case_id, by=by)
        leave_case()
        _forget(case)
        st.session_state["staff.told"] = (
            f"Case {case.case_id} is deleted. {erasure.remnant}".strip()
        )
        st.rerun()


def _forget(case: Case) -> None:
    """Let this session forget the pictures of a deleted case too."""
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
        st.error(plain(str(error)), icon=":material/edit:")
        return
    change_case(book, case, action, by=by)
