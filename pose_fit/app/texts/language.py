"""The visitor's language and unit: as the browser says, or as chosen by hand."""

import datetime as dt
from collections.abc import Mapping
from typing import Final, Literal, TypeVar, get_args

import streamlit as st

from pose_fit.app.session import FIELD
from pose_fit.card.card_words import date_text

__all__ = [
    "LANGUAGES",
    "LANGUAGE_NAMES",
    "DateFormat",
    "Language",
    "LengthUnit",
    "choose_language",
    "choose_unit",
    "date_format",
    "date_format_of",
    "day_text",
    "in_language",
    "language",
    "language_of",
    "paper_of",
    "unit",
    "unit_of",
]

Language = Literal["en", "es"]
LengthUnit = Literal["in", "cm"]
DateFormat = Literal["MM/DD/YYYY", "DD/MM/YYYY"]

LANGUAGES: Final[tuple[Language, ...]] = get_args(Language)
#: Each in its own words, for those who read no other.
LANGUAGE_NAMES: Final[Mapping[Language, str]] = {"en": "English", "es": "Español"}

T = TypeVar("T")
_CHOSEN: Final = f"{FIELD}language"
_CHOSEN_UNIT: Final = f"{FIELD}unit"
#: Countries whose tapes show inches first.
_INCHES: Final = frozenset({"US", "LR", "MM", "PR"})
#: Countries that print on Letter paper.
_LETTER: Final = frozenset({"US", "CA", "MX", "PR", "CL", "CO", "VE", "PH", "GT", "CR", "PA"})


def language() -> Language:
    """The language the pages speak to this visitor."""
    chosen: Language | None = st.session_state.get(_CHOSEN)
    return chosen or language_of(st.context.locale)


def unit() -> LengthUnit:
    """The unit that comes first, and that a number without one is in."""
    chosen: LengthUnit | None = st.session_state.get(_CHOSEN_UNIT)
    return chosen or unit_of(st.context.locale)


def choose_language(chosen: Language) -> None:
    """As the visitor wants it from now on."""
    st.session_state[_CHOSEN] = chosen


def choose_unit(chosen: LengthUnit) -> None:
    """As the visitor wants it from now on."""
    st.session_state[_CHOSEN_UNIT] = chosen


def language_of(locale: str | None) -> Language:
    """The language for a browser's locale such as ``es-MX``; English where we have none."""
    spoken = (locale or "").split("-")[0].lower()
    return next((one for one in LANGUAGES if one == spoken), "en")


def unit_of(locale: str | None) -> LengthUnit:
    """The unit for a browser's locale; plain ``en``, and no locale at all, count as the US."""
    spoken, country = _parts(locale)
    return "in" if country in _INCHES or (not country and spoken in ("", "en")) else "cm"


def paper_of(locale: str | None) -> Literal["letter", "a4"]:
    """The paper a printer there holds."""
    spoken, country = _parts(locale)
    return "letter" if country in _LETTER or (not country and spoken in ("", "en")) else "a4"


def day_text(day: dt.date) -> str:
    """A day written out, in the visitor's language."""
    return date_text(day, language())


def date_format() -> DateFormat:
    """How a field writes a day: as the visitor's country does."""
    return date_format_of(st.context.locale)


def date_format_of(locale: str | None) -> DateFormat:
    """The month first in the United States, and where a browser speaks English of no country."""
    spoken, region = _parts(locale)
    is_american = region == "US" or (not region and spoken in ("en", ""))
    return "MM/DD/YYYY" if is_american else "DD/MM/YYYY"


def in_language(texts: Mapping[Language, T]) -> T:
    """The texts in the visitor's language."""
    return texts[language()]


def _parts(locale: str | None) -> tuple[str, str]:
    spoken, *rest = (locale or "").split("-")
    return spoken.lower(), rest[-1].upper() if rest else ""
