"""Who is signed in at which browser: kept in the book, so that a reload or another branch knows it.

The browser holds a random secret in a cookie; the book holds only its digest. Signing out removes
the digest; a working day ends it, and so does half an hour without a touch.
"""

import datetime as dt
import hashlib
from collections.abc import Callable
from typing import Final

from sqlalchemy import select

from pose_fit.casebook.database import Database
from pose_fit.casebook.staff_accounts import StaffMember
from pose_fit.casebook.tables import STAFF, STAFF_SIGN_INS
from pose_fit.casebook.typed_text import folded_text

__all__ = ["IDLE", "WORKING_DAY", "StaffSignIns"]

#: A sign-in ends after a working day, and after this long without a touch: a shop's desk is shared.
WORKING_DAY: Final = dt.timedelta(hours=10)
IDLE: Final = dt.timedelta(minutes=30)
#: A touch is written down no more often than this.
_NOTED: Final = dt.timedelta(minutes=1)
#: Shorter is no secret.
_LEAST_LENGTH: Final = 16


class StaffSignIns:
    """Sign-ins that outlive a reload of the page."""

    def __init__(self, database: Database, *, clock: Callable[[], dt.datetime]) -> None:
        self._database: Final = database
        self._clock: Final = clock

    def begin(self, member: StaffMember, secret: str) -> None:
        """Somebody signed in at the browser that holds this secret; an earlier sign-in ends.

        Without a secret nothing is kept: the sign-in then lasts as long as the page.
        """
        if len(secret) < _LEAST_LENGTH:
            return
        at = self._clock()
        values = {
            "token_hash": _digest(secret),
            "name_key": folded_text(member.name),
            "ends_at": at + WORKING_DAY,
            "seen_at": at,
        }
        with self._database.writing() as connection:
            connection.execute(STAFF_SIGN_INS.delete().where(STAFF_SIGN_INS.c.ends_at <= at))
            ours = STAFF_SIGN_INS.c.token_hash == values["token_hash"]
            connection.execute(STAFF_SIGN_INS.delete().where(ours))
            connection.execute(STAFF_SIGN_INS.insert().values(values))

    def member(self, secret: str) -> StaffMember | None:
        """Who is signed in at this browser, which counts as a touch.

        None after a working day, after ``IDLE`` without a touch, or of a closed account.
        """
        if len(secret) < _LEAST_LENGTH:
            return None
        at = self._clock()
        ours = STAFF_SIGN_INS.c.token_hash == _digest(secret)
        wanted = select(STAFF.c.name, STAFF.c.added_at, STAFF_SIGN_INS.c.seen_at).where(
            ours,
            STAFF_SIGN_INS.c.ends_at > at,
            STAFF_SIGN_INS.c.seen_at > at - IDLE,
            STAFF_SIGN_INS.c.name_key == STAFF.c.name_key,
            STAFF.c.retired_at.is_(None),
        )
        with self._database.reading() as connection:
            row = connection.execute(wanted).one_or_none()
        if row is None:
            return None
        if at - row.seen_at >= _NOTED:
            with self._database.writing() as connection:
                connection.execute(STAFF_SIGN_INS.update().where(ours).values(seen_at=at))
        return StaffMember(row.name, row.added_at)

    def end(self, secret: str) -> None:
        """Sign out at this browser; nobody there is no fault."""
        with self._database.writing() as connection:
            ours = STAFF_SIGN_INS.c.token_hash == _digest(secret)
            connection.execute(STAFF_SIGN_INS.delete().where(ours))


def _digest(secret: str) -> str:
    return hashlib.sha256(f"staff\n{secret}".encode()).hexdigest()
