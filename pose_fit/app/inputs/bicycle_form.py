"""A bicycle the family already has, described by what can be read and measured on it."""

from dataclasses import dataclass
from typing import Final

import streamlit as st

from pose_fit.app.inputs.lengths import length_field
from pose_fit.app.session import FIELD
from pose_fit.app.views.messages import plain
from pose_fit.bicycle.bicycle import Bicycle, Frame
from pose_fit.bicycle.tyre import read_marking
from pose_fit.errors import InputError
from pose_fit.fit.lift import Lifted
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam

__all__ = ["OwnBicycle", "ask_own_bicycle"]

_NAME: Final = "The present bicycle"
_FRAME_WORDS: Final[dict[Frame, str]] = {
    "sloping": "the top bar slopes",
    "level": "the top bar is level",
    "step_through": "no top bar: a step-through",
}
_LIFTED_WORDS: Final[dict[Lifted, str]] = {
    "whole": "the whole bicycle, both wheels",
    "front_wheel": "the front wheel, rear wheel on the ground",
}


@dataclass(frozen=True, slots=True)
class OwnBicycle:
    """What was told of it; ``lift_mm`` is how far it comes up until the bar touches."""

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
            name=_NAME,
            tyre=read_marking(self.tyre),
            standover_mm=standover_mm,
            standover_source=source,  # type: ignore[arg-type]
            frame=self.frame,
            saddle_min_mm=self.saddle_min_mm,
            saddle_max_mm=self.saddle_max_mm,
            wheelbase_mm=self.wheelbase_mm,
        )


def ask_own_bicycle(page: str) -> OwnBicycle | None:
    """The fields; None while the tyre's marking is missing or wrong."""
    left, right = st.columns(2)
    with left:
        tyre = st.text_input(
            "Marking on the tyre’s sidewall",
            key=f"{FIELD}{page}.own.tyre",
            placeholder="for example 47-406 or 20 x 1.75",
        )
        frame_key = f"{FIELD}{page}.own.frame"
        frame: Frame = st.selectbox(
            "Frame", tuple(_FRAME_WORDS), format_func=_FRAME_WORDS.__getitem__, key=frame_key
        )
        standover_mm = length_field(
            "Standover: floor to the top of the bar",
            f"{page}.own.standover",
            example_mm=500,
            note="Measured upright on its tyres, just ahead of the saddle.",
        )
    with right:
        lift_mm = length_field(
            "Lift until the bar touches",
            f"{page}.own.lift",
            example_mm=60,
            note="The child stands over the bar in shoes. Lift the bicycle until the bar touches,"
            " gently, and measure the gap under the tyre.",
        )
        lifted: Lifted = st.radio(
            "Lifted was",
            tuple(_LIFTED_WORDS),
            format_func=_LIFTED_WORDS.__getitem__,
            key=f"{FIELD}{page}.own.lifted",
        )
        wheelbase_mm = None
        if lifted == "front_wheel":
            wheelbase_mm = length_field(
                "Wheelbase: axle to axle", f"{page}.own.wheelbase", example_mm=850
            )
    low, high = st.columns(2)
    with low:
        saddle_min_mm = length_field("Saddle at its lowest", f"{page}.own.low", example_mm=560)
    with high:
        saddle_max_mm = length_field("Saddle at its limit mark", f"{page}.own.high", example_mm=700)
    if not tyre or not tyre.strip():
        return None
    own = OwnBicycle(
        tyre, frame, standover_mm, saddle_min_mm, saddle_max_mm, wheelbase_mm, lift_mm, lifted
    )
    try:
        read_marking(tyre)
        own.bicycle()
    except InputError as error:
        st.error(plain(str(error)), icon=":material/edit:")
        return None
    return own
