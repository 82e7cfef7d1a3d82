"""What is said of the child and of how it rides; everything optional."""

from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.known_ranges import Sex
from pose_fit.anthropometry.soles import RIDING_SOLES_MM
from pose_fit.app.inputs.lengths import (
    USUAL_STATURE_MM,
    length_field,
    length_of,
    length_parts,
    length_text,
    other_unit,
)
from pose_fit.app.session import Fields
from pose_fit.app.texts.form_texts import CHILD
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.messages import fault_text
from pose_fit.errors import PersonError
from pose_fit.fit.clearance import Skill
from pose_fit.fit.policy import Policy, Rider

__all__ = [
    "ask_child",
    "ask_rider",
    "ask_use",
    "child_of",
    "fill_child",
    "forget_child",
    "policy_of",
    "rider_of",
    "uses_child",
]

_USUAL_SKILL: Final[Skill] = "sure"


def child_of(page: str, *, before: Child | None = None) -> Child:
    """What was said so far; an impossible height is left out.

    A height that stands as :func:`fill_child` wrote it is the one ``before``, not that one rounded.
    """
    fields = Fields(f"{page}.child")
    age_y: float | None = fields.value("age", None)
    sex: Sex | None = fields.value("sex", None) or None
    stature_mm = length_of(f"{page}.child.stature")
    if before is not None and fields.value("stature", "") == _stature_text(before):
        stature_mm = before.stature_mm
    try:
        return Child(age_y=age_y, sex=sex, stature_mm=stature_mm)
    except PersonError:
        return Child(age_y=age_y, sex=sex)


def fill_child(page: str, child: Child) -> None:
    """Begin with what is known already; what somebody entered since stays."""
    known = {"age": child.age_y, "sex": child.sex or "", "stature": _stature_text(child)}
    for name, value in known.items():
        st.session_state.setdefault(Fields(f"{page}.child").key(name), value)


def _stature_text(child: Child) -> str:
    return "" if child.stature_mm is None else length_parts(child.stature_mm)[0]


def ask_child(page: str) -> None:
    """Age, sex and body height; an impossible value is said."""
    say, fields = in_language(CHILD), Fields(f"{page}.child")
    first, second, third = st.columns(3)
    with first:
        st.number_input(
            say.age,
            min_value=2.0,
            max_value=18.0,
            value=None,
            step=0.5,
            format="%.1f",
            key=fields.key("age"),
            placeholder=say.optional,
            help=say.age_help,
        )
    with second:
        st.selectbox(
            say.sex, tuple(say.sexes), format_func=say.sexes.__getitem__, key=fields.key("sex")
        )
    with third:
        name = f"{page}.child.stature"
        stature_mm = length_field(say.stature, name, example_mm=1200, usual_mm=USUAL_STATURE_MM)
    try:
        Child(stature_mm=stature_mm)
    except PersonError as error:
        if other_unit(name, USUAL_STATURE_MM) is None:
            st.error(fault_text(error), icon=":material/edit:")


def uses_child(page: str) -> bool:
    """Whether body height and age take part in the inseam of a picture."""
    return Fields(f"{page}.child").value("use", True)


def ask_use(page: str) -> None:
    """Whether they do."""
    say, key = in_language(CHILD), Fields(f"{page}.child").key("use")
    st.session_state.setdefault(key, True)
    st.toggle(say.use, key=key, help=say.use_help)


def forget_child(page: str) -> None:
    """Empty the fields of the child and of how it rides."""
    Fields(f"{page}.child").forget()
    Fields(f"{page}.rider").forget()


def rider_of(page: str) -> Rider:
    """Skill and riding shoe as said so far; soles that no shoe has are left out."""
    fields = Fields(f"{page}.rider")
    skill: Skill = fields.value("skill", _USUAL_SKILL)
    try:
        return Rider.wearing(length_of(f"{page}.rider.soles"), skill=skill)
    except PersonError:
        return Rider.wearing(None, skill=skill)


def policy_of(page: str) -> Policy:
    """Whether a bicycle to grow into is wanted."""
    return Policy(stretch=Fields(f"{page}.rider").value("stretch", False))


def ask_rider(page: str, *, stretch: bool = False) -> Rider:
    """Skill, the sole of the riding shoe, and where offered whether less room will do."""
    say, fields = in_language(CHILD), Fields(f"{page}.rider")
    st.session_state.setdefault(fields.key("skill"), _USUAL_SKILL)
    left, right = st.columns([2, 1])
    left.selectbox(
        say.skill, tuple(say.skills), format_func=say.skills.__getitem__, key=fields.key("skill")
    )
    with right:
        usual = length_text(RIDING_SOLES_MM[0])
        note = say.riding_soles_help.format(usual=usual)
        soles_mm = length_field(say.riding_soles, f"{page}.rider.soles", example_mm=15, note=note)
        try:
            Rider.wearing(soles_mm)
        except PersonError as error:
            st.error(fault_text(error), icon=":material/edit:")
    if stretch:
        st.toggle(say.stretch, key=fields.key("stretch"), help=say.stretch_help)
    return rider_of(page)
