"""Does the child’s own bicycle still fit?"""

import streamlit as st

from pose_fit.app.inputs.bicycle_form import ask_own_bicycle
from pose_fit.app.texts.clue_texts import OWN_BICYCLE
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.bicycles_view import show_bicycle
from pose_fit.app.views.messages import fault_text
from pose_fit.errors import InputError
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam

__all__ = ["show_old_bicycle"]


def show_old_bicycle(inseam: Inseam | None, rider: Rider, *, page: str) -> None:
    """Fields of the bicycle, and its verdict."""
    say = in_language(OWN_BICYCLE)
    own = ask_own_bicycle(page)
    if own is None:
        st.caption(say.needed)
        return
    if inseam is None:
        st.caption(say.measure_first)
        return
    try:
        bicycle = own.bicycle() or own.bicycle_by_lift(inseam, rider)
    except InputError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return
    if bicycle is None:
        st.caption(say.still_needed)
        return
    (fit,) = judge(inseam, [bicycle], rider=rider)
    show_bicycle(fit)
