"""Answers that a family shares by a link: kept under the digest of its secret, until it ends."""

import datetime as dt
import hashlib
from collections.abc import Callable
from typing import Any, Final

from sqlalchemy import ColumnElement, Connection, func, select

from pose_fit.casebook.database import Database
from pose_fit.casebook.erase import finish_erasing, note_erasure
from pose_fit.casebook.tables import SHARED_ANSWERS
from pose_fit.errors import CaseBookError

__all__ = ["MOST_SHARED", "SharedAnswers"]

#: The oldest make room for more, so that nobody fills the disk.
MOST_SHARED: Final = 2000
#: Shorter is no secret.
_LEAST_LENGTH: Final = 16


class SharedAnswers:
    """Shared answers of every branch; one that ended or was taken back leaves no byte behind."""

    def __init__(self, database: Database, *, clock: Callable[[], dt.datetime]) -> None:
        self._database: Final = database
        self._clock: Final = clock

    def keep(self, secret: str, answer: str, *, kept: dt.timedelta) -> dt.datetime:
        """Show an answer under this secret from now on; when it ends."""
        if len(secret) < _LEAST_LENGTH:
            raise CaseBookError(f"wanted a secret of {_LEAST_LENGTH} characters or more")
        at = self._clock()
        values = {"secret_hash": _digest(secret), "ends_at": at + kept, "answer": answer}
        with self._database.writing() as connection:
            connection.execute(SHARED_ANSWERS.insert().values(values))
            is_any_gone = self._drop(connection, SHARED_ANSWERS.c.ends_at <= at, at)
            is_any_gone |= self._drop(connection, _beyond_most(connection), at)
        if is_any_gone:
            finish_erasing(self._database, at=at)
        return at + kept

    def answer(self, secret: str) -> str | None:
        """What is shown under this secret; None where there is nothing, or nothing any more."""
        wanted = select(SHARED_ANSWERS.c.answer, SHARED_ANSWERS.c.ends_at).where(_is_of(secret))
        with self._database.reading() as connection:
            row = connection.execute(wanted).one_or_none()
        if row is None:
            return None
        if row.ends_at <= self._clock():
            self.take_back(secret)
            return None
        found: str = row.answer
        return found

    def take_back(self, secret: str) -> None:
        """Show nothing under this secret from now on; nothing there is no fault."""
        at = self._clock()
        with self._database.writing() as connection:
            is_any_gone = self._drop(connection, _is_of(secret), at)
        if is_any_gone:
            finish_erasing(self._database, at=at)

    def drop_ended(self) -> None:
        """Delete what has ended, also where nobody looked at it since."""
        at = self._clock()
        ended = SHARED_ANSWERS.c.ends_at <= at
        with self._database.reading() as connection:
            count = select(func.count()).select_from(SHARED_ANSWERS).where(ended)
            if not connection.execute(count).scalar_one():
                return
        with self._database.writing() as connection:
            self._drop(connection, ended, at)
        finish_erasing(self._database, at=at)

    def _drop(self, connection: Connection, which: ColumnElement[bool], at: dt.datetime) -> bool:
        gone = connection.execute(SHARED_ANSWERS.delete().where(which)).rowcount
        if gone:
            note_erasure(connection, [0], "share", by="family", at=at)
        return gone > 0


def _is_of(secret: str) -> ColumnElement[bool]:
    return SHARED_ANSWERS.c.secret_hash == _digest(secret)


def _beyond_most(connection: Connection) -> ColumnElement[bool]:
    count = connection.execute(select(func.count()).select_from(SHARED_ANSWERS)).scalar_one()
    oldest: Any = (
        select(SHARED_ANSWERS.c.secret_hash)
        .order_by(SHARED_ANSWERS.c.ends_at)
        .limit(max(count - MOST_SHARED, 0))
    )
    return SHARED_ANSWERS.c.secret_hash.in_(connection.execute(oldest).scalars().all())


def _digest(secret: str) -> str:
    return hashlib.sha256(f"share\n{secret}".encode()).hexdigest()
