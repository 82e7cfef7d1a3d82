"""The family's own page of its case: where it stands, the answer, what is kept, and deleting it."""

import time
from typing import Final

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.session import FIELD
from pose_fit.app.shop.case_card import show_case_card
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.views.estimate_view import show_value
from pose_fit.app.views.messages import plain, show_notices
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.codes import new_code, shown_code
from pose_fit.casebook.conflict import CaseConflict
from pose_fit.casebook.decision import PhotoAsked
from pose_fit.casebook.events import Action, ChildJoined, PictureRemoved
from pose_fit.errors import CaseBookError

__all__ = ["EARLIER_CODE", "GO_MEASURE", "PAGE", "case_status_page"]

PAGE: Final = "case"
#: The measuring page's field for the code of a case that is there already.
EARLIER_CODE: Final = f"{FIELD}parent.send.earlier"
#: Set where the visitor wants to go and measure.
GO_MEASURE: Final = f"{PAGE}.go_measure"
_CODE: Final = f"{FIELD}{PAGE}.code"
_TOLD: Final = f"{PAGE}.told"
#: Whoever tries codes one after the other gets nowhere.
_WRONG_CODE_S: Final = 1.0


def case_status_page() -> None:
    """The whole page."""
    st.title("My case")
    told = st.session_state.pop(_TOLD, None)
    if told is not None:
        st.success(told, icon=":material/check:")
    code = st.text_input(
        "Reply code",
        key=_CODE,
        placeholder="for example AB12-CD34",
        help="You got it when you sent your measurement to the shop.",
        autocomplete="off",
    )
    if not code.strip():
        st.caption("With the code you see the shop’s answer, and you can delete what you sent.")
        return
    try:
        book = case_book()
        case = book.case_of_code(code)
    except CaseBookError as error:
        time.sleep(_WRONG_CODE_S)
        st.error(plain(str(error)), icon=":material/key_off:")
        return
    try:
        _show(book, case)
    except CaseConflict:
        st.warning("The shop has just changed your case. This is how it stands now.")
        _show(book, book.case(case.case_id))
    except CaseBookError as error:
        st.error(plain(str(error)), icon=":material/database_off:")


def _show(book: CaseBook, case: Case) -> None:
    _show_standing(case)
    answer = case.content.answer
    if answer is not None:
        show_value(answer)
        show_notices(answer.warnings)
        with fold("Fit card", f"{PAGE}.card"):
            show_case_card(book, case, by="family")
    with st.container(border=True):
        _offer_another_photo(case)
    with st.container(border=True):
        _offer_joining(book, case)
    with st.container(border=True):
        _show_kept(book, case)


def _show_standing(case: Case) -> None:
    decision = case.content.decision
    if decision is None:
        st.info(
            f"**Waiting.** The shop has had it since {case.waiting_since:%Y-%m-%d} and has not"
            " answered yet.",
            icon=":material/hourglass_empty:",
        )
    elif isinstance(decision.verdict, PhotoAsked):
        st.warning("**The shop asks for another photo.**", icon=":material/add_a_photo:")
        st.code(decision.verdict.message, language=None, wrap_lines=True)
    else:
        st.success(
            f"**Answered** on {decision.at:%Y-%m-%d}. This is the inseam the shop stands by.",
            icon=":material/check_circle:",
        )
        if decision.words:
            st.markdown(f"The shop says: {plain(decision.words)}")


def _offer_another_photo(case: Case) -> None:
    st.markdown("**Another photo**")
    st.caption("It joins this case. The earlier photos stay until you delete them.")
    if st.button("Measure and send another photo", key=f"{PAGE}.again"):
        st.session_state[EARLIER_CODE] = case.reply_code
        st.session_state[GO_MEASURE] = True
        st.rerun()


def _offer_joining(book: CaseBook, case: Case) -> None:
    """Consent to keep one child's cases together, and taking it back."""
    st.markdown("**This child’s growth**")
    code = case.content.child_code
    if code:
        st.markdown(
            f"This child’s code is **{shown_code(code)}**. Keep it: with it, later cases of the same"
            " child join this one, and its own growth line makes the forecast surer."
        )
        if st.button("Take this case out again", key=f"{PAGE}.part"):
            _change(book, case, ChildJoined(""), "This case stands alone again.")
        return
    st.caption(
        "If you agree, the shop keeps this child’s cases together under a code of its own, without a"
        " name, and sees how its legs grow."
    )
    typed = st.text_input("This child’s code, if it has one already", key=f"{FIELD}{PAGE}.child")
    if st.button("Keep this child’s cases together", key=f"{PAGE}.join"):
        joined = typed.strip()
        if joined and not book.cases_of_child(joined):
            st.error("No case of a child has this code; check its letters and digits.")
            return
        _change(book, case, ChildJoined(joined or new_code()), "Joined.")


def _show_kept(book: CaseBook, case: Case) -> None:
    st.markdown("**What the shop keeps**")
    photos, pictures = len(case.content.photos), len(case.pictures)
    lines = ["your child’s age, sex and height where you gave them, and the measurements"]
    if photos:
        lines.append(_kept_words(photos, pictures))
    if case.content.shop_tape is not None:
        lines.append("what the tape said in the shop")
    st.markdown("\n".join(f"- {line}" for line in lines))
    if pictures and st.button("Delete the pictures, keep the numbers", key=f"{PAGE}.pictures"):
        _change(book, case, PictureRemoved(), "The pictures are deleted.")
    sure = st.checkbox("Delete everything, for good", key=f"{PAGE}.sure.{case.case_id}")
    if st.button("Delete my case", key=f"{PAGE}.delete", disabled=not sure):
        erasure = book.delete(case.case_id, by="family")
        st.session_state[_TOLD] = f"Your case is deleted. {erasure.remnant}".strip()
        del st.session_state[_CODE]
        st.rerun()


def _kept_words(photos: int, pictures: int) -> str:
    if not pictures:
        return "no picture, only numbers"
    if pictures < photos:
        return f"{pictures} of {photos} pictures, faces hidden; of the others only numbers"
    return "the picture, face hidden" if photos == 1 else f"{photos} pictures, faces hidden"


def _change(book: CaseBook, case: Case, action: Action, told: str) -> None:
    book.act(case, action, by="family")
    st.session_state[_TOLD] = told
    st.rerun()
