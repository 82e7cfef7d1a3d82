"""The first screen of the parent's page: pictures, or a tape."""

from typing import Final

import streamlit as st

from pose_fit.app.folds import fold
from pose_fit.app.inputs.photo_choice import ask_pictures, take_sample
from pose_fit.app.inputs.tape_form import forget_tape
from pose_fit.app.inputs.uploads import samples
from pose_fit.app.session import Fields
from pose_fit.app.style import raw, svg_source
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language, paper_of
from pose_fit.app.views.how_to import offer_sheet
from pose_fit.app.views.stance_drawing import stance_drawing
from pose_fit.reference.paper import Paper

__all__ = ["leave_tape", "show_opening", "take_tape", "wants_tape"]

_PAPER_NAMES: Final = {"letter": "Letter", "a4": "A4"}


def wants_tape(page: str) -> bool:
    """Whether the visitor measures with a tape, alone or as well."""
    return Fields(f"{page}.way").value("tape", False)


def take_tape(page: str) -> None:
    """The visitor measures with a tape."""
    Fields(f"{page}.way").fill("tape", True)


def leave_tape(page: str) -> None:
    """Back to the first screen: no tape, and no readings."""
    Fields(f"{page}.way").forget()
    forget_tape(page)


def show_opening(page: str) -> None:
    """One decision; below the first screen how to do it, and a sample."""
    say = in_language(FAMILY)
    with st.container(key="opening"):
        st.html(
            f'<div class="pf-opening"><div><h1>{raw(say.title)}</h1><p>{raw(say.sentence)}</p></div>'
            f'<img alt="{raw(say.stance_alt)}" src="{svg_source(stance_drawing())}"></div>'
        )
        ask_pictures(page, say.upload, note=say.upload_help)
        with st.container(horizontal=True, key="other_ways"):
            st.button(
                say.tape_instead, key=f"{page}.tape_instead", on_click=take_tape, args=(page,)
            )
            usual = paper_of(st.context.locale)
            offer_sheet(page, usual, say.print_sheet)
    with fold(say.how_title, f"{page}.how_to"):
        st.markdown(say.how)
        other: Paper = "a4" if usual == "letter" else "letter"
        offer_sheet(page, other, say.other_sheet.format(paper=_PAPER_NAMES[other]))
    offered = samples()
    if offered:
        with fold(say.sample, f"{page}.samples"):
            names = [sample.path.stem for sample in offered]
            titles = {sample.path.stem: sample.title for sample in offered}
            key = Fields(f"{page}.sample").key("name")
            name = st.selectbox(say.sample_choose, names, format_func=titles.__getitem__, key=key)
            sample = next(sample for sample in offered if sample.path.stem == name)
            st.button(say.sample_show, on_click=take_sample, args=(page, sample))
