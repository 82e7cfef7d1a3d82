"""The look of the pages: colours, spacing, and the few pieces of HTML they share."""

import base64
import html
import io
from collections.abc import Iterable, Sequence
from typing import Final

import streamlit as st
from PIL import Image

from pose_fit.drawing.colours import VERDICT_COLOUR, VERDICT_SIGN
from pose_fit.fit.verdicts import Verdict

__all__ = [
    "badge",
    "card_title",
    "drawing",
    "inline_svg",
    "picture",
    "raw",
    "step",
    "table",
    "thumbnail",
    "use_style",
]

_CSS: Final = """
<style>
.stMainBlockContainer { max-width: 1080px; padding-top: 3.4rem; padding-bottom: 4rem; }
@media (max-width: 640px) {
  .stMainBlockContainer { padding-left: .9rem; padding-right: .9rem; }
}
.stMainBlockContainer h1 { font-size: 2rem; line-height: 1.15; padding: 0 0 .2rem; }
.stMainBlockContainer h2 { font-size: 1.35rem; padding: .9rem 0 .1rem; }
.stMainBlockContainer h3 { font-size: 1.08rem; padding: .2rem 0 0; }
.pf-step { display: inline-grid; flex: none; align-self: flex-start; place-items: center; width: 1.75rem; height: 1.75rem;
  margin-right: .55rem; border-radius: 50%; background: #0b5f5a; color: #fff;
  font-size: 1rem; font-weight: 700; vertical-align: .12rem; }
.pf-heading { display: flex; align-items: baseline; margin: .6rem 0 0; color: #17252b; }
.pf-hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.pf-value { font-size: 1.72rem; font-weight: 700; line-height: 1.2; color: #17252b; margin: 0; }
.pf-value small { font-size: 1.05rem; font-weight: 500; color: #4d6066; }
.pf-interval { color: #34464c; margin: .1rem 0 .35rem; }
.pf-title { font-weight: 700; letter-spacing: .01em; color: #0b5f5a; margin: 0 0 .1rem; }
.pf-badge { display: inline-block; padding: .08rem .55rem; border-radius: 1rem; color: #fff;
  font-weight: 700; font-size: .9rem; white-space: nowrap; }
.pf-quiet { color: #4d6066; font-size: .92rem; margin: .1rem 0; }
.pf-drawing, .pf-picture { display: block; width: 100%; height: auto; }
.pf-picture { border-radius: .5rem; max-width: 520px; }
.pf-thumbnail { display: flex; align-items: center; gap: .7rem; overflow-wrap: anywhere; }
.pf-thumbnail img { height: 76px; border-radius: .35rem; }
.pf-table { border-collapse: collapse; width: 100%; font-size: .95rem; }
.pf-table th, .pf-table td { text-align: left; padding: .3rem .5rem; border-bottom: 1px solid #d5dfe0;
  font-weight: 400; vertical-align: top; }
.pf-table thead th { color: #4d6066; font-size: .88rem; }
.pf-table td:not(:first-child) { font-variant-numeric: tabular-nums; }
.st-key-pages a { background: #eef3f2; border-radius: 1rem; padding: .1rem .7rem; }
.pf-legend { display: flex; flex-wrap: wrap; gap: .2rem 1rem; font-size: .9rem; color: #34464c;
  margin: .3rem 0 0 !important; padding: 0 !important; list-style: none; }
.pf-legend li { display: flex; align-items: center; gap: .35rem; margin: 0 !important; }
.pf-bike { display: flex; flex-wrap: wrap; align-items: baseline; gap: .15rem .6rem; margin: 0; }
.pf-bike strong { font-size: 1.08rem; }
[data-testid="stAlertContainer"], [data-testid="stAlertContainer"] p,
[data-testid="stAlertContainer"] li { color: #17252b; }
[data-testid="stCaptionContainer"], [data-testid="stCaptionContainer"] * { color: #4d6066; }
[data-testid="stCaptionContainer"] { opacity: 1; }
[data-testid="stFileUploaderDropzoneInstructions"] span { color: #4d6066; }
input::placeholder, [data-baseweb="select"] [aria-live] { color: #5a6d73 !important; opacity: 1; }
:focus-visible { outline: 3px solid #1d5b9c !important; outline-offset: 2px; }
</style>
"""


def use_style() -> None:
    """Bring the style sheet into the page."""
    st.html(_CSS)


def raw(text: str) -> str:
    """Text from outside, safe inside HTML."""
    return html.escape(text, quote=True)


def badge(verdict: Verdict) -> str:
    """HTML of a verdict: sign, word and colour together."""
    colour = VERDICT_COLOUR[verdict]
    return (
        f'<span class="pf-badge" style="background:{colour}">'
        f'<span aria-hidden="true">{VERDICT_SIGN[verdict]}</span> {verdict}</span>'
    )


def card_title(text: str) -> None:
    """Small heading of a card."""
    st.html(f'<p class="pf-title">{raw(text)}</p>')


def step(number: int, text: str) -> None:
    """Numbered heading of a part of the page."""
    st.html(
        f'<h2 class="pf-heading"><span class="pf-step" aria-hidden="true">{number}</span>'
        f'<span class="pf-hidden">Step {number}: </span>{raw(text)}</h2>'
    )


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """A small table that screen readers can walk through; the first column names its row."""
    head = "".join(f'<th scope="col">{raw(heading)}</th>' for heading in headings)
    body = "".join(
        f'<tr><th scope="row">{raw(name)}</th>'
        + "".join(f"<td>{raw(cell)}</td>" for cell in cells)
        + "</tr>"
        for name, *cells in rows
    )
    st.html(f'<table class="pf-table"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>')


def drawing(svg: str, *, alt: str, max_width_px: int = 560) -> None:
    """Show an SVG drawing; as a picture of its own its names cannot clash with the page's."""
    st.html(
        f'<img class="pf-drawing" style="max-width:{max_width_px}px" alt="{raw(alt)}"'
        f' src="{_svg_source(svg)}">'
    )


def inline_svg(svg: str) -> str:
    """HTML of a small drawing without meaning of its own, such as a legend's sign."""
    return f'<img alt="" src="{_svg_source(svg)}">'


def _svg_source(svg: str) -> str:
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}"


def picture(image: Image.Image, *, alt: str, longest_px: int = 1000) -> None:
    """Show a picture inside the page itself, so that no link to it exists."""
    source = _jpeg_source(image, longest_px=longest_px)
    st.html(f'<img class="pf-picture" alt="{raw(alt)}" src="{source}">')


def thumbnail(image: Image.Image, *, alt: str, text: str) -> None:
    """A small picture with text beside it."""
    source = _jpeg_source(image, longest_px=160)
    st.html(
        f'<div class="pf-thumbnail"><img alt="{raw(alt)}" src="{source}"><span>{raw(text)}</span></div>'
    )


def _jpeg_source(image: Image.Image, *, longest_px: int) -> str:
    small = image.convert("RGB")
    small.thumbnail((longest_px, longest_px))
    buffer = io.BytesIO()
    small.save(buffer, "JPEG", quality=85)
    return f"data:image/jpeg;base64,{base64.b64encode(buffer.getvalue()).decode()}"
