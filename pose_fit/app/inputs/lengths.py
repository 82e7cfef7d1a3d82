"""A field for a length, in the visitor's unit or the one typed behind the number."""

from collections.abc import Callable
from typing import Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.texts.form_texts import LENGTHS
from pose_fit.app.texts.language import in_language, unit
from pose_fit.errors import LengthError
from pose_fit.metrology.units import MM_PER_INCH, both_units, parse_length_mm

__all__ = ["length_field", "length_of", "length_parts", "length_text"]

_MM_PER_CM: Final = 10.0


def length_parts(length_mm: float) -> tuple[str, str]:
    """The length in the visitor's unit, and in the other."""
    first, _, second = length_text(length_mm).partition(" (")
    return first, second.removesuffix(")")


def length_text(length_mm: float) -> str:
    """The visitor's unit first, the other in brackets."""
    return both_units(length_mm, unit())


def length_of(name: str) -> float | None:
    """What the field of this name holds, in millimetres; None where it is empty or no length."""
    text = st.session_state.get(f"{FIELD}{name}") or ""
    if not text.strip():
        return None
    # A bare number keeps the unit it was typed in, also when another one comes first later.
    key = f"{FIELD}{name}.typed"
    typed: tuple[str, str] = st.session_state.get(key, ("", ""))
    if typed[0] != text:
        typed = st.session_state[key] = text, unit()
    try:
        return parse_length_mm(text, default_unit=typed[1])
    except LengthError:
        return None


def length_field(
    label: str,
    name: str,
    *,
    example_mm: float,
    note: str | None = None,
    on_change: Callable[..., None] | None = None,
) -> float | None:
    """A length in millimetres; None where it is empty or no length, which is said below it."""
    say = in_language(LENGTHS)
    here = unit()
    number = f"{round(example_mm / (MM_PER_INCH if here == 'in' else _MM_PER_CM), 1):g}"
    text = st.text_input(
        f"{label} ({here})",
        key=f"{FIELD}{name}",
        placeholder=say.example.format(number=number),
        help=note,
        on_change=on_change,
    )
    if not text or not text.strip():
        return None
    value_mm = length_of(name)
    if value_mm is None:
        st.error(say.unread.format(text=text), icon=":material/edit:")
        return None
    st.caption(length_text(value_mm))
    return value_mm
