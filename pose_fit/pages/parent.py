"""The parent's page: from a picture or a tape to the bicycles worth trying."""

from typing import Final

import streamlit as st

from pose_fit.child import Child
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.inseam.inseam import Inseam
from pose_fit.pages.bicycles_view import show_bicycles, show_cautions
from pose_fit.pages.catalogue_form import ask_catalogue
from pose_fit.pages.child_form import ask_child, ask_rider
from pose_fit.pages.estimate_view import show_budget, show_value
from pose_fit.pages.lengths import unit_choice
from pose_fit.pages.measuring import Outcome, measure_shots
from pose_fit.pages.photo_choice import choose_shots
from pose_fit.pages.photo_view import show_marks, show_photo_estimate
from pose_fit.pages.reference_form import ObjectOfKnownSize, ask_object, ask_points, marked_points
from pose_fit.pages.session import FIELD, Shot
from pose_fit.pages.style import card_title, step
from pose_fit.pages.tape_form import ask_tape
from pose_fit.pages.together import choose_inseam

__all__ = ["parent_page"]

PAGE: Final = "parent"


def parent_page() -> None:
    """The whole page."""
    st.title("Which bicycle fits?")
    st.markdown(
        "A child needs a bicycle it can stand over. Measure the legs on a picture, with a tape, or"
        " both, and see which bicycles are worth trying."
    )
    left, right = st.columns(2, gap="medium")
    with left:
        step(1, "A picture of the child")
        with st.container(border=True):
            shots = choose_shots(PAGE)
    with right:
        step(2, "An object of known size in it")
        with st.container(border=True):
            asked = ask_object(PAGE)
    _ask_all_points(shots, asked)
    step(3, "The child")
    with st.container(border=True):
        unit_choice()
        child = ask_child(PAGE)
        rider = ask_rider(PAGE)
    step(4, "How long the legs are")
    inseam = _estimates(shots, asked, child)
    step(5, "Bicycles")
    _bicycles(inseam, rider)


def _ask_all_points(shots: list[Shot], asked: ObjectOfKnownSize | None) -> None:
    if asked is None or not asked.by_hand:
        return
    for shot in shots:
        with st.container(border=True):
            card_title(f"Mark it in {shot.name}")
            ask_points(shot, asked)


def _estimates(shots: list[Shot], asked: ObjectOfKnownSize | None, child: Child) -> Inseam | None:
    outcomes: tuple[Outcome, ...] = ()
    readings: dict[str, Inseam] = {}
    left, right = st.columns(2, gap="medium")
    with left, st.container(border=True):
        card_title("By picture")
        outcomes = _measured(shots, asked, child)
        by_photo = show_photo_estimate(outcomes)
        if by_photo is not None:
            readings["Picture"] = by_photo
        show_marks(outcomes)
    with right, st.container(border=True):
        card_title("By tape")
        by_tape = ask_tape(PAGE, child)
        if by_tape is not None:
            show_value(by_tape)
            readings["Tape"] = by_tape
    if not readings:
        return None
    with st.container(border=True):
        if len(readings) > 1:
            card_title("Picture and tape together")
        inseam = choose_inseam(PAGE, readings)
        if len(readings) == 1:
            other = "a tape" if "Picture" in readings else "a picture"
            st.caption(f"One way of measuring so far. Check it with {other}: two ways guard best.")
    if inseam is not None:
        with st.expander("What leaves it unsure, and how to get a surer value"):
            show_budget(inseam)
    return inseam


def _measured(
    shots: list[Shot], asked: ObjectOfKnownSize | None, child: Child
) -> tuple[Outcome, ...]:
    if not shots:
        st.caption("Choose a picture above, or use the tape alone.")
        return ()
    if asked is None:
        st.caption("The object’s size is still missing.")
        return ()
    ready = [shot for shot in shots if len(marked_points(shot, asked) or ()) >= asked.least_points]
    if len(ready) < len(shots):
        st.caption("Points are still to be marked above.")
    return measure_shots(ready, asked, child)


def _bicycles(inseam: Inseam | None, rider: Rider) -> None:
    bicycles = ask_catalogue(PAGE)
    stretch = st.toggle(
        "Accept less than the usual clearance, to grow into",
        key=f"{FIELD}{PAGE}.stretch",
        help="Never a bar that touches.",
    )
    if inseam is None:
        st.info(
            "The bicycles are judged as soon as there is a picture or a tape reading.",
            icon=":material/pedal_bike:",
        )
    elif bicycles:
        fits = judge(inseam, bicycles, rider=rider, policy=Policy(stretch=stretch))
        show_bicycles(fits, page=PAGE)
    show_cautions()
