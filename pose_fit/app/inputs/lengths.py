"""A field for a length, in the visitor's unit or the one typed behind the number."""

import re
from collections.abc import Callable
from typing import Final

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.app.texts.form_texts import LENGTHS
from pose_fit.app.texts.language import in_language, unit
from pose_fit.errors import LengthError
from pose_fit.metrology.units import MM_PER_INCH, both_units, parse_length_mm

__all__ = [
    "USUAL_DOOR_MM",
    "USUAL_INSEAM_MM",
    "USUAL_SEAM_MM",
    "USUAL_STANDOVER_MM",
    "USUAL_STATURE_MM",
    "length_field",
    "length_of",
    "length_parts",
    "length_text",
    "other_unit",
]

_MM_PER_CM: Final = 10.0
_UNITS_MM: Final = {"in": MM_PER_INCH, "cm": _MM_PER_CM, "mm": 1.0}
_NUMBER: Final = re.compile(r"\d+(?:[.,]\d+)?")

#: Lowest and highest, millimetres.
Range = tuple[float, float]
#: Lengths that children and their bicycles have; a number outside is more likely in another unit.
USUAL_INSEAM_MM: Final[Range] = (300.0, 1100.0)
USUAL_SEAM_MM: Final[Range] = (230.0, 900.0)
USUAL_STATURE_MM: Final[Range] = (750.0, 2000.0)
USUAL_STANDOVER_MM: Final[Range] = (230.0, 900.0)
USUAL_DOOR_MM: Final[Range] = (1700.0, 2500.0)


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
    usual_mm: Range | None = None,
) -> float | None:
    """A length in millimetres; None where it is empty or no length, which is said below it.

    A bare number that is a usual length in another unit alone is asked about, and stays as it is.
    """
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
    meant = None if usual_mm is None else other_unit(name, usual_mm)
    if meant is None:
        st.caption(length_text(value_mm))
    else:
        told = say.other_unit.format(
            read=length_parts(value_mm)[0], number=text.strip(), unit=meant, here=here
        )
        st.warning(told, icon=":material/straighten:")
    return value_mm


def other_unit(name: str, usual_mm: Range) -> str | None:
    """The unit in which the bare number of a field is a usual length, where its own makes it none."""
    value_mm, (low_mm, high_mm) = length_of(name), usual_mm
    number = _NUMBER.fullmatch((st.session_state.get(f"{FIELD}{name}") or "").strip())
    if value_mm is None or number is None or low_mm <= value_mm <= high_mm:
        return None
    bare = float(number[0].replace(",", "."))
    found = (one for one, unit_mm in _UNITS_MM.items() if low_mm <= bare * unit_mm <= high_mm)
    return next(found, None)
