"""A field for a length, in the unit the visitor prefers or the one typed behind the number."""

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.errors import LengthError
from pose_fit.metrology.units import both_units, parse_length_mm

__all__ = ["length_field", "unit", "unit_choice"]

_UNIT: str = f"{FIELD}unit"


def unit() -> str:
    """Unit of a number that has none behind it: ``in`` or ``cm``."""
    return "cm" if st.session_state.get(_UNIT) == "centimetres" else "in"


def unit_choice() -> None:
    """Ask once which unit the visitor's tape shows."""
    st.session_state.setdefault(_UNIT, "inches")
    st.radio(
        "Numbers without a unit are",
        ("inches", "centimetres"),
        key=_UNIT,
        horizontal=True,
        help="A unit behind the number always counts: 25 1/2 in, 64.8 cm, 648 mm.",
    )


def length_field(
    label: str, name: str, *, example_mm: float, note: str | None = None
) -> float | None:
    """A length in millimetres; None where it is empty or no length, which is said below it."""
    here = unit()
    example = f"{example_mm / 25.4:.3g}" if here == "in" else f"{example_mm / 10:.3g}"
    text = st.text_input(
        f"{label} ({here})", key=f"{FIELD}{name}", placeholder=f"for example {example}", help=note
    )
    if not text or not text.strip():
        return None
    try:
        value_mm = parse_length_mm(text, default_unit=here)
    except LengthError as error:
        st.error(str(error), icon=":material/edit:")
        return None
    st.caption(both_units(value_mm))
    return value_mm
