"""Accounts of staff: hashed passphrases, and a sign-in that neither hurries nor tells.

A passphrase is kept only as an Argon2id hash (RFC 9106; parameters of ``argon2-cffi``, its
low-memory profile). Where a name is unknown a hash is checked all the same, so that the time
does not tell whether it exists. Failures are counted in 4,096 buckets of names, known or not:
nothing of what was typed is kept, and a bucket tells 12 bits of it at most.
"""

import datetime as dt
import hashlib
import math
import secrets
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import VerificationError
from sqlalchemy import Connection, RowMapping, select
from sqlalchemy.dialects import postgresql, sqlite

from pose_fit.casebook.database import Database
from pose_fit.casebook.tables import SIGN_IN_FAILURES, STAFF
from pose_fit.casebook.typed_text import NAME_LENGTH, clean_text, folded_text, needed_text
from pose_fit.errors import CaseBookError, SignInError

__all__ = [
    "FREE_FAILURES",
    "LONGEST_WAIT",
    "PASSPHRASE_LENGTH",
    "StaffAccounts",
    "StaffMember",
    "wait_after",
]

#: Shortest and longest passphrase, characters. Length is what counts for one that people choose
#: (NIST SP 800-63B, from memory); the longest keeps hashing cheap.
PASSPHRASE_LENGTH: Final = (12, 500)
#: Failures in a row that cost no wait.
FREE_FAILURES: Final = 4
_FIRST_WAIT: Final = dt.timedelta(seconds=15)
LONGEST_WAIT: Final = dt.timedelta(minutes=15)
#: Failures older than this are forgotten.
_MEMORY: Final = dt.timedelta(hours=24)
_BUCKETS: Final = 4096
_REFUSED: Final = "the name or the passphrase is not right"


@dataclass(frozen=True, slots=True)
class StaffMember:
    """Somebody who may sign in."""

    name: str
    added_at: dt.datetime


def wait_after(failures: int) -> dt.timedelta:
    """How long a name must wait after so many failures in a row; doubles from 15 s to 15 min."""
    if failures <= FREE_FAILURES:
        return dt.timedelta(0)
    doublings = min(failures - FREE_FAILURES - 1, 16)
    return min(_FIRST_WAIT * (1 << doublings), LONGEST_WAIT)


