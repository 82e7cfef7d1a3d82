"""One case: what the shop must decide first, then the reasons: picture, child, clues, history."""

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.local_time import moment_text
from pose_fit.app.shop.case_actions import show_more, show_verdict
from pose_fit.app.shop.case_answer import show_answer
from pose_fit.app.shop.case_card import show_case_card
from pose_fit.app.shop.case_changes import case_on_screen, go_to_case, leave_case, show_draft
from pose_fit.app.shop.case_picture import show_case_picture
from pose_fit.app.shop.case_words import clue_words, doer, happening_words, title
from pose_fit.app.shop.child_history_view import show_child_history
from pose_fit.app.shop.tape_action import show_shop_tape
from pose_fit.app.style import card_title, table
from pose_fit.app.texts.case_action_texts import ACTIONS
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.staff_texts import LISTS
from pose_fit.app.views.estimate_view import show_budget
from pose_fit.app.views.messages import fault_text, plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.errors import CaseBookError

__all__ = ["open_case", "show_case"]


def open_case(book: CaseBook) -> Case | None:
    """The case on the screen; None for the lists."""
    say = in_language(CASE)
    try:
        case = case_on_screen(book)
    except CaseBookError as error:
        leave_case()
        st.warning(fault_text(error))
        return None
    if case is None:
        return None
    if st.button(say.back, icon=":material/arrow_back:", type="tertiary"):
        leave_case()
        st.rerun()
    try:
        newest = book.case(case.case_id)
    except CaseBookError as error:
        leave_case()
        st.warning(fault_text(error))
        return None
    if newest.version != case.version:
        st.warning(say.changed_elsewhere, icon=":material/sync_problem:")
        if st.button(say.show_newest):
            go_to_case(newest)
            st.rerun()
    return case


def show_case(book: CaseBook, case: Case, *, by: str) -> None:
    """Everything about one case."""
    say = in_language(CASE)
    show_draft(book, case, by=by)
    st.subheader(plain(title(case)))
    state = in_language(LISTS).states[case.state]
    st.markdown(say.standing.format(state=state, moment=moment_text(case.received_at)))
    left, right = st.columns(2, gap="medium")
    with left:
        with st.container(border=True):
            shown = show_answer(book, case, by=by)
            if case.state == "waiting":
                show_verdict(book, case, by=by)
        # What comes next once the shop has answered.
        with fold(say.card, "staff.card"):
            show_case_card(book, case, by=by)
    with right, st.container(border=True):
        card_title(say.picture)
        show_case_picture(book, case, by=by)
    with st.container(border=True):
        card_title(say.child)
        _show_clues(case)
        show_shop_tape(case)
    with st.container(border=True):
        card_title(in_language(ACTIONS).more)
        show_more(book, case, by=by)
    show_child_history(book, case)
    if shown is not None:
        with fold(say.budget, "staff.budget"):
            show_budget(shown)
    with fold(say.history, "staff.history"):
        st.caption(say.code.format(code=case.reply_code, version=case.version))
        table(
            say.history_table,
            [
                (moment_text(event.at), doer(event.by), happening_words(event.what))
                for event in book.history(case.case_id)
            ],
        )


def _show_clues(case: Case) -> None:
    say, child = in_language(CASE), case.content.child
    told = [
        say.ages[0].format(years=f"{child.age_y:g}") if child.age_y is not None else say.ages[1],
        say.sexes[child.sex] if child.sex is not None else say.not_said,
        say.stature[0].format(length=length_text(child.stature_mm))
        if child.stature_mm
        else say.stature[1],
    ]
    st.markdown(", ".join(told))
    if case.content.clues:
        table(say.clue_table, [clue_words(clue) for clue in case.content.clues])
    elif case.content.shop_tape is None:
        st.caption(say.no_clue)
