"""Bring a database to the newest schema, once, however many open it at the same moment."""

from pathlib import Path
from typing import Final

from sqlalchemy import Connection, inspect, text

from pose_fit.errors import CaseBookError

__all__ = ["NEWEST_REVISION", "revision_of", "upgrade_schema"]

#: The newest module in ``migrations/versions``.
NEWEST_REVISION: Final = "r0003"
#: Any number, the same in every program that opens the book.
_ADVISORY_LOCK: Final = 7_203_558_114


def revision_of(connection: Connection) -> str | None:
    """The revision a database is at; None of an empty one."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one_or_none()


def upgrade_schema(connection: Connection, *, to: str = NEWEST_REVISION) -> None:
    """Migrate in the caller's writing transaction, so that all of it or nothing happens.

    Raises
    ------
    CaseBookError
        The database was made by a newer program.
    """
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _ADVISORY_LOCK})
    if revision_of(connection) == to:
        return
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    config = Config()
    scripts = str(Path(__file__).parent / "migrations")
    # The configuration expands "%".
    config.set_main_option("script_location", scripts.replace("%", "%%"))
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, to)
    except CommandError as fault:
        raise CaseBookError(
            f"the case book has schema {revision_of(connection)!r}, which this program does not"
            f" know; it knows up to {NEWEST_REVISION!r}: update the program"
        ) from fault
