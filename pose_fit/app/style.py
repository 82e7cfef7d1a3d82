"""The look of the pages: colours for light and dark, print, and the pieces of HTML they share."""

import base64
import html
import json
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

import streamlit as st
from PIL import Image

from pose_fit.app.picture_source import jpeg_source

__all__ = [
    "card_title",
    "drawing",
    "html_table",
    "picture",
    "raw",
    "svg_source",
    "table",
    "use_style",
]

_CSS: Final = Path(__file__).with_name("style.css")
_SCRIPT: Final = Path(__file__).with_name("page.js")


def use_style(language: str, *, no_connection: tuple[str, str]) -> None:
    """Bring the style sheet into the page, and say which language it speaks.

    ``no_connection`` is the title and the words for a page that no longer reaches the program.
    """
    st.html(_CSS)
    script = _SCRIPT.read_text("utf-8").replace("LANGUAGE", language)
    script = script.replace("NO_CONNECTION", json.dumps(no_connection))
    with st.container(key="script"):
        st.html(f"<script>{script}</script>", unsafe_allow_javascript=True)


def raw(text: str) -> str:
    """Text from outside, safe inside HTML."""
    return html.escape(text, quote=True)


def card_title(text: str) -> None:
    """Small heading of a card."""
    st.html(f'<p class="pf-title">{raw(text)}</p>')


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """A small table that screen readers can walk through; the first column names its row."""
    html_table(headings, ([raw(cell) for cell in row] for row in rows))


def html_table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """The same with cells that are HTML already. On a phone a row becomes a block."""
    head = "".join(f'<th scope="col">{raw(heading)}</th>' for heading in headings)
    body = "".join(
        f'<tr><th scope="row">{name}</th>' + "".join(f"<td>{cell}</td>" for cell in cells) + "</tr>"
        for name, *cells in rows
    )
    st.html(
        f'<div class="pf-scroll" role="region" tabindex="0" aria-label="{raw(headings[0])}">'
        f'<table class="pf-table"><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>'
    )


def drawing(svg: str, *, alt: str) -> None:
    """Show an SVG drawing; as a picture of its own its names cannot clash with the page's."""
    st.html(
        f'<img class="pf-drawing" style="max-width:560px" alt="{raw(alt)}" src="{svg_source(svg)}">'
    )


def svg_source(svg: str) -> str:
    """A drawing as the page's own data."""
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}"


def picture(image: Image.Image, *, alt: str) -> None:
    """Show a picture inside the page itself, so that no link to it exists."""
    source = jpeg_source(image, longest_px=1000)
    st.html(f'<img class="pf-picture" alt="{raw(alt)}" src="{source}">')
