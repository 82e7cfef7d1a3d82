"""A bicycle the family already has, described by what can be read and measured on it."""

from dataclasses import dataclass

import streamlit as st

from pose_fit.app.inputs.lengths import USUAL_STANDOVER_MM, length_field
from pose_fit.app.session import Fields
from pose_fit.app.texts.clue_texts import OWN_BICYCLE
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.messages import fault_text
from pose_fit.bicycle.bicycle import Bicycle, Frame
from pose_fit.bicycle.tyre import read_marking
from pose_fit.errors import InputError
from pose_fit.fit.lift import Lifted
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam

__all__ = ["OwnBicycle", "ask_own_bicycle"]


@dataclass(frozen=True, slots=True)
class OwnBicycle:
    """What was told of it; ``lift_mm`` is how far it comes up until the bar touches."""

    name: str
    tyre: str
    frame: Frame
    standover_mm: float | None
    saddle_min_mm: float | None
    saddle_max_mm: float | None
    wheelbase_mm: float | None
    lift_mm: float | None
    lifted: Lifted

    def bicycle(self) -> Bicycle | None:
        """As measured with a tape; None without its standover height.

        Raises
        ------
        InputError
            A marking or length that cannot be.
        """
        return None if self.standover_mm is None else self._with(self.standover_mm, "measured")

    def bicycle_by_lift(self, inseam: Inseam, rider: Rider) -> Bicycle | None:
        """With the standover height that the lift of the whole bicycle leaves; None without it.

        The height is no surer than the inseam it was worked out from, so it counts as unknown.

        Raises
        ------
        InputError
            A marking or length that cannot be.
        """
        if self.lift_mm is None or self.lifted != "whole" or self.frame == "step_through":
            return None
        return self._with(inseam.mean_mm + rider.soles_mm - self.lift_mm, "unknown")

    def _with(self, standover_mm: float, source: str) -> Bicycle:
        return Bicycle(
            name=self.name,
            tyre=read_marking(self.tyre),
            standover_mm=standover_mm,
            standover_source=source,  # type: ignore[arg-type]
            frame=self.frame,
            saddle_min_mm=self.saddle_min_mm,
            saddle_max_mm=self.saddle_max_mm,
            wheelbase_mm=self.wheelbase_mm,
        )


def ask_own_bicycle(page: str) -> OwnBicycle | None:
    """The fields; None while the tyre’s marking is missing or wrong."""
    say, fields = in_language(OWN_BICYCLE), Fields(f"{page}.own")
    left, right = st.columns(2)
    with left:
        tyre = st.text_input(say.marking, key=fields.key("tyre"), placeholder=say.marking_example)
        frame: Frame = st.selectbox(
            say.frame,
            tuple(say.frames),
            format_func=say.frames.__getitem__,
            key=fields.key("frame"),
        )
        standover_mm = length_field(
            say.standover,
            f"{page}.own.standover",
            example_mm=500,
            note=say.standover_note,
            usual_mm=USUAL_STANDOVER_MM,
        )
    with right:
        lift_mm = length_field(say.lift, f"{page}.own.lift", example_mm=60, note=say.lift_note)
        lifted: Lifted = st.radio(
            say.lifted,
            tuple(say.lifted_words),
            format_func=say.lifted_words.__getitem__,
            key=fields.key("lifted"),
        )
        wheelbase_mm = None
        if lifted == "front_wheel":
            wheelbase_mm = length_field(say.wheelbase, f"{page}.own.wheelbase", example_mm=850)
    low, high = st.columns(2)
    with low:
        saddle_min_mm = length_field(say.saddle_low, f"{page}.own.low", example_mm=560)
    with high:
        saddle_max_mm = length_field(say.saddle_high, f"{page}.own.high", example_mm=700)
    if not tyre or not tyre.strip():
        return None
    own = OwnBicycle(
        say.name,
        tyre,
        frame,
        standover_mm,
        saddle_min_mm,
        saddle_max_mm,
        wheelbase_mm,
        lift_mm,
        lifted,
    )
    try:
        read_marking(tyre)
        own.bicycle()
    except InputError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return None
    return own
