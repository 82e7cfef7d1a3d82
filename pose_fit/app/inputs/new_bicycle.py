"""A bicycle of the shop that was measured there: what is written on it, and a tape's readings."""

import streamlit as st

from pose_fit.app.inputs.lengths import USUAL_STANDOVER_MM, length_field
from pose_fit.app.session import Fields
from pose_fit.app.texts.language import in_language
from pose_fit.app.texts.stock_texts import STOCK
from pose_fit.app.views.messages import fault_text
from pose_fit.bicycle.bicycle import Bicycle, Frame
from pose_fit.bicycle.tyre import read_marking
from pose_fit.errors import InputError

__all__ = ["ask_new_bicycle"]


def ask_new_bicycle(page: str) -> Bicycle | None:
    """The fields; None until name, tyre and standover are there and can be right."""
    say, fields = in_language(STOCK), Fields(page)
    left, right = st.columns(2)
    with left:
        name = st.text_input(say.name, key=fields.key("name"), max_chars=120)
        tyre = st.text_input(say.tyre, key=fields.key("tyre"), placeholder=say.tyre_example)
        frame: Frame = st.selectbox(
            say.frame,
            tuple(say.frames),
            format_func=say.frames.__getitem__,
            key=fields.key("frame"),
        )
        pedals = st.checkbox(say.pedals, value=True, key=fields.key("pedals"))
    with right:
        standover_mm = length_field(
            say.standover_measured,
            f"{page}.standover",
            example_mm=560,
            note=say.measure_how,
            usual_mm=USUAL_STANDOVER_MM,
        )
        lowest_mm = length_field(say.saddle_lowest, f"{page}.lowest", example_mm=560)
        highest_mm = length_field(
            say.saddle_highest, f"{page}.highest", example_mm=700, note=say.saddle_note
        )
    if not (name and name.strip() and tyre and tyre.strip()) or standover_mm is None:
        return None
    try:
        return Bicycle(
            name=name.strip(),
            tyre=read_marking(tyre),
            standover_mm=standover_mm,
            standover_source="measured",
            frame=frame,
            pedals=pedals,
            saddle_min_mm=lowest_mm,
            saddle_max_mm=highest_mm,
        )
    except InputError as error:
        st.error(fault_text(error), icon=":material/edit:")
        return None
