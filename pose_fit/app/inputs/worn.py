"""What only who was there knows of the pictures: soles, cloth on the legs, heels on the floor."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import streamlit as st

from pose_fit.app.inputs.lengths import length_field, length_of, length_parts
from pose_fit.app.session import Fields, Shot, said_of
from pose_fit.app.texts.form_texts import WORN
from pose_fit.app.texts.language import in_language
from pose_fit.app.views.messages import fault_text
from pose_fit.errors import PersonError
from pose_fit.task.legwear import LEGWEAR, Legwear
from pose_fit.task.stated import NOTHING_STATED, Stated

__all__ = ["ask_feet", "ask_heels", "ask_legs", "ask_worn", "copy_worn", "stated_of_next"]

Feet = Literal["barefoot", "shoes", "not_known"]
FEET: tuple[Feet, ...] = ("barefoot", "shoes", "not_known")


def ask_feet(shots: Sequence[Shot]) -> None:
    """One press says what is on the feet, in every picture of this page."""
    say = in_language(WORN)
    words = {"barefoot": say.barefoot, "shoes": say.shoes, "not_known": say.not_known}
    with st.container(horizontal=True, key="ask_feet"):
        for feet in FEET:
            st.button(words[feet], key=f"feet.{feet}", on_click=_say_feet, args=(shots, feet))


def ask_legs(shots: Sequence[Shot]) -> None:
    """One press says what is on the legs, in every picture of this page."""
    say = in_language(WORN)
    with st.container(horizontal=True, key="ask_legs"):
        for legwear in LEGWEAR:
            st.button(
                say.legwear[legwear],
                key=f"legs.{legwear}",
                on_click=_say_legs,
                args=(shots, legwear),
            )


def ask_heels(shots: Sequence[Shot]) -> None:
    """Two presses for pictures that leave it open whether the heels were on the floor."""
    say = in_language(WORN)
    st.markdown(f"**{say.heels if len(shots) == 1 else say.heels_in_all}**")
    with st.container(horizontal=True):
        for words, down in ((say.heels_yes, True), (say.heels_no, False)):
            key = f"heels.{down}.{shots[0].key}"
            look: Literal["primary", "secondary"] = "primary" if down else "secondary"
            st.button(words, key=key, type=look, on_click=_say_heels, args=(shots, down))
    if any("heels" in said_of(shot).answered for shot in shots):
        st.info(say.heels_retake, icon=":material/photo_camera:")


def ask_worn(shots: Sequence[Shot]) -> None:
    """The same as a form, to look at and to change."""
    if not shots:
        return
    say, said = in_language(WORN), said_of(shots[0])
    fields = Fields(f"shot.{shots[0].key}.worn")
    soles_mm, legwear = said.stated.soles_mm, said.stated.legwear
    feet_words = {"barefoot": say.barefoot, "shoes": say.shoes, "not_known": say.not_known}
    feet_now: Feet = "not_known"
    if soles_mm is not None:
        feet_now = "shoes" if soles_mm > 0 else "barefoot"
    elif "shoes" in said.answered:
        feet_now = "shoes"
    fields.fill("feet", feet_now)
    left, right = st.columns(2)
    left.selectbox(
        say.feet,
        FEET,
        format_func=feet_words.__getitem__,
        key=fields.key("feet"),
        on_change=lambda: _say_feet(shots, fields.value("feet", "not_known")),
    )
    if feet_now == "shoes":
        with left:
            _ask_soles(shots, f"{fields.form}.soles", soles_mm)
    leg_words: dict[Legwear | None, str] = {None: say.not_known}
    for one in LEGWEAR:
        leg_words[one] = say.legwear[one]
    fields.fill("legs", legwear)
    right.selectbox(
        say.legs,
        tuple(leg_words),
        format_func=leg_words.__getitem__,
        key=fields.key("legs"),
        placeholder=say.not_known,
        on_change=lambda: _say_legs(shots, fields.value("legs", None)),
    )


def _ask_soles(shots: Sequence[Shot], name: str, soles_mm: float | None) -> None:
    """How thick they are; soles that no shoe has are said, and not used."""
    typed_mm = length_of(name)
    fault: PersonError | None = None
    try:
        Stated(soles_mm=typed_mm)
    except PersonError as error:
        fault = error
    if fault is None and typed_mm != soles_mm and not _reads_alike(typed_mm, soles_mm):
        text = "" if soles_mm is None else length_parts(soles_mm)[0]
        Fields(name.removesuffix(".soles")).fill("soles", text)
    length_field(
        in_language(WORN).soles,
        name,
        example_mm=15,
        on_change=lambda: _say_soles(shots, length_of(name)),
    )
    if fault is not None:
        st.error(fault_text(fault), icon=":material/edit:")


def _reads_alike(one_mm: float | None, other_mm: float | None) -> bool:
    """Whether two lengths are one as they are shown."""
    if one_mm is None or other_mm is None:
        return False
    return length_parts(one_mm)[0] == length_parts(other_mm)[0]


def stated_of_next(before: Sequence[Shot]) -> Stated:
    """A further picture of the same child shows the same clothes, until somebody says otherwise."""
    if not before:
        return NOTHING_STATED
    model = said_of(before[-1]).stated
    return replace(NOTHING_STATED, soles_mm=model.soles_mm, legwear=model.legwear)


def copy_worn(before: Sequence[Shot], shot: Shot) -> None:
    """Say that of a picture that has just come."""
    if before:
        said_of(shot).stated = stated_of_next(before)
        said_of(shot).answered |= said_of(before[-1]).answered & {"feet", "shoes", "legs"}


def _say_feet(shots: Sequence[Shot], feet: Feet) -> None:
    for shot in shots:
        said = said_of(shot)
        said.stated = replace(said.stated, soles_mm=0.0 if feet == "barefoot" else None)
        said.answered.add("feet")
        said.answered.discard("shoes")
        if feet == "shoes":
            said.answered.add("shoes")


def _say_soles(shots: Sequence[Shot], soles_mm: float | None) -> None:
    try:
        Stated(soles_mm=soles_mm)
    except PersonError:
        soles_mm = None
    for shot in shots:
        said_of(shot).stated = replace(said_of(shot).stated, soles_mm=soles_mm)


def _say_legs(shots: Sequence[Shot], legwear: Legwear | None) -> None:
    for shot in shots:
        said_of(shot).stated = replace(said_of(shot).stated, legwear=legwear)
        said_of(shot).answered.add("legs")


def _say_heels(shots: Sequence[Shot], heels_down: bool) -> None:
    for shot in shots:
        said = said_of(shot)
        said.stated = replace(said.stated, heels_down=heels_down)
        said.answered.add("heels")
