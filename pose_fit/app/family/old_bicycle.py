"""Does the bicycle the child has still fit?"""

import streamlit as st

from pose_fit.app.inputs.bicycle_form import ask_own_bicycle
from pose_fit.app.views.bicycles_view import show_bicycle
from pose_fit.app.views.messages import plain
from pose_fit.errors import InputError
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam

__all__ = ["show_old_bicycle"]


def show_old_bicycle(inseam: Inseam | None, rider: Rider, *, page: str) -> None:
    """Fields of the bicycle, and its verdict."""
    own = ask_own_bicycle(page)
    if own is None:
        st.caption("Needed: the tyre’s marking, and the standover height or the lift.")
        return
    if inseam is None:
        st.caption("Measure the child first, by picture or tape.")
        return
    try:
        bicycle = own.bicycle() or own.bicycle_by_lift(inseam, rider)
    except InputError as error:
        st.error(plain(str(error)), icon=":material/edit:")
        return
    if bicycle is None:
        st.caption("Still needed: the standover height, or the lift of the whole bicycle.")
        return
    (fit,) = judge(inseam, [bicycle], rider=rider)
    show_bicycle(fit, page=f"{page}.own")
