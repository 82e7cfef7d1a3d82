"""Change the case on the screen, and lose nothing where somebody else was faster."""

from typing import Final

import streamlit as st

from pose_fit.app.shop.case_words import doer, happening_words
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.messages import fault_text, plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.conflict import CaseConflict
from pose_fit.casebook.events import Action
from pose_fit.errors import CaseBookError

__all__ = ["case_on_screen", "change_case", "go_to_case", "leave_case", "show_draft"]

#: The version of the case that is on the screen; a change made elsewhere does not replace it.
_OPEN: Final = "staff.case"


#: The case's number in the page's address, so that it can be kept and sent to a colleague.
_ADDRESS: Final = "case"


def case_on_screen(book: CaseBook) -> Case | None:
    """The version that was opened, by a button or by the address.

    Raises
    ------
    CaseBookError
        The address names no case of this book.
    """
    case: Case | None = st.session_state.get(_OPEN)
    told = st.query_params.get(_ADDRESS, "")
    if case is None and told:
        if not (told.isascii() and told.isdigit() and len(told) < 10):
            raise CaseBookError(f"the address names no case: {told[:20]!r}")
        case = st.session_state[_OPEN] = book.case(int(told))
    return case


def go_to_case(case: Case) -> None:
    """Show this version from the next run on."""
    st.session_state[_OPEN] = case
    st.query_params[_ADDRESS] = str(case.case_id)


def leave_case() -> None:
    """Back to the lists."""
    st.session_state.pop(_OPEN, None)
    st.query_params.pop(_ADDRESS, None)


def change_case(book: CaseBook, case: Case, action: Action, *, by: str) -> None:
    """Do it to the version on the screen, then show the new one.

    Where somebody changed the case meanwhile, their version is shown, and this action waits as a
    draft that can be applied to it.
    """
    try:
        go_to_case(book.act(case, action, by=by))
    except CaseConflict as conflict:
        go_to_case(conflict.newer)
    except CaseBookError as error:
        st.error(fault_text(error), icon=":material/edit_off:")
        return
    st.rerun()


def show_draft(book: CaseBook, case: Case, *, by: str) -> None:
    """Work of this person that could not be applied, and what to do with it."""
    draft = book.draft(case.case_id, by=by)
    if draft is None:
        return
    say = in_language(CASE)
    last = book.history(case.case_id)[-1]
    with st.container(border=True):
        st.warning(
            say.faster.format(
                version=draft.based_on,
                name=plain(doer(last.by)),
                did=plain(happening_words(last.what)),
                meant=plain(happening_words(draft.action)),
            ),
            icon=":material/sync_problem:",
        )
        with st.container(horizontal=True):
            if st.button(say.do_it_too, key="staff.draft.apply"):
                change_case(book, case, draft.action, by=by)
            if st.button(say.drop, key="staff.draft.drop"):
                book.drop_draft(case.case_id, by=by)
                st.rerun()
