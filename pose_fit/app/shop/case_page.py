"""One case: what was sent in, the picture with its marks, clues, history, and what to do."""

import datetime as dt

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.shop.case_actions import show_actions
from pose_fit.app.shop.case_card import show_case_card
from pose_fit.app.shop.case_changes import case_on_screen, go_to_case, leave_case, show_draft
from pose_fit.app.shop.case_picture import show_case_picture
from pose_fit.app.shop.case_words import STATE_WORDS, clue_words, happening_words, title
from pose_fit.app.shop.child_history_view import show_child_history
from pose_fit.app.shop.pairs_page import correction_switch
from pose_fit.app.shop.shop_book import branch
from pose_fit.app.shop.tape_action import show_shop_tape
from pose_fit.app.style import card_title, table
from pose_fit.app.views.estimate_view import half_width_text, show_budget, show_value
from pose_fit.app.views.messages import plain, show_notices, show_refusal
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.estimate import corrected_estimate
from pose_fit.errors import CaseBookError, PersonError
from pose_fit.growth.age import age_range
from pose_fit.growth.inseam_on_day import inseam_on
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import both_units

__all__ = ["open_case", "show_case"]


def open_case(book: CaseBook) -> Case | None:
    """The case on the screen; None for the lists."""
    try:
        case = case_on_screen(book)
    except CaseBookError as error:
        leave_case()
        st.warning(plain(str(error)))
        return None
    if case is None:
        return None
    if st.button("Back to the list", icon=":material/arrow_back:"):
        leave_case()
        st.rerun()
    try:
        newest = book.case(case.case_id)
    except CaseBookError as error:
        leave_case()
        st.warning(plain(str(error)))
        return None
    if newest.version != case.version:
        st.warning(
            "Somebody changed this case while you had it open. What you see is the version before.",
            icon=":material/sync_problem:",
        )
        if st.button("Show the newest version"):
            go_to_case(newest)
            st.rerun()
    return case


def show_case(book: CaseBook, case: Case, *, by: str) -> None:
    """Everything about one case."""
    show_draft(book, case, by=by)
    st.subheader(plain(title(case)))
    st.markdown(
        f"**{STATE_WORDS[case.state]}**, version {case.version}, received"
        f" {case.received_at:%Y-%m-%d %H:%M} UTC, reply code `{case.reply_code}`"
    )
    left, right = st.columns(2, gap="medium")
    with left, st.container(border=True):
        card_title("Estimate")
        _show_estimate(book, case, by=by)
        show_shop_tape(case)
        card_title("The child, and other clues")
        _show_clues(case)
    with right, st.container(border=True):
        card_title("Picture")
        show_case_picture(book, case, by=by)
    with st.container(border=True):
        card_title("What to do")
        show_actions(book, case, by=by)
    show_child_history(book, case)
    with fold("Fit card for the family", "staff.card"):
        show_case_card(book, case, by=by)
    with fold("History", "staff.history"):
        table(
            ("When (UTC)", "Who", "What"),
            [
                (f"{event.at:%Y-%m-%d %H:%M}", event.by, happening_words(event.what))
                for event in book.history(case.case_id)
            ],
        )


def _show_estimate(book: CaseBook, case: Case, *, by: str) -> None:
    content = case.content
    answer = content.answer
    if answer is not None and answer != content.estimate:
        st.markdown("Answered by the shop:")
        show_value(answer)
        show_notices([notice for notice in answer.warnings if notice.code == "corrected"])
        st.markdown("Sent in:")
    if isinstance(content.estimate, Inseam):
        shown = content.estimate
        if answer is None:
            shown = _show_corrected(book, case, content.estimate, by=by)
        show_value(shown)
        show_notices(shown.warnings)
        if content.needed_on is not None:
            _show_on_day(case, answer or shown, content.needed_on)
        with fold("Budget", "staff.budget"):
            show_budget(shown)
    else:
        show_refusal(content.estimate)
    if content.decision is not None:
        decision = content.decision
        st.caption(f"Decided by {plain(decision.by)}, {decision.at:%Y-%m-%d %H:%M} UTC.")
        if decision.words:
            st.markdown(plain(decision.words))


def _show_corrected(book: CaseBook, case: Case, sent_in: Inseam, *, by: str) -> Inseam:
    """Which correction is used, with its switch; the estimate to show comes back."""
    corrected = corrected_estimate(case, book.correction_for(case, shop=branch()))
    if isinstance(corrected, Inseam) and corrected is not sent_in:
        st.markdown(f"Sent in: {both_units(sent_in.mean_mm)} ± {half_width_text(sent_in)}.")
        correction_switch(book, by=by, key="case")
        st.markdown("With the shop’s correction:")
        return corrected
    if not book.settings.corrects:
        correction_switch(book, by=by, key="case")
    return sent_in


def _show_clues(case: Case) -> None:
    child = case.content.child
    told = [
        f"{child.age_y:g} years" if child.age_y is not None else "age not said",
        {"f": "girl", "m": "boy", None: "sex not said"}[child.sex],
        both_units(child.stature_mm) + " tall" if child.stature_mm else "height not said",
    ]
    st.markdown(", ".join(told))
    if case.content.clues:
        table(("Clue", "Inseam"), [clue_words(clue) for clue in case.content.clues])
    else:
        st.caption("No other clue was given.")


def _show_on_day(case: Case, inseam: Inseam, needed_on: dt.date) -> None:
    child = case.content.child
    ages = None if child.age_y is None else age_range(child.age_y)
    received_on = case.received_at.date()
    try:
        grown = inseam_on(
            inseam,
            measured_on=received_on,
            on=max(needed_on, received_on),
            age_range_y=ages,
            sex=child.sex,
        )
    except PersonError as error:
        st.caption(plain(str(error)))
        return
    st.markdown(
        f"Wanted for {needed_on:%Y-%m-%d}: then {both_units(grown.mean_mm)} ± {half_width_text(grown)}."
    )
