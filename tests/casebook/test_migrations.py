"""Old books open with everything in them; the tables are what the migrations make."""

import datetime as dt
import json
import subprocess
import sys
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from pose_fit.casebook import schema
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import CaseContent, PhotoRecord, PicturePoint
from pose_fit.casebook.clue import RemarkClue, TapeClue
from pose_fit.casebook.decision import Overridden
from pose_fit.casebook.events import Received
from pose_fit.casebook.query import CaseQuery
from pose_fit.casebook.tables import METADATA
from pose_fit.errors import CaseBookError
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

AT = dt.datetime(2026, 3, 2, 9, 30, tzinfo=dt.UTC)
#: A case as the first revision wrote it, by hand, so that no present code has a part in it.
INSEAM = {
    "kind": "inseam",
    "length": {
        "mean_mm": 548.5,
        "budget": [{"source": "focal length", "sd_mm": 9.25, "shared": True}],
    },
    "method": "photo",
    "warnings": [{"code": "knees_bent", "message": "A knee looks a little bent."}],
    "retake": ["Take the shoes off."],
}
TAPE = {"length": INSEAM["length"], "method": "tape", "warnings": [], "retake": []}
CONTENT = {
    "label": "Zoë’s Big Day",
    "child": {"age_y": 7.5, "sex": "f", "stature_mm": None},
    "estimate": INSEAM,
    "clues": [
        {"kind": "remark", "text": "Rides a SCOOTER"},
        {"kind": "tape", "readings_mm": [548.0], "care": "hasty", "inseam": TAPE},
    ],
    "photos": [
        {
            "width_px": 3000,
            "height_px": 4000,
            "focal_35mm": 26.0,
            "reshaped": False,
            "taken_on": "2026-02-27",
            "task": {
                "reference": {"kind": "wheel", "size_mm": 500.0, "width_mm": 47.0},
                "stated": {"soles_mm": 12.0},
            },
            "result": INSEAM,
            "points": [{"name": "left_hip", "x_px": 1401.5, "y_px": 2110.25}],
        }
    ],
    "needed_on": "2026-12-24",
    "decision": {
        "verdict": {"kind": "overridden", "inseam_mm": 551.0, "sd_mm": 6.0, "reason": "Taped here"},
        "by": "Ada",
        "at": "2026-03-02T09:30:00+00:00",
    },
}
JPEG = bytes(range(256)) * 40


def _engine(where: str) -> sa.Engine:
    return sa.create_engine(where.replace("postgresql://", "postgresql+psycopg://"))


def _make_first_revision(where: str) -> None:
    engine = _engine(where)
    with engine.begin() as connection:
        schema.upgrade_schema(connection, to="r0001")
        assert schema.revision_of(connection) == "r0001"
        moments = "2026-03-02 09:30:00.000000" if engine.dialect.name == "sqlite" else AT
        connection.execute(
            sa.text(
                "INSERT INTO cases (reply_code, version, state, received_at, changed_at,"
                " waiting_since, label_key, search_text, content)"
                " VALUES ('AB12CD34', 3, 'overridden', :at, :at, :at, 'zoë’s big day',"
                " 'zoë’s big day scooter', :content)"
            ),
            {"at": moments, "content": json.dumps(CONTENT)},
        )
        connection.execute(
            sa.text(
                'INSERT INTO case_events (case_id, version, at, "by", kind, details)'
                " VALUES (1, 1, :at, 'family', 'received', :details)"
            ),
            {"at": moments, "details": json.dumps({"kind": "received", "estimate": INSEAM})},
        )
        connection.execute(
            sa.text("INSERT INTO case_pictures (case_id, place, jpeg) VALUES (1, 0, :jpeg)"),
            {"jpeg": JPEG},
        )
    engine.dispose()


