"""A drawing of this child on one bicycle, where its geometry is known."""

import streamlit as st

from pose_fit.app.style import drawing
from pose_fit.app.views.messages import plain
from pose_fit.drawing.child_on_bicycle import pedalling_svg, standing_svg
from pose_fit.drawing.figure import figure
from pose_fit.fit.judge import Fit
from pose_fit.fit.words import headline
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Refusal

__all__ = ["show_child_on_bicycle"]


def show_child_on_bicycle(fit: Fit) -> None:
    """Standing over it and pedalling, side by side on a desk and below each other on a phone."""
    shape = figure(fit.inseam.mean_mm, fit.bicycle, rider=fit.rider)
    if isinstance(shape, Refusal):
        st.caption(plain(str(shape)))
        return
    left, right = st.columns(2, gap="medium")
    with left:
        drawing(
            standing_svg(shape, fit),
            alt=f"This child standing over {fit.bicycle.name}, to scale. {headline(fit)}."
            f" Inseam {both_units(shape.inseam_mm)}, standover"
            f" {both_units(fit.bicycle.standover_mm)}.",
        )
    with right:
        drawing(
            pedalling_svg(shape, fit),
            alt=f"This child pedalling {fit.bicycle.name}, to scale. Saddle at"
            f" {both_units(shape.seat.saddle_mm)}, knee to grips"
            f" {both_units(shape.seat.knee_gap_mm)}.",
        )
