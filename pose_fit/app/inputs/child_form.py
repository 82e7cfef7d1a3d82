"""What is said of the child and of how it rides; everything optional."""

from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.session import FIELD
from pose_fit.errors import PersonError
from pose_fit.fit.policy import Rider, Skill

__all__ = ["ask_child", "ask_rider"]

_SEX_WORDS: Final = {"": "not said", "f": "girl", "m": "boy"}
_SKILL_WORDS: Final[dict[Skill, str]] = {
    "first_pedals": "learns to ride: both feet flat on the ground",
    "sure": "starts and stops alone",
    "off_road": "rides off the road too",
}


def ask_child(page: str) -> Child:
    """Age, sex and stature; an impossible value is said and left out."""
    first, second, third = st.columns(3)
    with first:
        age_y: float | None = st.number_input(
            "Age in years",
            min_value=2.0,
            max_value=18.0,
            value=None,
            step=0.5,
            format="%.1f",
            key=f"{FIELD}{page}.age",
            placeholder="optional",
            help="Guards against slips, and says how fast the legs will grow.",
        )
    with second:
        said = st.selectbox(
            "Girl or boy",
            tuple(_SEX_WORDS),
            format_func=_SEX_WORDS.__getitem__,
            key=f"{FIELD}{page}.sex",
        )
    sex = said or None
    with third:
        stature_mm = length_field(
            "Body height, no shoes", f"{page}.stature", example_mm=1200, note="Optional."
        )
    try:
        return Child(age_y=age_y, sex=sex, stature_mm=stature_mm)
    except PersonError as error:
        st.error(str(error), icon=":material/edit:")
        return Child(age_y=age_y, sex=sex)


def ask_rider(page: str) -> Rider:
    """Skill and the sole of the riding shoe."""
    key = f"{FIELD}{page}.skill"
    st.session_state.setdefault(key, "sure")
    left, right = st.columns([2, 1])
    skill: Skill = left.selectbox(
        "How the child rides", tuple(_SKILL_WORDS), format_func=_SKILL_WORDS.__getitem__, key=key
    )
    soles_mm: float | None = right.number_input(
        "Sole of the riding shoe (mm)",
        min_value=0.0,
        max_value=60.0,
        value=None,
        step=1.0,
        key=f"{FIELD}{page}.soles",
        placeholder="15 assumed",
        help="Thickness under the heel, measured with a ruler. It adds to the clearance.",
    )
    return Rider.wearing(soles_mm, skill=skill)
