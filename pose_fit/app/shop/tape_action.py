"""The tape in the shop: what it said when the child stood there, beside the photo."""

import streamlit as st

from pose_fit.app.inputs.lengths import length_parts
from pose_fit.app.inputs.tape_form import ask_tape
from pose_fit.app.local_time import today
from pose_fit.app.session import FIELD
from pose_fit.app.shop.case_changes import change_case
from pose_fit.app.shop.case_words import give_or_take, half_text
from pose_fit.app.shop.shop_book import branch
from pose_fit.app.texts.case_action_texts import ACTIONS
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import date_format, day_text, in_language
from pose_fit.app.views.messages import fault_text, plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.estimate import pair_of
from pose_fit.casebook.events import TapeTaken
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.errors import CaseBookError, InputError
from pose_fit.growth.inseam_on_day import GROWTH_SOURCE

__all__ = ["ask_shop_tape", "show_shop_tape"]

_TOUCHED = (None, True, False)


def ask_shop_tape(book: CaseBook, case: Case, *, by: str) -> None:
    """The form; the tape is kept beside the photo and does not change the estimate."""
    say = in_language(ACTIONS)
    st.caption(say.tape_words)
    page = f"staff.pair.{case.case_id}"
    clue = ask_tape(page, case.content.child)
    left, right = st.columns(2)
    taken_by = left.text_input(say.tape_holder, by, key=f"{FIELD}{page}.who", max_chars=100)
    day = right.date_input(say.tape_day, today(), key=f"{FIELD}{page}.day", format=date_format())
    bicycle = left.text_input(say.tape_bicycle, key=f"{FIELD}{page}.bike", max_chars=200)
    tried = right.radio(
        say.tape_tried,
        range(len(_TOUCHED)),
        format_func=say.tape_touched.__getitem__,
        key=f"{FIELD}{page}.tried",
    )
    if st.button(say.tape_keep, icon=":material/straighten:", disabled=clue is None):
        assert clue is not None
        try:
            tape = ShopTape(
                readings_mm=clue.readings_mm,
                care=clue.care,
                taken_by=taken_by,
                day=day,
                touched=_TOUCHED[tried],
                bicycle=bicycle,
                shop=branch(),
            )
        except (CaseBookError, InputError) as error:
            st.error(fault_text(error), icon=":material/edit:")
            return
        change_case(book, case, TapeTaken(tape), by=by)


def show_shop_tape(case: Case) -> None:
    """Photo against tape of this child, where the tape was taken."""
    tape = case.content.shop_tape
    if tape is None:
        return
    say = in_language(CASE)
    told = give_or_take(tape.inseam.mean_mm, tape.inseam.sd_mm)
    st.markdown(say.tape.format(estimate=told, name=plain(tape.taken_by), day=day_text(tape.day)))
    if tape.touched is not None:
        tried = say.tried[0 if tape.touched else 1]
        st.markdown(plain(tried.format(name=tape.bicycle or say.tried_name)))
    pair = pair_of(case)
    if pair is None:
        st.caption(say.tape_none)
        return
    grown = any(line.source == GROWTH_SOURCE for line in pair.photo.length.budget)
    words = say.tape_longer if pair.difference_mm > 0 else say.tape_shorter
    st.caption(
        words.format(
            photo=say.tape_grown if grown else say.tape_photo,
            apart=length_parts(abs(pair.difference_mm))[0],
            most=half_text(pair.expected_sd_mm),
        )
    )
