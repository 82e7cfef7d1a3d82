"""Rows of the case book as our dataclasses, and the statements that write them.

Nothing of SQLAlchemy leaves this module and the ones that hold a connection.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, RowMapping, Select, select, text

from pose_fit.casebook.case import Case, CaseContent
from pose_fit.casebook.codec import action_from, content_from, happening_from, kind_of, plain
from pose_fit.casebook.codes import new_code, shown_code, typed_code
from pose_fit.casebook.erase import note_erasure
from pose_fit.casebook.events import Action, CaseEvent, Draft, Happening, PhotoReceived, after
from pose_fit.casebook.kept_picture import KeptPicture
from pose_fit.casebook.tables import CASES, DRAFTS, EVENTS, PICTURES, SUBMISSIONS
from pose_fit.casebook.typed_text import folded_text
from pose_fit.errors import CaseBookError

__all__ = [
    "case_of",
    "cases_of",
    "cases_wanted",
    "coded_case",
    "draft_of",
    "event_of",
    "needed_case",
    "note_submission",
    "remove_draft",
    "remove_pictures",
    "sent_before",
    "write_case",
    "write_change",
    "write_draft",
    "write_events",
    "write_pictures",
]


def cases_wanted(*, hold: bool = False) -> Select[Any]:
    """All cases; with ``hold`` nobody else changes or deletes them until the transaction ends.

    SQLite ignores the hold: a writing transaction has the whole book to itself there.
    """
    wanted = select(CASES)
    return wanted.with_for_update(of=CASES) if hold else wanted


def cases_of(connection: Connection, wanted: Select[Any]) -> list[Case]:
    """The cases that were asked for with :func:`cases_wanted`."""
    rows = connection.execute(wanted).mappings().all()
    ids = [row["case_id"] for row in rows]
    kept = select(PICTURES.c.case_id, PICTURES.c.place).where(PICTURES.c.case_id.in_(ids))
    places = defaultdict(list)
    for case_id, place in connection.execute(kept.order_by(PICTURES.c.place)):
        places[case_id].append(place)
    return [case_of(row, tuple(places[row["case_id"]])) for row in rows]


def case_of(row: RowMapping, pictures: tuple[int, ...]) -> Case:
    """A row of the cases, and the places of its kept pictures."""
    return Case(
        case_id=row["case_id"],
        reply_code=shown_code(row["reply_code"]),
        version=row["version"],
        content=content_from(row["content"]),
        received_at=row["received_at"],
        changed_at=row["changed_at"],
        waiting_since=row["waiting_since"],
        pictures=pictures,
    )


def needed_case(connection: Connection, case_id: int, *, hold: bool = False) -> Case:
    """The case with this number.

    Raises
    ------
    CaseBookError
        There is none.
    """
    found = cases_of(connection, cases_wanted(hold=hold).where(CASES.c.case_id == case_id))
    if not found:
        raise CaseBookError(f"there is no case {case_id}, or it was deleted")
    return found[0]


def coded_case(connection: Connection, reply_code: str, *, hold: bool = False) -> Case:
    """The case with this reply code, as somebody typed it.

    Raises
    ------
    CaseBookError
        There is none.
    """
    code = typed_code(reply_code)
    found = cases_of(connection, cases_wanted(hold=hold).where(CASES.c.reply_code == code))
    if not found:
        raise CaseBookError("No case has this reply code. Check its letters and digits.")
    return found[0]


def sent_before(connection: Connection, submission: str) -> Case | None:
    """The case that a sending of this name made or changed; None if there was no such sending.

    Until the transaction ends, another one that asks for the same name waits.
    """
    if not submission:
        return None
    if connection.dialect.name == "postgresql":
        wait = text("SELECT pg_advisory_xact_lock(hashtextextended(:name, 0))")
        connection.execute(wait, {"name": submission})
    wanted = select(SUBMISSIONS.c.case_id).where(SUBMISSIONS.c.name == submission)
    case_id = connection.execute(wanted).scalar_one_or_none()
    return None if case_id is None else needed_case(connection, case_id)


def note_submission(
    connection: Connection, case_id: int, submission: str, *, at: dt.datetime
) -> None:
    """Remember the name of a sending, so that the same one changes nothing twice."""
    if submission:
        values = {"name": submission, "case_id": case_id, "at": at}
        connection.execute(SUBMISSIONS.insert().values(values))


def event_of(row: RowMapping) -> CaseEvent:
    """A row of the history."""
    return CaseEvent(
        case_id=row["case_id"],
        version=row["version"],
        at=row["at"],
        by=row["by"],
        what=happening_from(row["details"]),
    )


def draft_of(row: RowMapping) -> Draft:
    """A row of the drafts."""
    return Draft(
        case_id=row["case_id"],
        based_on=row["based_on"],
        by=row["by"],
        kept_at=row["kept_at"],
        action=action_from(row["action"]),
    )


def write_case(
    connection: Connection, content: CaseContent, *, at: dt.datetime, submission: str = ""
) -> int:
    """A new case; its number comes back."""
    values = {
        "reply_code": new_code(),
        "version": 1,
        "received_at": at,
        "changed_at": at,
        "waiting_since": at,
    } | _content_values(content)
    inserted = connection.execute(CASES.insert().values(values).returning(CASES.c.case_id))
    case_id: int = inserted.scalar_one()
    note_submission(connection, case_id, submission, at=at)
    return case_id


def write_change(
    connection: Connection,
    case: Case,
    what: Action | PhotoReceived,
    *,
    by: str,
    at: dt.datetime,
) -> bool:
    """Change the case and its history where it still is at the version read; True if it was."""
    content = after(case.content, what, by=by, at=at)
    values = {"version": case.version + 1, "changed_at": at} | _content_values(content)
    if content.state == "waiting" and case.state != "waiting":
        values["waiting_since"] = at
    unchanged = (CASES.c.case_id == case.case_id) & (CASES.c.version == case.version)
    changed = connection.execute(CASES.update().where(unchanged).values(values)).rowcount == 1
    if changed:
        write_events(connection, [(case.case_id, case.version + 1)], what, by=by, at=at)
    return changed


def _content_values(content: CaseContent) -> dict[str, Any]:
    return {
        "state": content.state,
        "label_key": folded_text(content.label),
        "content": plain(content),
        "search_text": folded_text("\n".join(content.words)),
        "taped_on": None if content.shop_tape is None else content.shop_tape.day,
        "child_code": content.child_code or None,
    }


def write_events(
    connection: Connection,
    versions: Sequence[tuple[int, int]],
    what: Happening,
    *,
    by: str,
    at: dt.datetime,
) -> None:
    """The same line in the history of each case, given by its number and version."""
    common = {"at": at, "by": by, "kind": kind_of(what), "details": plain(what, union=Happening)}
    lines = [{"case_id": case_id, "version": version, **common} for case_id, version in versions]
    if lines:
        connection.execute(EVENTS.insert(), lines)


def write_draft(connection: Connection, draft: Draft) -> None:
    """Keep a draft in place of the same person's earlier one; the case must be held."""
    remove_draft(connection, draft.case_id, by=draft.by)
    connection.execute(
        DRAFTS.insert().values(
            case_id=draft.case_id,
            by=draft.by,
            based_on=draft.based_on,
            kept_at=draft.kept_at,
            action=plain(draft.action, union=Action),
        )
    )


def remove_draft(connection: Connection, case_id: int, *, by: str) -> None:
    """Throw a draft away if there is one."""
    connection.execute(DRAFTS.delete().where(DRAFTS.c.case_id == case_id, DRAFTS.c.by == by))


def write_pictures(
    connection: Connection, case_id: int, kept: Sequence[KeptPicture | None], *, first: int
) -> None:
    """Keep pictures of the case's photos from place ``first`` on."""
    rows = [
        {"case_id": case_id, "place": place, "jpeg": picture.jpeg, "body": picture.body}
        for place, picture in enumerate(kept, start=first)
        if picture is not None
    ]
    if rows:
        connection.execute(PICTURES.insert(), rows)


def remove_pictures(
    connection: Connection, case_id: int, place: int | None, *, by: str, at: dt.datetime
) -> None:
    """Remove the picture at a place, or all of a case, and note that they were erased."""
    wanted = PICTURES.delete().where(PICTURES.c.case_id == case_id)
    if place is not None:
        wanted = wanted.where(PICTURES.c.place == place)
    if connection.execute(wanted).rowcount:
        note_erasure(connection, [case_id], "picture", by=by, at=at)
