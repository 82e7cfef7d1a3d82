"""The pictures with their marks, face hidden, side by side, and what each said."""

from collections.abc import Sequence
from typing import Final

import streamlit as st
from PIL import Image

from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import said_of
from pose_fit.app.session_pose import session_pose
from pose_fit.app.style import inline_svg, jpeg_source, raw
from pose_fit.app.texts.family_texts import FAMILY
from pose_fit.app.texts.language import in_language, language, unit
from pose_fit.app.texts.legend_texts import LEGEND
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.overlay import overlay_picture
from pose_fit.drawing.refused import refused_picture
from pose_fit.measure import PhotoMeasurement
from pose_fit.refusal import Refusal

__all__ = ["marks_in_words", "show_found", "show_legend", "show_pictures"]

_COLOURS: Final = (
    ("#ffc400", "circle"),
    ("#00c8ff", "cross"),
    ("#3cdc78", "line"),
    ("#ff5aa0", "band"),
)


def show_pictures(outcomes: Sequence[Outcome], *, odd: int | None) -> None:
    """Every measured picture with what it said; ``odd`` is the place of the one unlike the others."""
    say = in_language(FAMILY)
    figures = []
    for place, outcome in enumerate(outcomes):
        result = outcome.result
        if isinstance(result, PhotoMeasurement):
            length = length_text(result.inseam.mean_mm)
            words = say.picture_odd if place == odd else say.picture_says
            caption = words.format(number=place + 1, length=length)
            alt = marks_in_words(outcome.shot.name, result)
            figures.append(_figure(outcome, alt, caption, is_odd=place == odd))
    _side_by_side(figures)


def show_found(outcomes: Sequence[Outcome]) -> None:
    """Pictures that gave no number, under their names, with what was found in them."""
    names = [outcome.shot.name for outcome in outcomes]
    _side_by_side([_figure(o, name, name) for o, name in zip(outcomes, names, strict=True)])


def marks_in_words(name: str, result: PhotoMeasurement) -> str:
    """The marks for those who do not see them."""
    length = length_text(result.inseam.mean_mm)
    return in_language(FAMILY).marked.format(name=name, length=length)


def show_legend() -> None:
    """What each mark is."""
    words = LEGEND[language()]
    items = "".join(
        f"<li>{inline_svg(_sign(shape, colour))}{raw(told)}</li>"
        for (colour, shape), told in zip(_COLOURS, words, strict=True)
    )
    st.html(f'<ul class="pf-legend">{items}</ul>')


def _figure(outcome: Outcome, alt: str, caption: str, *, is_odd: bool = False) -> str:
    return (
        f'<figure class="{"pf-odd" if is_odd else ""}"><img class="pf-picture" alt="{raw(alt)}"'
        f' src="{_source(outcome)}"><figcaption>{raw(caption)}</figcaption></figure>'
    )


def _side_by_side(figures: Sequence[str]) -> None:
    st.html(f'<div class="pf-pictures pf-of-{min(len(figures), 3)}">{"".join(figures)}</div>')


def _source(outcome: Outcome) -> str:
    """The picture as the page's own data, made once for each result."""
    said = said_of(outcome.shot)
    shown = id(outcome.result), unit(), language()
    if said.shown is None or said.shown[0] != shown:
        said.shown = shown, jpeg_source(_with_marks(outcome), longest_px=900)
    return said.shown[1]


def _with_marks(outcome: Outcome) -> Image.Image:
    """The picture with what was found; as it came where nobody was, or the question was wrong."""
    photo, result, texts = outcome.shot.photo, outcome.result, DRAWING_TEXTS[language()]
    found: Image.Image | None = None
    if isinstance(result, PhotoMeasurement):
        found = overlay_picture(result, unit=unit(), texts=texts)
    elif isinstance(result, Refusal):
        found = refused_picture(photo, outcome.task, pose=session_pose(), texts=texts)
    return found or Image.fromarray(photo.pixels)


def _sign(shape: str, colour: str) -> str:
    size = 'xmlns="http://www.w3.org/2000/svg" width="20" height="14"'
    return f"<svg {size}>{_shape(shape, colour)}</svg>"


def _shape(shape: str, colour: str) -> str:
    edge = 'stroke="#17252b" stroke-width=".8"'
    match shape:
        case "circle":
            return f'<circle cx="10" cy="7" r="5" fill="{colour}" {edge}/>'
        case "cross":
            return (
                '<path d="M4 7H16M10 1V13" stroke="#17252b" stroke-width="4"/>'
                f'<path d="M4 7H16M10 1V13" stroke="{colour}" stroke-width="2.4"/>'
            )
        case "line":
            return f'<rect x="1" y="5" width="18" height="4" fill="{colour}" {edge}/>'
    return (
        f'<rect x="1" y="1" width="18" height="12" fill="{colour}" fill-opacity=".4" {edge}/>'
        f'<rect x="1" y="5.5" width="18" height="3" fill="{colour}"/>'
    )
