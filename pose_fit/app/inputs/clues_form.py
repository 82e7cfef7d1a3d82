"""Other clues to the length of the legs: trousers, the present bicycle, body height, age."""

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.bicycle_form import OwnBicycle
from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.views.messages import plain, show_refusal
from pose_fit.casebook.clue import LiftClue, TrousersClue
from pose_fit.errors import InputError
from pose_fit.fit.lift import inseam_from_lift
from pose_fit.fit.policy import Rider
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.from_trousers import inseam_from_trousers
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal

__all__ = ["ask_trousers", "guess_from_body", "reading_of_lift"]


def ask_trousers(page: str) -> TrousersClue | None:
    """The inside seam of trousers that fit now."""
    left, right = st.columns(2)
    with left:
        seam_mm = length_field(
            "Inside seam of trousers that fit",
            f"{page}.seam",
            example_mm=520,
            note="Crotch seam to hem along the inside of the leg, laid flat.",
        )
    with right:
        hem_mm = length_field(
            "Hem above the floor when worn",
            f"{page}.hem",
            example_mm=30,
            note="Barefoot. Empty: a usual height is assumed, which is less sure.",
        )
    if seam_mm is None:
        return None
    try:
        inseam = inseam_from_trousers(seam_mm, hem_above_floor_mm=hem_mm)
    except InputError as error:
        st.error(plain(str(error)), icon=":material/edit:")
        return None
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
        st.error(plain(str(error)), icon=":material/edit:")
        return None
    if isinstance(reading, Refusal):
        show_refusal(reading, title="The lift says nothing")
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
        st.error(plain(str(error)), icon=":material/edit:")
    return None
