"""Refusals, warnings and advice, said kindly in the visitor's language."""

from collections.abc import Sequence

import streamlit as st

from pose_fit.app.style import raw
from pose_fit.app.texts.fault_texts import fault_es
from pose_fit.app.texts.language import in_language, language
from pose_fit.app.texts.notice_texts import FAULTS_ES, MESSAGES, notice_text
from pose_fit.errors import PoseFitError
from pose_fit.refusal import Notice, Refusal

__all__ = ["fault_text", "list_faults", "plain", "show_notes", "show_notices", "show_refusal"]


def show_refusal(refusal: Refusal) -> None:
    """Why, and what to do instead."""
    say = in_language(MESSAGES)
    lines = [f"**{say.not_measured}**"]
    lines += [f"- {plain(notice_text(reason, language()))}" for reason in refusal.reasons]
    # The library's remedies are English; each Spanish reason says its own.
    helps = [say.asks[ask] for ask in refusal.asks]
    if language() == "en":
        helps += refusal.remedies
    if helps:
        lines += ["", f"**{say.helps}**", *(f"- {plain(line)}" for line in helps)]
    st.warning("\n".join(lines), icon=":material/photo_camera:")


def show_notices(notices: Sequence[Notice]) -> None:
    """What to know about a value."""
    for notice in notices:
        st.info(plain(notice_text(notice, language())), icon=":material/info:")


def show_notes(notices: Sequence[Notice]) -> None:
    """The same, quietly, below an answer."""
    if notices:
        lines = "".join(f"<li>{raw(notice_text(notice, language()))}</li>" for notice in notices)
        st.html(f'<ul class="pf-notes">{lines}</ul>')


def fault_text(error: PoseFitError) -> str:
    """What is wrong with an entry: in another language by its kind, where its sentence has no words."""
    if language() == "en":
        english = str(error)
        return plain(f"A{english[1:]}" if english.startswith("a ") else english)
    by_kind = next(
        (text for kind, text in FAULTS_ES.items() if isinstance(error, kind)),
        FAULTS_ES[PoseFitError],
    )
    told = fault_es(str(error))
    return by_kind if told is None else plain(told)


def list_faults(told: str) -> str:
    """What is wrong with a list, line by line and as it stands; in English where nothing else is known."""
    return told if language() == "en" else fault_es(told) or told


def plain(text: str) -> str:
    """Text whose signs Markdown would take for marks of its own."""
    for sign in ("\\", "*", "_", "`", "[", "]", "$", "<", ">", ":", "#", "~"):
        text = text.replace(sign, f"\\{sign}")
    return text
