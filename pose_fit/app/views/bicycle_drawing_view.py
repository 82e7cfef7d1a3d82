"""A drawing of this child on one bicycle, where its geometry is known."""

import streamlit as st

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.style import drawing
from pose_fit.app.texts.fit_texts import FIT
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.bicycle_words import word
from pose_fit.drawing.child_on_bicycle import pedalling_svg, standing_svg
from pose_fit.drawing.figure import figure
from pose_fit.fit.judge import Fit
from pose_fit.refusal import Refusal

__all__ = ["show_child_on_bicycle"]


def show_child_on_bicycle(fit: Fit) -> None:
    """Standing over it and pedalling, side by side on a desk and below each other on a phone."""
    say = in_language(FIT)
    shape = figure(fit.inseam.mean_mm, fit.bicycle, rider=fit.rider)
    if isinstance(shape, Refusal):
        st.caption(say.not_drawn)
        return
    left, right = st.columns(2, gap="medium")
    with left:
        alt = say.drawing_alt.format(
            name=fit.bicycle.name,
            word=word(fit),
            inseam=length_text(shape.inseam_mm),
            standover=length_text(fit.bicycle.standover_mm),
        )
        drawing(standing_svg(shape, fit), alt=alt)
    with right:
        alt = say.pedalling_alt.format(
            name=fit.bicycle.name,
            saddle=length_text(shape.seat.saddle_mm),
            knee=length_text(shape.seat.knee_gap_mm),
        )
        drawing(pedalling_svg(shape, fit), alt=alt)
