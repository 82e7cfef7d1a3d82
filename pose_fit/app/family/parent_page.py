"""The parent's page: from a picture or a tape to the bicycles worth trying."""

from dataclasses import dataclass
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.family.old_bicycle import show_old_bicycle
from pose_fit.app.family.sending import offer_sending
from pose_fit.app.family.together import choose_inseam
from pose_fit.app.folds import fold
from pose_fit.app.inputs.catalogue_form import ask_catalogue
from pose_fit.app.inputs.child_form import ask_child, ask_rider
from pose_fit.app.inputs.clues_form import ask_trousers
from pose_fit.app.inputs.lengths import unit_choice
from pose_fit.app.inputs.photo_choice import choose_shots
from pose_fit.app.inputs.reference_form import ObjectOfKnownSize, ask_all_points, ask_object
from pose_fit.app.inputs.tape_form import ask_tape
from pose_fit.app.inputs.worn import ask_worn
from pose_fit.app.measuring import Outcome, measure_marked
from pose_fit.app.session import FIELD, Shot
from pose_fit.app.style import card_title, step
from pose_fit.app.views.bicycles_view import show_bicycles, show_cautions
from pose_fit.app.views.card_view import offer_card
from pose_fit.app.views.estimate_view import show_budget, show_value
from pose_fit.app.views.growth_view import show_growth
from pose_fit.app.views.how_to import show_how_to, show_tape_drawing
from pose_fit.app.views.messages import show_notices
from pose_fit.app.views.photo_view import show_marks, show_photo_estimate
from pose_fit.casebook.clue import Clue
from pose_fit.fit.judge import Fit, judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.inseam.inseam import Inseam
from pose_fit.task.stated import Stated

__all__ = ["parent_page"]

PAGE: Final = "parent"


def parent_page() -> None:
    """The whole page."""
    st.title("Which bicycle fits?")
    st.markdown(
        "A child needs a bicycle it can stand over. Measure the legs on a picture, with a tape, or"
        " both, and see which bicycles are worth trying."
    )
    show_how_to(PAGE)
    left, right = st.columns(2, gap="medium")
    with left:
        step(1, "A picture of the child")
        with st.container(border=True):
            shots = choose_shots(PAGE)
            worn = ask_worn(PAGE)
    with right:
        step(2, "An object of known size in it")
        with st.container(border=True):
            asked = ask_object(PAGE)
    ask_all_points(shots, asked)
    step(3, "The child")
    with st.container(border=True):
        unit_choice()
        child = ask_child(PAGE)
        rider = ask_rider(PAGE)
    step(4, "How long the legs are")
    measured = _estimates(shots, asked, child, worn)
    inseam = measured.inseam
    step(5, "Bicycles")
    fits = _bicycles(inseam, rider)
    if inseam is not None and fits:
        step(6, "How long it will last")
        with st.container(border=True):
            show_growth(inseam, child, fits, page=PAGE)
        with fold("Fit card to keep or send", f"{PAGE}.card"):
            offer_card(inseam, fits, page=PAGE)
    with fold("Does the bicycle the child has still fit?", f"{PAGE}.own"):
        show_old_bicycle(inseam, rider, page=PAGE)
    with fold("Let the shop check it", f"{PAGE}.send"):
        offer_sending(measured.outcomes, asked, measured.clues, child, estimate=inseam, page=PAGE)
    show_cautions()


@dataclass(frozen=True, slots=True)
class _Measured:
    """What step 4 gave; ``inseam`` is None while nothing did."""

    inseam: Inseam | None
    outcomes: tuple[Outcome, ...]
    clues: tuple[Clue, ...]


def _estimates(
    shots: list[Shot], asked: ObjectOfKnownSize | None, child: Child, worn: Stated
) -> _Measured:
    outcomes: tuple[Outcome, ...] = ()
    readings: dict[str, Inseam] = {}
    clues: list[Clue] = []
    left, right = st.columns(2, gap="medium")
    with left, st.container(border=True):
        card_title("By picture")
        if not shots:
            st.caption("Choose a picture above, or use the tape alone.")
        outcomes = measure_marked(shots, asked, child, worn=worn)
        by_photo = show_photo_estimate(PAGE, outcomes)
        if by_photo is not None:
            readings["Picture"] = by_photo
        show_marks(outcomes)
    with right, st.container(border=True):
        card_title("By tape")
        by_tape = ask_tape(PAGE, child)
        if by_tape is not None:
            show_value(by_tape.inseam)
            show_notices(by_tape.inseam.warnings)
            readings["Tape"] = by_tape.inseam
            clues.append(by_tape)
        show_tape_drawing()
    with fold("Trousers as a further clue", f"{PAGE}.trousers"):
        by_trousers = ask_trousers(PAGE)
        if by_trousers is not None:
            show_value(by_trousers.inseam)
            show_notices(by_trousers.inseam.warnings)
            readings["Trousers"] = by_trousers.inseam
            clues.append(by_trousers)
    inseam = None
    if readings:
        with st.container(border=True):
            card_title("Together" if len(readings) > 1 else "Used for the bicycles")
            inseam = choose_inseam(PAGE, readings)
    if inseam is not None:
        with fold("What leaves it unsure, and how to get a surer value", f"{PAGE}.budget"):
            show_budget(inseam)
    return _Measured(inseam, outcomes, tuple(clues))


def _bicycles(inseam: Inseam | None, rider: Rider) -> tuple[Fit, ...]:
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
        return ()
    fits = judge(inseam, bicycles, rider=rider, policy=Policy(stretch=stretch))
    if fits:
        show_bicycles(fits, page=PAGE)
    return fits
