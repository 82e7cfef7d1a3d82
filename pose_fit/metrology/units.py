"""Lengths as people write them, and as millimetres; days of a year.

Inside the library every length is a float in millimetres; people read inches
and centimetres side by side.
"""

import math
import re
from typing import Final, Literal

from pose_fit.errors import LengthError

__all__ = [
    "DAYS_PER_YEAR",
    "MM_PER_INCH",
    "VULGAR_FRACTIONS",
    "Unit",
    "both_units",
    "length_text",
    "parse_length_mm",
    "small_text",
    "with_unit_first",
]

#: The unit that a person reads first; the other one stands behind it in brackets.
Unit = Literal["in", "cm"]

#: International yard and pound agreement of 1959, exact.
MM_PER_INCH: Final = 25.4
#: Mean Gregorian year.
DAYS_PER_YEAR: Final = 365.2425

_MM_PER_UNIT: Final = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
}
_OTHER_NAMES: Final = {"inch": "in", "inches": "in", '"': "in", "feet": "ft", "'": "ft"}
#: The unit that may follow in one length: six feet eight inches, one metre twenty centimetres.
_FOLLOWS: Final = {"ft": "in", "m": "cm", "cm": "mm"}
#: Fractions of one glyph, written out behind a blank.
VULGAR_FRACTIONS: Final = {
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
}
_NUMBER: Final = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d*[.,]?\d+)"
_UNIT: Final = r"(?:mm|cm|m|inches|inch|in|feet|ft|\"|')"
_TERM: Final = re.compile(rf"\s*(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT}?)\s*")


def parse_length_mm(text: str, *, default_unit: str | None = None) -> float:
    """Read a length such as ``25.5in``, ``25 1/2 in``, ``4'2``, ``1m27``, ``64.8 cm`` or ``648mm``.

    Parameters
    ----------
    text
        What somebody typed. Fractions (``1/2``, ``½``) and a decimal comma are read. Behind feet a
        bare number below 12 is inches, behind metres two digits are centimetres.
    default_unit
        Unit of a bare number. Without it a bare number is an error, because 25
        may be inches or centimetres.

    Returns
    -------
    float
        Length in millimetres, finite and not negative.

    Raises
    ------
    LengthError
        The text is not a length, has no unit where one is needed, or is not finite.
    """
    plain = (
        text.strip().lower().replace("”", '"').replace("″", '"').replace("′", "'").replace("’", "'")
    )
    for glyph, fraction in VULGAR_FRACTIONS.items():
        plain = plain.replace(glyph, fraction)
    total_mm, position, before = 0.0, 0, ""
    while position < len(plain):
        term = _TERM.match(plain, position)
        if term is None or term.end() == position:
            raise _no_length(text)
        implied = _unit_behind(before, term["number"]) if before else default_unit
        unit = term["unit"] or (implied if term.end() == len(plain) else None)
        if unit is None:
            raise LengthError(f"{text!r} has no unit; write for example 25.5in, 64.8cm or 648mm")
        unit = _OTHER_NAMES.get(unit, unit)
        if before and _FOLLOWS.get(before) != unit:
            raise LengthError(f"{text!r} holds more than one length; write one of them")
        total_mm += _number(term["number"], text) * _MM_PER_UNIT[unit]
        position, before = term.end(), unit
    if not plain or not math.isfinite(total_mm):
        raise _no_length(text)
    return total_mm


def _unit_behind(unit: str, number: str) -> str | None:
    """The unit that goes without saying: four foot two, one metre twenty-seven."""
    if unit == "ft" and re.fullmatch(r"(?:\d|1[01])(?:[.,]\d+| \d+/\d+)?", number):
        return "in"
    return "cm" if unit == "m" and re.fullmatch(r"\d\d", number) else None


def _number(text: str, whole: str) -> float:
    value = 0.0
    for part in text.replace(",", ".").split():
        numerator, _, denominator = part.partition("/")
        if denominator and float(denominator) == 0:
            raise _no_length(whole)
        value += float(numerator) / (float(denominator) if denominator else 1.0)
    return value


def _no_length(text: str) -> LengthError:
    return LengthError(
        f"{text!r} is not a length; write a number with a unit, for example 25.5in, 64.8cm or 648mm"
    )


def length_text(length_mm: float, unit: Unit) -> str:
    """A length to one decimal: ``25.5 in`` or ``64.8 cm``."""
    return f"{length_mm / _MM_PER_UNIT[unit]:.1f} {unit}"


def small_text(length_mm: float, unit: Unit) -> str:
    """An uncertainty: ``0.34 in``, or for who reads centimetres ``8.6 mm``."""
    return f"{length_mm / MM_PER_INCH:.2f} in" if unit == "in" else f"{length_mm:.1f} mm"


def both_units(length_mm: float, first: Unit = "in") -> str:
    """Inches and centimetres side by side, ``first`` before the other: ``25.5 in (64.8 cm)``."""
    second: Unit = "cm" if first == "in" else "in"
    return f"{length_text(length_mm, first)} ({length_text(length_mm, second)})"


def with_unit_first(text: str, unit: Unit) -> str:
    """A text in which the lengths that :func:`both_units` wrote have this unit first."""
    return (_CM_FIRST if unit == "in" else _IN_FIRST).sub(r"\g<second> (\g<first>)", text)


_IN_FIRST: Final = re.compile(r"(?P<first>-?\d+\.\d in) \((?P<second>-?\d+\.\d cm)\)")
_CM_FIRST: Final = re.compile(r"(?P<first>-?\d+\.\d cm) \((?P<second>-?\d+\.\d in)\)")
