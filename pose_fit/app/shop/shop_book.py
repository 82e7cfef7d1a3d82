"""The shop's case book: one for the whole process, at the place the shop names."""

import os
from pathlib import Path
from typing import Final

import streamlit as st

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError

__all__ = ["BOOK_VARIABLE", "BRANCH_VARIABLE", "book_place", "branch", "case_book", "shop_bicycles"]

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


def shop_bicycles() -> tuple[Bicycle, ...]:
    """The shop's own bicycles; empty where there is no list yet, or no book."""
    place = book_place()
    if "://" not in place and not Path(place).exists():
        # Looking at bicycles makes no book.
        return ()
    try:
        book = case_book()
        change_id = book.stock.newest_change_id()
    except CaseBookError:
        return ()
    return () if change_id is None else _bicycles(place, change_id)


@st.cache_data(show_spinner=False, max_entries=2)
def _bicycles(place: str, change_id: int) -> tuple[Bicycle, ...]:
    state = case_book().stock.state()
    return () if state is None else state.bicycles


@st.cache_resource(show_spinner="Opening the case book …")
def _open(place: str) -> CaseBook:
    if "://" not in place:
        Path(place).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    return CaseBook(place)
