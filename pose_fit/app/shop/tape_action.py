"""The tape in the shop: what it said when the child stood there, beside the photo."""

import datetime as dt

import streamlit as st

from pose_fit.app.inputs.tape_form import ask_tape
from pose_fit.app.session import FIELD
from pose_fit.app.shop.case_changes import change_case
from pose_fit.app.shop.shop_book import branch
from pose_fit.app.views.estimate_view import half_width_text
from pose_fit.app.views.messages import plain
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case
from pose_fit.casebook.estimate import pair_of
from pose_fit.casebook.events import TapeTaken
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.errors import CaseBookError, InputError
from pose_fit.growth.inseam_on_day import GROWTH_SOURCE
from pose_fit.metrology.units import both_units

__all__ = ["ask_shop_tape", "show_shop_tape"]

_TRIED = {"no bicycle was tried": None, "it touched": True, "it did not touch": False}


def ask_shop_tape(book: CaseBook, case: Case, *, by: str) -> None:
    """The form; the tape is kept beside the photo and does not change the estimate."""
    st.caption(
        "For a child who stands in the shop. Photo and tape become a pair: pairs show how far the"
        " photos can be trusted here, and correct them."
    )
    page = f"staff.pair.{case.case_id}"
    clue = ask_tape(page, case.content.child)
    left, right = st.columns(2)
    taken_by = left.text_input("Who held the tape", by, key=f"{FIELD}{page}.who", max_chars=100)
    day = right.date_input("Day", dt.date.today(), key=f"{FIELD}{page}.day")
    bicycle = left.text_input("Bicycle tried, optional", key=f"{FIELD}{page}.bike", max_chars=200)
    tried = right.radio("The child stood over it, and", tuple(_TRIED), key=f"{FIELD}{page}.tried")
    if st.button("Keep the tape", icon=":material/straighten:", disabled=clue is None):
        assert clue is not None
        try:
            tape = ShopTape(
                readings_mm=clue.readings_mm,
                care=clue.care,
                taken_by=taken_by,
                day=day,
                touched=_TRIED[tried],
                bicycle=bicycle,
                shop=branch(),
            )
        except (CaseBookError, InputError) as error:
            st.error(plain(str(error)), icon=":material/edit:")
            return
        change_case(book, case, TapeTaken(tape), by=by)


def show_shop_tape(case: Case) -> None:
    """Photo against tape of this child, where the tape was taken."""
    tape = case.content.shop_tape
    if tape is None:
        return
    inseam = tape.inseam
    st.markdown(
        f"Tape in the shop: **{both_units(inseam.mean_mm)}** ± {half_width_text(inseam)},"
        f" {tape.day:%Y-%m-%d}, {plain(tape.taken_by)}"
    )
    pair = pair_of(case)
    if pair is None:
        st.caption("No photo of this case can be held against it.")
        return
    word = "longer" if pair.difference_mm > 0 else "shorter"
    grown = any(line.source == GROWTH_SOURCE for line in pair.photo.length.budget)
    photo = "The photo, grown to that day," if grown else "The photo"
    st.caption(
        f"{photo} read {abs(pair.difference_mm):.0f} mm {word}; up to"
        f" {1.96 * pair.expected_sd_mm:.0f} mm is expected of photo and tape together."
    )
    if tape.touched is not None:
        name = tape.bicycle or "The bicycle that was tried"
        st.caption(plain(f"{name} {'touched' if tape.touched else 'did not touch'}."))
