"""The family's own page of its case: where it stands, the answer, what is kept, and deleting it."""

import time
from typing import Final

import streamlit as st

from pose_fit.app.family.sending import forget_sent_pictures
from pose_fit.app.folds import fold, unfold
from pose_fit.app.local_time import local
from pose_fit.app.session import FIELD, Fields
from pose_fit.app.shop.case_card import show_case_card
from pose_fit.app.shop.shop_book import case_book
from pose_fit.app.style import raw
from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.texts.my_case_texts import MY_CASE, MyCaseTexts
from pose_fit.app.views.estimate_view import show_value
from pose_fit.app.views.messages import fault_text, plain, show_notes
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.codes import new_code, shown_code
from pose_fit.casebook.conflict import CaseConflict
from pose_fit.casebook.decision import PhotoAsked
from pose_fit.casebook.events import Action, ChildJoined, PictureRemoved
from pose_fit.errors import CaseBookError
from pose_fit.refusal import told_once

__all__ = ["GO_MEASURE", "PAGE", "SENDING_PAGES", "case_status_page"]

PAGE: Final = "case"
#: Pages that send, each with a field for the code of a case that is there already.
SENDING_PAGES: Final = ("parent", "gift")
#: Set where the visitor wants to go and measure.
GO_MEASURE: Final = f"{PAGE}.go_measure"
_CODE: Final = f"{FIELD}{PAGE}.code"
_EMPTY_CODE: Final = f"{PAGE}.empty_code"
_TOLD: Final = f"{PAGE}.told"
#: Whoever tries codes one after the other gets nowhere.
_WRONG_CODE_S: Final = 1.0


def case_status_page() -> None:
    """The whole page."""
    say = in_language(MY_CASE)
    st.title(say.title)
    told = st.session_state.pop(_TOLD, None)
    if told is not None:
        st.success(told, icon=":material/check:")
    if st.session_state.pop(_EMPTY_CODE, False):
        # A field that is set, not only forgotten, is empty in the browser too.
        st.session_state[_CODE] = ""
    code = st.text_input(
        say.code,
        key=_CODE,
        placeholder=say.code_example,
        help=say.code_help,
        autocomplete="off",
    )
    if not code.strip():
        st.caption(say.code_note)
        return
    try:
        book = case_book()
        case = book.case_of_code(code)
    except CaseBookError as error:
        time.sleep(_WRONG_CODE_S)
        st.error(fault_text(error), icon=":material/key_off:")
        return
    try:
        _show(book, case)
    except CaseConflict:
        st.warning(say.just_changed)
        _show(book, book.case(case.case_id))
    except CaseBookError as error:
        st.error(fault_text(error), icon=":material/database_off:")


def _show(book: CaseBook, case: Case) -> None:
    _show_standing(case)
    answer = case.content.answer
    if answer is not None:
        show_value(answer)
        show_notes(told_once(answer.warnings))
        with fold(in_language(MY_CASE).card, f"{PAGE}.card"):
            show_case_card(book, case, by="family")
    with st.container(border=True):
        _offer_another_photo(case)
    with st.container(border=True):
        _offer_joining(book, case)
    with st.container(border=True):
        _show_kept(book, case)


def _show_standing(case: Case) -> None:
    say, decision = in_language(MY_CASE), case.content.decision
    if decision is None:
        words = say.waiting.format(day=day_text(local(case.waiting_since).date()))
        st.info(words, icon=":material/hourglass_empty:")
    elif isinstance(decision.verdict, PhotoAsked):
        st.warning(say.asked, icon=":material/add_a_photo:")
        with st.container(border=True):
            st.html(f'<p class="pf-letter">{raw(decision.verdict.message)}</p>')
    else:
        words = say.answered.format(day=day_text(local(decision.at).date()))
        st.success(words, icon=":material/check_circle:")
        if decision.words:
            st.markdown(say.shop_says.format(words=plain(decision.words)))


def _offer_another_photo(case: Case) -> None:
    say = in_language(MY_CASE)
    st.markdown(f"**{say.another_title}**")
    st.caption(say.another_note)
    if st.button(say.another, key=f"{PAGE}.again"):
        for page in SENDING_PAGES:
            Fields(f"{page}.send").fill("earlier", case.reply_code)
            unfold(f"{page}.send")
            forget_sent_pictures(page)
        st.session_state[GO_MEASURE] = True
        st.rerun()


def _offer_joining(book: CaseBook, case: Case) -> None:
    """Consent to keep one child's cases together, and taking it back."""
    say = in_language(MY_CASE)
    st.markdown(f"**{say.growth_title}**")
    code = case.content.child_code
    if code:
        st.markdown(say.growth_code.format(code=shown_code(code)))
        if st.button(say.part, key=f"{PAGE}.part"):
            _change(book, case, ChildJoined(""), say.parted)
        return
    st.caption(say.growth_note)
    typed = st.text_input(say.child_code, key=f"{FIELD}{PAGE}.child")
    if st.button(say.join, key=f"{PAGE}.join"):
        joined = typed.strip()
        if joined and not book.cases_of_child(joined):
            st.error(say.no_such_child)
            return
        _change(book, case, ChildJoined(joined or new_code()), say.joined)


def _show_kept(book: CaseBook, case: Case) -> None:
    say = in_language(MY_CASE)
    st.markdown(f"**{say.kept_title}**")
    photos, pictures = len(case.content.photos), len(case.pictures)
    lines = [say.kept_numbers]
    if photos:
        lines.append(_kept_words(say, photos, pictures))
    if case.content.shop_tape is not None:
        lines.append(say.kept_tape)
    st.markdown("\n".join(f"- {line}" for line in lines))
    if pictures and st.button(say.delete_pictures, key=f"{PAGE}.pictures"):
        _change(book, case, PictureRemoved(), say.pictures_deleted)
    sure = st.checkbox(say.sure, key=f"{PAGE}.sure.{case.case_id}")
    if st.button(say.delete, key=f"{PAGE}.delete", disabled=not sure):
        erasure = book.delete(case.case_id, by="family")
        st.session_state[_TOLD] = f"{say.deleted} {erasure.remnant}".strip()
        st.session_state[_EMPTY_CODE] = True
        st.rerun()


def _kept_words(say: MyCaseTexts, photos: int, pictures: int) -> str:
    if not pictures:
        return say.kept_no_picture
    if pictures < photos:
        return say.kept_some.format(pictures=pictures, photos=photos)
    return say.kept_one if photos == 1 else say.kept_all.format(photos=photos)


def _change(book: CaseBook, case: Case, action: Action, told: str) -> None:
    book.act(case, action, by="family")
    st.session_state[_TOLD] = told
    st.rerun()