def test_a_book_of_the_first_revision_opens_with_everything_in_it(where):
    _make_first_revision(where)
    with CaseBook(where) as book:
        case = book.case(1)
        length = UncertainLength(548.5, (Contribution("focal length", 9.25, True),))
        assert (case.version, case.state, case.reply_code) == (3, "overridden", "AB12-CD34")
        assert case.received_at == AT
        assert case.pictures == (0,)
        assert book.picture(1) == JPEG
        content = case.content
        assert content.label == "Zoë’s Big Day"
        assert (content.child.age_y, content.child.sex) == (7.5, "f")
        assert content.needed_on == dt.date(2026, 12, 24)
        assert content.estimate.length == length
        assert content.estimate.warnings[0].code == "knees_bent"
        assert content.clues == (
            RemarkClue(text="Rides a SCOOTER"),
            TapeClue(readings_mm=(548.0,), care="hasty", inseam=Inseam(length, "tape")),
        )
        # What nobody said of a photo is unknown, not zero.
        assert content.photos == (
            PhotoRecord(
                width_px=3000,
                height_px=4000,
                focal_35mm=26.0,
                taken_on=dt.date(2026, 2, 27),
                task=PhotoTask(
                    ReferenceRequest(kind="wheel", size_mm=500.0, width_mm=47.0),
                    Stated(soles_mm=12.0),
                ),
                result=content.estimate,
                points=(PicturePoint("left_hip", 1401.5, 2110.25),),
            ),
        )
        assert content.decision.verdict == Overridden(551.0, 6.0, "Taped here")
        [event] = book.history(1)
        assert (event.by, event.at, event.what) == ("family", AT, Received(content.estimate))
        for words in ("zoë’s", "SCOOTER"):
            assert [found.case_id for found in book.find(CaseQuery(text=words))] == [1]
        book.staff.add("Ada", "correct horse battery")
        assert book.receive(CaseContent(estimate=content.estimate), by="family").case_id == 2


def test_tables_are_what_the_migrations_make(where):
    CaseBook(where).close()
    engine = _engine(where)
    with engine.connect() as connection:
        assert schema.revision_of(connection) == schema.NEWEST_REVISION
        differences = compare_metadata(MigrationContext.configure(connection), METADATA)
    engine.dispose()
    assert differences == []


def test_the_newest_revision_is_the_one_that_is_named():
    config = Config()
    config.set_main_option("script_location", str(Path(schema.__file__).parent / "migrations"))
    assert ScriptDirectory.from_config(config).get_heads() == [schema.NEWEST_REVISION]


def test_a_book_of_a_newer_program_is_refused_and_left_alone(where):
    CaseBook(where).close()
    engine = _engine(where)
    with engine.begin() as connection:
        connection.execute(sa.text("UPDATE alembic_version SET version_num = 'r9999'"))
    with pytest.raises(CaseBookError, match=r"'r9999'.*update the program"):
        CaseBook(where)
    with engine.connect() as connection:
        assert schema.revision_of(connection) == "r9999"
    engine.dispose()


def test_a_migration_that_fails_leaves_the_database_as_it_was(where):
    engine = _engine(where)
    with engine.begin() as connection:
        # In the way of one of the last steps.
        connection.execute(sa.text("CREATE TABLE sign_in_failures (bucket INTEGER)"))
    with pytest.raises(CaseBookError, match="sign_in_failures"):
        CaseBook(where)
    with engine.connect() as connection:
        assert schema.revision_of(connection) is None
        assert sa.inspect(connection).get_table_names() == ["sign_in_failures"]
    engine.dispose()


def test_many_programs_open_a_new_book_at_once(where):
    program = (
        "import sys\n"
        "from pose_fit.casebook.book import CaseBook\n"
        "print('ready', flush=True); sys.stdin.readline()\n"
        "with CaseBook(sys.argv[1]) as book: print(book.count())\n"
    )
    programs = [
        subprocess.Popen(
            [sys.executable, "-c", program, where],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for _ in range(4)
    ]
    for started in programs:
        assert started.stdout.readline() == "ready\n"
    for started in programs:
        started.stdin.write("\n")
        started.stdin.flush()
    for started in programs:
        out, error = started.communicate(timeout=120)
        assert (started.returncode, out) == (0, "0\n"), error


def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path):
    path = tmp_path / "notes.txt"
    path.write_text("milk, eggs\n" * 300)
    with pytest.raises(CaseBookError, match="not a database"):
        CaseBook(path)
    assert path.read_text() == "milk, eggs\n" * 300
