"""Shared answers: shown by every process, ended by time or by a press, and then gone to the last byte."""

import datetime as dt
import sqlite3
from pathlib import Path

import pytest

from pose_fit.casebook import shared_answers
from pose_fit.casebook.book import CaseBook
from pose_fit.errors import CaseBookError

SECRET, OTHER = "s" * 22, "o" * 22
TRACE = "Heron 20 for a child of 571.2357 mm"
WEEK = dt.timedelta(days=7)


def test_what_one_process_keeps_another_shows_until_it_ends(where, clock):
    with CaseBook(where, clock=clock) as one, CaseBook(where, clock=clock) as other:
        ends_at = one.shared.keep(SECRET, TRACE, kept=WEEK)
        assert ends_at == clock.now + WEEK
        assert other.shared.answer(SECRET) == TRACE
        assert other.shared.answer(OTHER) is None
        other.shared.take_back(SECRET)
        assert one.shared.answer(SECRET) is None
        one.shared.keep(SECRET, TRACE, kept=WEEK)
        clock.now += WEEK
        assert other.shared.answer(SECRET) is None
        clock.now -= WEEK
        assert one.shared.answer(SECRET) is None


def test_a_short_secret_is_none(where):
    with CaseBook(where) as book, pytest.raises(CaseBookError, match="16 characters"):
        book.shared.keep("short", TRACE, kept=WEEK)


def test_the_oldest_make_room(where, clock, monkeypatch):
    monkeypatch.setattr(shared_answers, "MOST_SHARED", 3)
    with CaseBook(where, clock=clock) as book:
        for number in range(5):
            book.shared.keep(f"{number:022d}", str(number), kept=WEEK)
            clock.now += dt.timedelta(minutes=1)
        shown = [book.shared.answer(f"{number:022d}") for number in range(5)]
    assert shown == [None, None, "2", "3", "4"]


def is_left(folder: Path) -> bool:
    return any(TRACE.encode() in file.read_bytes() for file in folder.rglob("*") if file.is_file())


@pytest.mark.parametrize("ends", ["taken back", "opened too late", "book opened later", "next one"])
def test_sqlite_files_hold_nothing_of_an_ended_answer(tmp_path, clock, ends):
    place = tmp_path / "book.db"
    with CaseBook(place, clock=clock) as book:
        book.shared.keep(OTHER, "another answer", kept=2 * WEEK)
        book.shared.keep(SECRET, TRACE, kept=WEEK)
        assert is_left(tmp_path)
        if ends == "taken back":
            book.shared.take_back(SECRET)
        else:
            clock.now += WEEK
            assert is_left(tmp_path)
        if ends == "opened too late":
            assert book.shared.answer(SECRET) is None
        elif ends == "book opened later":
            CaseBook(place, clock=clock).close()
        elif ends == "next one":
            book.shared.keep("n" * 22, "a new answer", kept=WEEK)
        assert not is_left(tmp_path)
        assert book.shared.answer(OTHER) == "another answer"
    plain = sqlite3.connect(place)
    assert plain.execute("SELECT what, cleaned_at IS NULL FROM erasures").fetchall() == [
        ("share", 0)
    ]
    plain.close()


def test_postgresql_tables_hold_nothing_of_an_ended_answer(postgres, postgres_database):
    with CaseBook(postgres.url(postgres_database)) as book:
        book.shared.keep(OTHER, "another answer", kept=WEEK)
        book.shared.keep(SECRET, TRACE, kept=WEEK)
        with postgres.admin(postgres_database) as admin:
            admin.execute("ANALYZE")
            admin.execute("CHECKPOINT")
            wanted = "SELECT oid FROM pg_database WHERE datname = current_database()"
            folder = postgres.data / "base" / str(admin.execute(wanted).fetchone()[0])
            assert is_left(folder)
            book.shared.take_back(SECRET)
            admin.execute("CHECKPOINT")
        assert not is_left(folder)
        assert book.shared.answer(OTHER) == "another answer"
