"""After a deletion the raw files hold nothing of the case."""

import os
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import pytest
import sqlalchemy as sa

from pose_fit.anthropometry.child import Child
from pose_fit.body.body import Body
from pose_fit.casebook.body_record import bytes_of_body
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.conflict import CaseConflict
from pose_fit.casebook.decision import Accepted, Overridden, PhotoAsked
from pose_fit.casebook.events import (
    ClueAdded,
    DetailsCorrected,
    Exported,
    PhotoReceived,
    PictureRemoved,
    Reopened,
    TapeTaken,
)
from pose_fit.casebook.kept_picture import Picture
from pose_fit.casebook.query import CaseQuery
from pose_fit.casebook.shop_tape import ShopTape
from pose_fit.errors import CaseBookError
from pose_fit.inseam.inseam import Inseam
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask

OTHER = Inseam.stated(570.0, 9.0)
PHOTO = PhotoRecord(
    width_px=200, height_px=300, task=PhotoTask(ReferenceRequest(kind="letter")), result=OTHER
)
NAME = "Quillon Ampersand-Vexley"
#: The name as typed, as searched, and as JSON writes it; a remark, a reason and a draft.
TRACES = tuple(
    text.encode()
    for text in (
        NAME,
        NAME.casefold(),
        "zebra pyjamas",
        "because of the walrus",
        "draft of a heron",
        "sparrow-of-today",
        "Taped-by-a-Thrush",
        "Wagtail 20",
        "W1DGE0N7",
        # What the tape read and what staff set, as the pair and the history keep them.
        "571.2357",
        "560.8642",
        "lapwing letter",
        "reopened by a magpie",
        "noted by a nuthatch",
    )
)
STOCK = "name,tyre,standover_mm\nAlder 16,47-305,445\nBirch 20,47-406,533\n"
#: Short enough that many pieces lie within one page of either database, long enough to be rare.
_PIECE = 40


def _fill(book: CaseBook, picture: np.ndarray, body: Body | None = None) -> tuple[int, bytes]:
    """A case with traces in every table; its number and its JPEG."""
    content = CaseContent(estimate=OTHER, label=NAME, photos=(PHOTO,), child_code="W1DGE0N7")
    case = book.receive(
        content, by="family", pictures=[Picture(picture, body)], submission="sparrow-of-today"
    )
    remarked = book.act(case, ClueAdded(RemarkClue(text="zebra pyjamas"), OTHER), by="Ada")
    with pytest.raises(CaseConflict):
        book.act(case, DetailsCorrected("draft of a heron", Child()), by="Bo")
    tape = ShopTape(
        readings_mm=(571.2357,),
        taken_by="Taped-by-a-Thrush",
        day=case.received_at.date(),
        touched=False,
        bicycle="Wagtail 20",
    )
    taped = book.act(remarked, TapeTaken(tape), by="Ada")
    set_by_staff = Overridden(560.8642, 9.0, "because of the walrus")
    answered = book.act(taped, set_by_staff, by="Ada")
    again = book.act(answered, Reopened("reopened by a magpie"), by="Ada")
    asked = book.act(again, PhotoAsked("lapwing letter"), by="Ada")
    # A bicycle is measured meanwhile: the stock's list is written between the case's rows.
    state = book.stock.state()
    based_on = None if state is None else state.change_id
    book.stock.replace(STOCK, by="Ada", based_on=based_on)
    # The newer photo sets the first one aside; both pictures are kept.
    book.receive_photo(
        asked.reply_code,
        PhotoReceived(OTHER, (PHOTO,)),
        by="family",
        pictures=[Picture(picture, body)],
        submission="second-sparrow",
    )
    newest = book.act(book.case(case.case_id), Accepted("noted by a nuthatch"), by="Ada")
    assert [pair.readings_mm for pair in book.pairs() if pair.name == f"case {case.case_id}"]
    assert newest.pictures == (0, 1)
    book.note_export(case.case_id, Exported("fit card"), by="Ada")
    return case.case_id, book.picture(case.case_id)


def _files(*folders: Path) -> list[bytes]:
    """What the files below hold; of equal ones, as a server's templates are, one is enough."""
    paths = (path for folder in folders for path in folder.rglob("*") if path.is_file())
    return list({path.read_bytes() for path in paths})


def _traces(files: list[bytes]) -> set[bytes]:
    return {trace for trace in TRACES if any(trace in file for file in files)}


def _pieces(jpeg: bytes, files: list[bytes]) -> float:
    """Share of the picture's pieces that are found, its standard tables at the front left out."""
    starts = np.linspace(700, len(jpeg) - _PIECE, 150).astype(int)
    pieces = [jpeg[start : start + _PIECE] for start in starts]
    return sum(any(piece in file for file in files) for piece in pieces) / len(pieces)


def _bystanders(book: CaseBook, count: int) -> list[int]:
    """Other cases around, so that pages are shared, split and joined."""
    noise = np.random.default_rng(11)
    return [
        book.receive(
            CaseContent(estimate=OTHER, label=f"other {number}", photos=(PHOTO,)),
            by="family",
            pictures=[Picture(noise.integers(0, 256, (60, 40 + number, 3), dtype=np.uint8))],
        ).case_id
        for number in range(count)
    ]


