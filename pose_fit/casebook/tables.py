"""The tables of the case book as they stand after the newest migration.

Migrations do not import this module: they keep their own picture of the past. A test holds the
two together.
"""

import datetime as dt
from typing import Final

from sqlalchemy import (
    JSON,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Dialect,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
)
from sqlalchemy.types import TypeDecorator

__all__ = [
    "DRAFTS",
    "ERASURES",
    "EVENTS",
    "METADATA",
    "CASES",
    "PICTURES",
    "SETTINGS",
    "SHARED_ANSWERS",
    "SIGN_IN_FAILURES",
    "STAFF",
    "STAFF_SIGN_INS",
    "STOCK_CHANGES",
    "SUBMISSIONS",
    "UtcTime",
]


class UtcTime(TypeDecorator[dt.datetime]):
    """A moment with time zone, kept as UTC; SQLite, which knows no zone, stores it bare."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: dt.datetime | None, dialect: Dialect) -> dt.datetime | None:
        """To UTC; a moment without a zone is a mistake of the program."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"wanted a moment with time zone, found {value}")
        return value.astimezone(dt.UTC)

    def process_result_value(
        self, value: dt.datetime | None, dialect: Dialect
    ) -> dt.datetime | None:
        """Back with its zone."""
        if value is None:
            return None
        return value.replace(tzinfo=dt.UTC) if value.tzinfo is None else value.astimezone(dt.UTC)


METADATA: Final = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def _of_case(*, primary_key: bool) -> Column[int]:
    """A case's number in another table, whose rows leave with the case."""
    return Column(
        "case_id",
        Integer,
        ForeignKey("cases.case_id", ondelete="CASCADE"),
        primary_key=primary_key,
        autoincrement=False,
        nullable=False,
    )


CASES: Final = Table(
    "cases",
    METADATA,
    Column("case_id", Integer, primary_key=True),
    Column("reply_code", String(16), nullable=False, unique=True),
    Column("version", Integer, nullable=False),
    Column("state", String(20), nullable=False),
    Column("received_at", UtcTime, nullable=False),
    Column("changed_at", UtcTime, nullable=False),
    Column("waiting_since", UtcTime, nullable=False),
    Column("label_key", Text, nullable=False),
    Column("content", JSON, nullable=False),
    Column("search_text", Text, nullable=False, server_default=""),
    # Day of the tape in the shop, by which pairs are found.
    Column("taped_on", Date),
    # By which earlier cases of the same child are found, where the family agreed.
    Column("child_code", String(16)),
    CheckConstraint("version >= 1", name="version"),
    Index(None, "state", "waiting_since", "case_id"),
    Index(None, "taped_on"),
    Index(None, "child_code"),
    # A number that was given once is never given again, even after the case was deleted.
    sqlite_autoincrement=True,
)

EVENTS: Final = Table(
    "case_events",
    METADATA,
    Column("event_id", Integer, primary_key=True),
    _of_case(primary_key=False),
    Column("version", Integer, nullable=False),
    Column("at", UtcTime, nullable=False),
    Column("by", String(100), nullable=False),
    Column("kind", String(40), nullable=False),
    Column("details", JSON, nullable=False),
    Index(None, "case_id"),
)

PICTURES: Final = Table(
    "case_pictures",
    METADATA,
    _of_case(primary_key=True),
    Column("place", Integer, primary_key=True, autoincrement=False),
    Column("jpeg", LargeBinary, nullable=False),
    Column("body", LargeBinary),
)

SUBMISSIONS: Final = Table(
    "submissions",
    METADATA,
    Column("name", String(64), primary_key=True),
    _of_case(primary_key=False),
    Column("at", UtcTime, nullable=False),
    Index(None, "case_id"),
)

DRAFTS: Final = Table(
    "case_drafts",
    METADATA,
    _of_case(primary_key=True),
    Column("by", String(100), primary_key=True),
    Column("based_on", Integer, nullable=False),
    Column("kept_at", UtcTime, nullable=False),
    Column("action", JSON, nullable=False),
)

ERASURES: Final = Table(
    "erasures",
    METADATA,
    Column("erasure_id", Integer, primary_key=True),
    Column("case_id", Integer, nullable=False),
    Column("what", String(20), nullable=False),
    Column("at", UtcTime, nullable=False),
    Column("by", String(100), nullable=False),
    Column("cleaned_at", UtcTime),
)

STAFF: Final = Table(
    "staff",
    METADATA,
    Column("staff_id", Integer, primary_key=True),
    Column("name", String(100), nullable=False),
    Column("name_key", String(200), nullable=False, unique=True),
    Column("passphrase_hash", String(200), nullable=False),
    Column("added_at", UtcTime, nullable=False),
    Column("retired_at", UtcTime),
)

STAFF_SIGN_INS: Final = Table(
    "staff_sign_ins",
    METADATA,
    Column("token_hash", String(64), primary_key=True),
    Column("name_key", String(200), nullable=False),
    Column("ends_at", UtcTime, nullable=False),
    Column("seen_at", UtcTime, nullable=False),
)

SETTINGS: Final = Table(
    "settings",
    METADATA,
    Column("name", String(40), primary_key=True),
    Column("value", JSON, nullable=False),
    Column("at", UtcTime, nullable=False),
    Column("by", String(100), nullable=False),
)

SHARED_ANSWERS: Final = Table(
    "shared_answers",
    METADATA,
    Column("secret_hash", String(64), primary_key=True),
    Column("ends_at", UtcTime, nullable=False),
    # Text, since JSON knows no number for "never", which is how long some bicycles last.
    Column("answer", Text, nullable=False),
    Index(None, "ends_at"),
)

STOCK_CHANGES: Final = Table(
    "stock_changes",
    METADATA,
    Column("change_id", Integer, primary_key=True),
    Column("at", UtcTime, nullable=False),
    Column("by", String(100), nullable=False),
    Column("what", Text, nullable=False),
    Column("catalogue", Text, nullable=False),
)

SIGN_IN_FAILURES: Final = Table(
    "sign_in_failures",
    METADATA,
    Column("bucket", Integer, primary_key=True, autoincrement=False),
    Column("failures", Integer, nullable=False),
    Column("last_at", UtcTime, nullable=False),
)
