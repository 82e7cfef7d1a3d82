"""Other clues to the length of the legs: trousers, the present bicycle, body height, age."""

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.bicycle_form import OwnBicycle
from pose_fit.app.inputs.lengths import USUAL_SEAM_MM, length_field, length_of, other_unit
from pose_fit.app.session import Fields
from pose_fit.app.texts.clue_texts import TROUSERS
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.messages import fault_text, show_refusal
from pose_fit.casebook.clue import LiftClue, TrousersClue
from pose_fit.errors import InputError
from pose_fit.fit.lift import inseam_from_lift
from pose_fit.fit.policy import Rider
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.from_trousers import inseam_from_trousers
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal

__all__ = ["ask_trousers", "forget_trousers", "guess_from_body", "reading_of_lift", "trousers_of"]


def trousers_of(page: str) -> TrousersClue | None:
    """The trousers as entered so far; None without a seam that can be."""
    seam_mm, hem_mm = length_of(f"{page}.trousers.seam"), length_of(f"{page}.trousers.hem")
    try:
        return None if seam_mm is None else _trousers(seam_mm, hem_mm)
    except InputError:
        return None


def ask_trousers(page: str) -> TrousersClue | None:
    """The inside seam of trousers that fit now."""
    say = in_language(TROUSERS)
    left, right = st.columns(2)
    with left:
        seam_mm = length_field(
            say.seam,
            f"{page}.trousers.seam",
            example_mm=520,
            note=say.seam_note,
            usual_mm=USUAL_SEAM_MM,
        )
    with right:
        hem_mm = length_field(say.hem, f"{page}.trousers.hem", example_mm=30, note=say.hem_note)
    try:
        return None if seam_mm is None else _trousers(seam_mm, hem_mm)
    except InputError as error:
        if other_unit(f"{page}.trousers.seam", USUAL_SEAM_MM) is None:
            st.error(fault_text(error), icon=":material/edit:")
        return None


def forget_trousers(page: str) -> None:
    """Empty the fields."""
    Fields(f"{page}.trousers").forget()


def _trousers(seam_mm: float, hem_mm: float | None) -> TrousersClue:
    inseam = inseam_from_trousers(seam_mm, hem_above_floor_mm=hem_mm)
    return TrousersClue(inside_seam_mm=seam_mm, hem_above_floor_mm=hem_mm, inseam=inseam)


def reading_of_lift(own: OwnBicycle | None, rider: Rider) -> LiftClue | None:
    """The inseam that a lift of a measured bicycle gives; None without both."""
    if own is None or own.lift_mm is None:
        return None
    bicycle = own.bicycle()
    if bicycle is None:
        return None
    try:
        reading = inseam_from_lift(own.lift_mm, bicycle, lifted=own.lifted, rider=rider)
    except InputError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return None
    if isinstance(reading, Refusal):
        show_refusal(reading)
        return None
    return LiftClue(
        standover_mm=bicycle.standover_mm,
        lift_mm=own.lift_mm,
        lifted=own.lifted,
        tyre_marking=own.tyre,
        inseam=reading,
    )


def guess_from_body(child: Child) -> tuple[str, Inseam] | None:
    """What children of this height, or else of this age, have; the height makes the age needless."""
    try:
        if child.stature_mm is not None:
            return "Body height", inseam_from_stature(child.stature_mm, sex=child.sex)
        if child.age_y is not None:
            return "Age", inseam_from_age(child.age_y, sex=child.sex)
    except InputError as error:
        st.error(fault_text(error), icon=":material/edit:")
    return None
