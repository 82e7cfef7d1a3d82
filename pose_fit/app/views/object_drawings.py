"""Small drawings of what may hang or stand beside the child."""

from collections.abc import Mapping, Sequence
from typing import Final

import streamlit as st

from pose_fit.app.style import svg_source
from pose_fit.reference.reference import ReferenceKind

__all__ = ["draw_on_choices"]

_CHILD: Final = (
    '<g fill="#7c93a1"><circle cx="22" cy="14" r="6"/>'
    '<path d="M13 24Q22 19 31 24L32 44H27L29 70H23L22 50L21 70H15L17 44H12Z"/></g>'
)
_MARKER: Final = "M0 0h5v5h-5zM9 0h5v5h-5zM0 11h5v5h-5zM9 11h5v5h-5z"
_SHAPES: Final[Mapping[ReferenceKind, str]] = {
    "sheet": '<rect x="44" y="38" width="22" height="26" fill="#fff" stroke="#17252b"/>'
    f'<path transform="translate(48 43)" d="{_MARKER}" fill="#17252b"/>',
    "letter": '<rect x="44" y="38" width="22" height="27" fill="#fff" stroke="#17252b"/>',
    "a4": '<rect x="45" y="36" width="20" height="29" fill="#fff" stroke="#17252b"/>',
    "wheel": '<g fill="none" stroke="#17252b"><circle cx="57" cy="53" r="16" stroke-width="4"/>'
    '<path d="M57 37V69M41 53H73"/></g>',
    "door": '<rect x="46" y="4" width="26" height="66" fill="#e9dcc3" stroke="#17252b"/>'
    '<circle cx="67" cy="40" r="2" fill="#17252b"/>',
    "length": '<path d="M56 14V64M50 14h12M50 64h12" stroke="#17252b" stroke-width="3"/>',
}


def draw_on_choices(container: str, kinds: Sequence[str]) -> None:
    """Each choice in the container of this key carries its drawing, in the order of the choices."""
    shapes = {str(kind): shape for kind, shape in _SHAPES.items()}
    choice = f".st-key-{container} [data-testid='stButtonGroup'] button"
    rules = [
        f"{choice}:nth-of-type({place}) {{ background-image: url('{svg_source(_drawing(shapes[kind]))}');"
        " background-repeat: no-repeat; background-position: .5rem center;"
        " background-size: 2.6rem; padding-left: 3.5rem; min-height: 2.9rem; }"
        for place, kind in enumerate(kinds, start=1)
        if kind in shapes
    ]
    st.html(f"<style>{' '.join(rules)}</style>")


def _drawing(shape: str) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 84 76" width="84" height="76">'
        '<rect width="84" height="76" rx="8" fill="#f3f6f5"/><path d="M0 70H84" stroke="#8fa3a6"'
        f' stroke-width="2"/>{_CHILD}{shape}</svg>'
    )
