"""The day for which a bicycle is wanted, where a case is a present."""

import streamlit as st

from pose_fit.app.shop.case_words import give_or_take
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import day_text, in_language
from pose_fit.app.views.messages import fault_text
from pose_fit.casebook.case import Case
from pose_fit.casebook.present import inseam_wanted, present_day
from pose_fit.errors import PersonError
from pose_fit.inseam.inseam import Inseam

__all__ = ["show_on_day"]


def show_on_day(case: Case, inseam: Inseam) -> Inseam:
    """The inseam that decides: that of the day of a present, which is said, else the one given."""
    on = present_day(case)
    if on is None:
        return inseam
    try:
        grown = inseam_wanted(case, inseam)
    except PersonError as error:
        st.caption(fault_text(error))
        return inseam
    if grown is inseam:
        return inseam
    then = give_or_take(grown.mean_mm, grown.sd_mm)
    st.markdown(in_language(CASE).wanted_for.format(day=day_text(on), estimate=then))
    return grown
