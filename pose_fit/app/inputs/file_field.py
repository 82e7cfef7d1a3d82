"""A field for files in the visitor's language: Streamlit's own words on it are English alone."""

from collections.abc import Sequence
from typing import Any, Final

import streamlit as st

__all__ = ["LISTS", "file_field"]

#: How a table of bicycles is saved.
LISTS: Final = ("csv", "txt")


def file_field(
    name: str, label: str, *, types: Sequence[str], key: str, refused: str, multiple: bool = False
) -> Any:
    """One large button that says what it takes; ``refused`` stands at a file that is not taken.

    ``name`` tells it from other fields of the page; ``key`` is that of the widget.
    """
    words = f'--pf-label: "{_quoted(label)}"; --pf-refused: "{_quoted(refused)}";'
    st.html(f"<style>.st-key-{name}_file_field {{ {words} }}</style>")
    with st.container(key=f"{name}_file_field"):
        uploader: Any = st.file_uploader  # Its overloads take no bool.
        return uploader(
            label,
            type=list(types),
            accept_multiple_files=multiple,
            key=key,
            label_visibility="collapsed",
        )


def _quoted(text: str) -> str:
    return text.replace('"', '\\"')