def test_sqlite_files_hold_nothing_after_a_deletion(tmp_path, picture, body, monkeypatch):
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    for variable in ("TMPDIR", "SQLITE_TMPDIR"):
        monkeypatch.setenv(variable, str(temporary))
    monkeypatch.setattr(tempfile, "tempdir", None)
    with CaseBook(tmp_path / "book.db") as book:
        others = _bystanders(book, 8)
        case_id, jpeg = _fill(book, picture, body)
        others += _bystanders(book, 8)
        seen = bytes_of_body(body)
        before = _files(tmp_path)
        assert _traces(before) == set(TRACES)
        assert min(_pieces(jpeg, before), _pieces(seen, before)) > 0.9
        erasure = book.delete(case_id, by="Ada")
        assert (erasure.case_ids, erasure.remnant) == ((case_id,), "")
        # The book is still open: no last writing back at the end helps.
        after = _files(tmp_path)
        assert _traces(after) == set()
        assert _pieces(jpeg, after) == _pieces(seen, after) == 0
        assert {case.case_id for case in book.find(limit=50)} == set(others)
        assert book.pairs() == book.cases_of_child("W1DGE0N7") == ()
        assert [bicycle.name for bicycle in book.stock.state().bicycles] == ["Alder 16", "Birch 20"]
        assert all(book.picture(other) for other in others)
    assert _traces(_files(tmp_path)) == set()


def test_without_care_the_same_search_finds_the_case(tmp_path, picture):
    """What a plain deletion leaves: the search of the other tests is able to find it."""
    with CaseBook(tmp_path / "book.db") as book:
        case_id, jpeg = _fill(book, picture)
    plain = sqlite3.connect(tmp_path / "book.db")
    plain.execute("PRAGMA secure_delete=OFF")
    plain.execute("PRAGMA foreign_keys=ON")
    with plain:
        plain.execute("DELETE FROM cases WHERE case_id = ?", (case_id,))
    plain.close()
    left = _files(tmp_path)
    assert _traces(left)
    assert _pieces(jpeg, left) > 0.9


def test_postgresql_tables_hold_nothing_after_a_deletion(
    postgres, postgres_database, picture, body
):
    with CaseBook(postgres.url(postgres_database)) as book:
        others = _bystanders(book, 8)
        case_id, jpeg = _fill(book, picture, body)
        seen = bytes_of_body(body)
        with postgres.admin(postgres_database) as admin:
            admin.execute("ANALYZE")
            admin.execute("CHECKPOINT")
            wanted = "SELECT oid FROM pg_database WHERE datname = current_database()"
            folder = postgres.data / "base" / str(admin.execute(wanted).fetchone()[0])
        before = _files(folder)
        assert _traces(before) == set(TRACES)
        assert min(_pieces(jpeg, before), _pieces(seen, before)) > 0.9
        assert book.delete(case_id, by="Ada").remnant == ""
        with postgres.admin() as admin:
            admin.execute("CHECKPOINT")
        # Everything but the server's write-ahead log, which the docstring speaks of.
        after = _files(folder, postgres.data / "global")
        assert _traces(after) == set()
        assert _pieces(jpeg, after) == _pieces(seen, after) == 0
        # And that log too, once the administrator's checkpoints have dropped its old segments.
        assert _traces(_files(postgres.data)) != set()
        with postgres.admin() as admin:
            admin.execute("SELECT pg_switch_wal()")
            admin.execute("CHECKPOINT")
            admin.execute("CHECKPOINT")
        after = _files(postgres.data, postgres.folder)
        assert _traces(after) == set()
        assert _pieces(jpeg, after) == _pieces(seen, after) == 0
        assert {case.case_id for case in book.find(limit=50)} == set(others)


def test_planner_statistics_hold_no_sample_of_what_families_wrote(postgres, postgres_database):
    with CaseBook(postgres.url(postgres_database)) as book:
        for number in range(20):
            content = CaseContent(estimate=OTHER, label=NAME, child_code=f"W1DGE0N{number % 4}")
            book.receive(content, by="family", submission=f"sparrow {number}")
    with postgres.admin(postgres_database) as admin:
        admin.execute("ANALYZE")
        rows = admin.execute(
            "SELECT attname, most_common_vals::text || histogram_bounds::text FROM pg_stats"
            " WHERE tablename LIKE 'case%' OR tablename = 'submissions'"
        ).fetchall()
    assert {name for name, _ in rows} >= {"state", "version"}
    private = {"label_key", "search_text", "content", "details", "reply_code", "child_code", "name"}
    assert {name for name, _ in rows} & private == set()


