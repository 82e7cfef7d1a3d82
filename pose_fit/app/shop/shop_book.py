"""The shop's case book: one for the whole process, at the place the shop names."""

import os
from pathlib import Path
from typing import Final

import streamlit as st

from pose_fit.casebook.book import CaseBook

__all__ = ["BOOK_VARIABLE", "BRANCH_VARIABLE", "book_place", "branch", "case_book"]

#: Environment variable that names the book: a file's path, or the URL of a database.
BOOK_VARIABLE: Final = "POSE_FIT_CASE_BOOK"

#: Environment variable with the name of this branch, where several share a book.
BRANCH_VARIABLE: Final = "POSE_FIT_BRANCH"


def branch() -> str:
    """The branch this process serves; empty where there is one only."""
    return os.environ.get(BRANCH_VARIABLE, "").strip()


def book_place() -> str:
    """Where the book lies; by default a file in the user's own data folder."""
    named = os.environ.get(BOOK_VARIABLE)
    if named:
        return named
    data = Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    return str(data / "pose-fit" / "cases.db")


def case_book() -> CaseBook:
    """The open book.

    Raises
    ------
    CaseBookError
        It cannot be opened.
    """
    return _open(book_place())


@st.cache_resource(show_spinner="Opening the case book …")
def _open(place: str) -> CaseBook:
    if "://" not in place:
        Path(place).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    return CaseBook(place)