class StaffAccounts:
    """The accounts of one case book."""

    def __init__(self, database: Database, *, clock: Callable[[], dt.datetime]) -> None:
        self._database: Final = database
        self._clock: Final = clock
        self._hasher: Final = PasswordHasher()
        self._nobodys_hash: str | None = None

    def add(self, name: str, passphrase: str) -> StaffMember:
        """A new account.

        Raises
        ------
        CaseBookError
            The name is taken or empty, or the passphrase is too short, too long or the name.
        """
        name, at = _name(name), self._clock()
        hashed = self._hash(name, passphrase)
        with self._database.writing() as connection:
            if _row(connection, name) is not None:
                raise CaseBookError(f"staff: there is an account {name!r} already")
            connection.execute(
                STAFF.insert().values(
                    name=name, name_key=_key(name), passphrase_hash=hashed, added_at=at
                )
            )
        return StaffMember(name, at)

    def sign_in(self, name: str, passphrase: str) -> StaffMember:
        """The member of staff with this name and passphrase.

        Raises
        ------
        SignInError
            Wrong name or passphrase (the text does not tell which), or too many failures: then
            it says how long to wait, and nothing was checked.
        """
        self._count_attempt(name)
        nobodys_hash = self._hash_of_nobody()
        with self._database.reading() as connection:
            row = _row(connection, name)
        if row is not None and row["retired_at"] is not None:
            row = None
        hashed: str = nobodys_hash if row is None else row["passphrase_hash"]
        right = self._is_right(hashed, passphrase)
        if row is None or not right:
            raise SignInError(_REFUSED)
        with self._database.writing() as connection:
            _forget_failures(connection, name)
            if self._hasher.check_needs_rehash(hashed):
                renewed = self._hasher.hash(_normal(passphrase))
                connection.execute(
                    STAFF.update()
                    .where(STAFF.c.staff_id == row["staff_id"])
                    .values(passphrase_hash=renewed)
                )
        return StaffMember(row["name"], row["added_at"])

    def change_passphrase(self, name: str, *, old: str, new: str) -> None:
        """Another passphrase, by somebody who knows the present one; raises as the two above."""
        member = self.sign_in(name, old)
        self.reset_passphrase(member.name, new)

    def reset_passphrase(self, name: str, passphrase: str) -> None:
        """Another passphrase for somebody who forgot theirs; an account that retired returns.

        Raises
        ------
        CaseBookError
            There is no such account, or the passphrase will not do.
        """
        hashed = self._hash(_name(name), passphrase)
        with self._database.writing() as connection:
            _change(connection, name, passphrase_hash=hashed, retired_at=None)
            _forget_failures(connection, name)

    def retire(self, name: str) -> None:
        """Nobody signs in with this account any more; its name stays in the history.

        Raises
        ------
        CaseBookError
            There is no such account.
        """
        with self._database.writing() as connection:
            _change(connection, name, retired_at=self._clock())

    def members(self) -> tuple[StaffMember, ...]:
        """Everybody who may sign in, by name."""
        wanted = select(STAFF).where(STAFF.c.retired_at.is_(None)).order_by(STAFF.c.name_key)
        with self._database.reading() as connection:
            rows = connection.execute(wanted).mappings().all()
        return tuple(StaffMember(row["name"], row["added_at"]) for row in rows)

    def _hash(self, name: str, passphrase: str) -> str:
        shortest, longest = PASSPHRASE_LENGTH
        if not shortest <= len(passphrase) <= longest:
            raise CaseBookError(
                f"passphrase: wanted {shortest} to {longest} characters, found {len(passphrase)}"
            )
        if folded_text(passphrase) == folded_text(name):
            raise CaseBookError("passphrase: wanted something else than the name")
        return self._hasher.hash(_normal(passphrase))

    def _is_right(self, hashed: str, passphrase: str) -> bool:
        # Anything longer cannot be right, and costs no more time than what can.
        typed = _normal(passphrase[: PASSPHRASE_LENGTH[1] + 1])
        try:
            return self._hasher.verify(hashed, typed)
        except VerificationError:
            return False

    def _hash_of_nobody(self) -> str:
        if self._nobodys_hash is None:
            self._nobodys_hash = self._hasher.hash(secrets.token_hex(16))
        return self._nobodys_hash

    def _count_attempt(self, name: str) -> None:
        """Count an attempt as failed before it is checked, so that many at once gain nothing.

        Raises
        ------
        SignInError
            The name must still wait; this attempt is not counted.
        """
        at, bucket = self._clock(), _bucket(name)
        insert = sqlite.insert if self._database.is_sqlite else postgresql.insert
        first = insert(SIGN_IN_FAILURES).values(bucket=bucket, failures=0, last_at=at)
        ours = SIGN_IN_FAILURES.c.bucket == bucket
        with self._database.writing() as connection:
            old = SIGN_IN_FAILURES.c.last_at < at - _MEMORY
            connection.execute(SIGN_IN_FAILURES.delete().where(old))
            connection.execute(first.on_conflict_do_nothing())
            held = select(SIGN_IN_FAILURES).where(ours).with_for_update()
            row = connection.execute(held).mappings().one()
            wait = row["last_at"] + wait_after(row["failures"]) - at
            if wait > dt.timedelta(0):
                seconds = math.ceil(wait.total_seconds())
                raise SignInError(f"too many failures; try again in {seconds} s")
            counted = {"failures": row["failures"] + 1, "last_at": at}
            connection.execute(SIGN_IN_FAILURES.update().where(ours).values(counted))


def _name(name: str) -> str:
    return needed_text(name, what="name of the account", longest=NAME_LENGTH)


def _normal(passphrase: str) -> bytes:
    # Keyboards differ in how they compose the same letters.
    return unicodedata.normalize("NFKC", passphrase).encode("utf-8", "surrogatepass")


def _bucket(name: str) -> int:
    digest = hashlib.blake2b(folded_text(name).encode("utf-8", "replace"), digest_size=8).digest()
    return int.from_bytes(digest, "big") % _BUCKETS


def _forget_failures(connection: Connection, name: str) -> None:
    connection.execute(SIGN_IN_FAILURES.delete().where(SIGN_IN_FAILURES.c.bucket == _bucket(name)))


def _row(connection: Connection, name: str) -> RowMapping | None:
    wanted = select(STAFF).where(STAFF.c.name_key == _key(name))
    return connection.execute(wanted).mappings().one_or_none()


def _key(name: str) -> str:
    # What was typed at the sign-in may hold anything; what cannot be stored is no name.
    return folded_text(clean_text(name[: 2 * NAME_LENGTH], what="name", longest=2 * NAME_LENGTH))


def _change(connection: Connection, name: str, **values: object) -> None:
    changed = connection.execute(
        STAFF.update().where(STAFF.c.name_key == _key(name)).values(values)
    )
    if changed.rowcount != 1:
        raise CaseBookError(f"staff: there is no account {name!r}")