def test_an_account_that_may_not_vacuum_is_told(postgres, postgres_database):
    """Tables owned by somebody else: the rows go, the answer says what may be left."""
    with CaseBook(postgres.url(postgres_database)) as book:
        case_id = book.receive(CaseContent(estimate=OTHER, label=NAME), by="family").case_id
    with postgres.admin(postgres_database) as admin:
        admin.execute(f"ALTER DATABASE {postgres_database} OWNER TO postgres")
        for table in ("cases", "case_events", "case_pictures", "submissions", "case_drafts"):
            admin.execute(f"ALTER TABLE {table} OWNER TO postgres")
            admin.execute(f"GRANT ALL ON {table} TO shop")
    with CaseBook(postgres.url(postgres_database)) as book:
        erasure = book.delete(case_id, by="Ada")
        assert erasure.remnant
        assert "may not VACUUM the table cases" in erasure.remnant
        assert book.count() == 0


def test_a_picture_that_was_removed_leaves_no_trace_either(tmp_path, picture):
    with CaseBook(tmp_path / "book.db") as book:
        content = CaseContent(estimate=OTHER, photos=(PHOTO,))
        case = book.receive(content, by="family", pictures=[Picture(picture)])
        jpeg = book.picture(case.case_id)
        assert _pieces(jpeg, _files(tmp_path)) > 0.9
        case = book.act(case, PictureRemoved(), by="Ada")
        assert _pieces(jpeg, _files(tmp_path)) == 0
        again = book.receive(content, by="family", pictures=[Picture(picture)])
        book.receive_photo(
            again.reply_code,
            PhotoReceived(OTHER, (PHOTO,)),
            by="family",
            pictures=[Picture(picture)],
        )
        assert book.delete(again.case_id, by="Ada").remnant == ""
        assert _pieces(jpeg, _files(tmp_path)) == 0


def test_a_deletion_cut_short_is_finished_when_the_book_opens(tmp_path, picture):
    """The program dies between the deletion and the cleaning."""
    with CaseBook(tmp_path / "book.db") as book:
        case_id, jpeg = _fill(book, picture)
    program = (
        "import os, sys\n"
        "from pose_fit.casebook import erase\n"
        "from pose_fit.casebook.book import CaseBook\n"
        "erase._clean_sqlite = lambda database: os._exit(9)\n"
        "CaseBook(sys.argv[1]).delete(int(sys.argv[2]), by='Ada')\n"
    )
    where = str(tmp_path / "book.db")
    died = subprocess.run([sys.executable, "-c", program, where, str(case_id)], check=False)
    assert died.returncode == 9
    assert _traces(_files(tmp_path)) == set(TRACES)
    with CaseBook(where) as book:
        assert book.count() == 0
        files = _files(tmp_path)
        assert _traces(files) == set()
        assert _pieces(jpeg, files) == 0


def test_a_reader_who_will_not_let_go_is_named_and_the_next_deletion_cleans(
    tmp_path, picture, monkeypatch
):
    monkeypatch.setattr("pose_fit.casebook.erase.BUSY_TIMEOUT_S", 0.2)
    monkeypatch.setattr("pose_fit.casebook.database.BUSY_TIMEOUT_S", 0.2)
    with CaseBook(tmp_path / "book.db") as book:
        first, jpeg = _fill(book, picture)
        second = book.receive(CaseContent(estimate=OTHER), by="family").case_id
        reader = sqlite3.connect(tmp_path / "book.db", isolation_level=None)
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM cases").fetchone()
        erasure = book.delete(first, by="Ada")
        assert (bool(erasure.remnant), erasure.case_ids) == (True, (first,))
        assert "reading" in erasure.remnant
        reader.close()
        assert book.delete(second, by="Ada").remnant == ""
        files = _files(tmp_path)
        assert _traces(files) == set()
        assert _pieces(jpeg, files) == 0


def test_deleting_takes_everything_of_the_case_and_nothing_else(book, where, picture):
    case_id, _ = _fill(book, picture)
    other = book.receive(CaseContent(estimate=OTHER), by="family").case_id
    assert book.delete(case_id, 12345, by="Ada").case_ids == (case_id,)
    assert book.history(case_id) == ()
    assert book.picture(case_id) is None
    assert book.draft(case_id, by="Bo") is None
    assert book.find(CaseQuery(text="Quillon")) == ()
    with pytest.raises(CaseBookError, match="deleted"):
        book.case(case_id)
    assert book.act(book.case(other), Accepted(), by="Ada").state == "accepted"
    engine = sa.create_engine(where.replace("postgresql://", "postgresql+psycopg://"))
    with engine.connect() as connection:
        rows = connection.execute(sa.text('SELECT case_id, what, "by" FROM erasures')).all()
    engine.dispose()
    assert [tuple(row) for row in rows] == [(case_id, "case", "Ada")]


def test_a_number_is_never_given_again(book):
    case_id = book.receive(CaseContent(estimate=OTHER), by="family").case_id
    book.delete(case_id, by="Ada")
    assert book.receive(CaseContent(estimate=OTHER), by="family").case_id > case_id


def test_deleting_nothing_is_no_fault(book):
    assert book.delete(5, by="Ada").case_ids == ()


@pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")
def test_only_the_owner_may_read_the_files(tmp_path):
    with CaseBook(tmp_path / "book.db") as book:
        book.receive(CaseContent(estimate=OTHER), by="family")
        modes = {path.stat().st_mode & 0o077 for path in tmp_path.iterdir()}
    assert modes == {0}
