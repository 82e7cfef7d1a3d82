"""Deleting for good: not only the rows, but what a database leaves behind of them.

**SQLite.** ``secure_delete`` overwrites what is deleted with zeros. The write-ahead log still
holds earlier versions of the pages, so it is written back and cut to nothing; ``VACUUM`` then
builds the file anew without the gaps in which moved bytes can linger, and the log is cut again.

**PostgreSQL.** A deleted row only becomes invisible (MVCC); its bytes stay in the table's file
until the space is used again. ``VACUUM (FULL)`` writes the tables of the book anew and drops the
old files; only a table's owner may do it, and it waits for, and briefly stops, everybody else on
those tables. What it cannot reach is the server's own: the write-ahead log (``pg_wal``), whose old
segments a checkpoint removes where the administrator has set ``wal_recycle = off``, and otherwise
keeps until they are written over; archived logs, replicas that lag, base backups, and statement
logs if the administrator writes values into them. Columns that hold what families wrote take no part in the
planner's statistics, which would otherwise keep samples of them.

Neither reaches backups of the file system, nor what a disk keeps of blocks that were freed.
"""

import datetime as dt
import time
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal

from sqlalchemy import Connection, select

from pose_fit.casebook.database import BUSY_TIMEOUT_S, Database
from pose_fit.casebook.tables import (
    CASES,
    DRAFTS,
    ERASURES,
    EVENTS,
    PICTURES,
    SHARED_ANSWERS,
    SUBMISSIONS,
)
from pose_fit.errors import CaseBookError

__all__ = ["Erasure", "erase", "finish_erasing", "note_erasure"]

#: Tables that hold anything of a family, by what was deleted.
_OF_CASE: Final = tuple(table.name for table in (CASES, EVENTS, PICTURES, SUBMISSIONS, DRAFTS))
_TABLES: Final = {
    "case": _OF_CASE,
    "picture": _OF_CASE,
    "share": (SHARED_ANSWERS.name,),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Erasure:
    """What a deletion did.

    Attributes
    ----------
    case_ids
        Cases that are gone; numbers that named no case are left out.
    remnant
        Why the files behind the database may still hold something of them, and what happens
        next. Empty where they hold nothing any more, as far as the book can reach.
    """

    case_ids: tuple[int, ...]
    remnant: str = ""


def erase(database: Database, case_ids: Sequence[int], *, by: str, at: dt.datetime) -> Erasure:
    """Delete cases with history, drafts and pictures, then clean the files; see the module.

    Deleting many in one call cleans once. The book remembers numbers, who and when, nothing else.
    """
    with database.writing() as connection:
        wanted = select(CASES.c.case_id).where(CASES.c.case_id.in_(case_ids)).with_for_update()
        found = connection.execute(wanted).scalars().all()
        if found:
            connection.execute(CASES.delete().where(CASES.c.case_id.in_(found)))
            note_erasure(connection, found, "case", by=by, at=at)
    remnant = finish_erasing(database, at=at)
    return Erasure(case_ids=tuple(sorted(found)), remnant=remnant)


def note_erasure(
    connection: Connection,
    case_ids: Sequence[int],
    what: Literal["case", "picture", "share"],
    *,
    by: str,
    at: dt.datetime,
) -> None:
    """Remember, in the same transaction, that the files must be cleaned."""
    common = {"what": what, "at": at, "by": by}
    connection.execute(ERASURES.insert(), [{"case_id": each, **common} for each in case_ids])


def finish_erasing(database: Database, *, at: dt.datetime) -> str:
    """Clean up after deletions that were not cleaned up yet; what hinders it, or nothing."""
    waiting = ERASURES.c.cleaned_at.is_(None)
    with database.reading() as connection:
        wanted = select(ERASURES.c.erasure_id, ERASURES.c.what).where(waiting)
        noted = {row.erasure_id: row.what for row in connection.execute(wanted)}
    if not noted:
        return ""
    tables = dict.fromkeys(table for what in noted.values() for table in _TABLES[what])
    try:
        remnant = (
            _clean_sqlite(database)
            if database.is_sqlite
            else _clean_postgresql(database, tuple(tables))
        )
    except CaseBookError as fault:
        remnant = str(fault.__cause__ or fault).strip()
    if remnant:
        return (
            f"the cases are deleted, but the database's files may still hold traces ({remnant});"
            " the next deletion, or opening the book again, tries once more"
        )
    with database.writing() as connection:
        done = ERASURES.update().where(ERASURES.c.erasure_id.in_(noted)).values(cleaned_at=at)
        connection.execute(done)
    return ""


def _clean_sqlite(database: Database) -> str:
    with database.administering() as cursor:
        # A copy of the whole book in memory could be too large; a file is removed at once.
        cursor.execute("PRAGMA temp_store=FILE")
        if not _cut_log(cursor):
            return "somebody is reading an older state of the book"
        cursor.execute("VACUUM")
        if not _cut_log(cursor):
            return "somebody is reading an older state of the book"
    return ""


def _cut_log(cursor: Any) -> bool:
    last_try_s = time.monotonic() + BUSY_TIMEOUT_S
    while True:
        busy, _, _ = cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        if not busy or time.monotonic() > last_try_s:
            return not busy
        time.sleep(0.05)


def _clean_postgresql(database: Database, tables: Sequence[str]) -> str:
    with database.administering() as cursor:
        cursor.execute("SELECT set_config('lock_timeout', %s, false)", (f"{BUSY_TIMEOUT_S:.0f}s",))
        for table in tables:
            earlier = _file_number(cursor, table)
            cursor.execute(f"VACUUM (FULL) {table}")
            # Without permission the server only warns and leaves the file as it is.
            if _file_number(cursor, table) == earlier:
                return f"this account may not VACUUM the table {table}"
    return ""


def _file_number(cursor: Any, table: str) -> int:
    number: int = cursor.execute("SELECT pg_relation_filenode(%s)", (table,)).fetchone()[0]
    return number
