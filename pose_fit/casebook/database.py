"""One door to SQLite or PostgreSQL: connections, transactions, and the faults of both."""

import datetime as dt
import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, SQLAlchemyError

from pose_fit.casebook.schema import NEWEST_REVISION, revision_of, upgrade_schema
from pose_fit.errors import CaseBookError

__all__ = ["BUSY_TIMEOUT_S", "Database", "utc_now"]

#: How long a writer waits for another one before it gives up.
BUSY_TIMEOUT_S: Final = 30.0

#: SQLite takes the write lock at the start of a writing transaction, so that two writers queue
#: instead of one failing half way.
_BEGIN: Final = "pose_fit_begin"


def utc_now() -> dt.datetime:
    """The moment, with time zone UTC."""
    return dt.datetime.now(dt.UTC)


class Database:
    """An open database at the newest schema.

    SQLite wants a local disk: its locks are not safe on network shares. Several branches share
    one book through PostgreSQL.
    """

    def __init__(self, where: str | Path) -> None:
        """Open, create where missing (SQLite), and migrate.

        Parameters
        ----------
        where
            Path of an SQLite file, or a URL: ``sqlite:///...`` or ``postgresql://...``.

        Raises
        ------
        CaseBookError
            No such database, no access, not ours, or made by a newer program.
        """
        url = _url(where)
        self.is_sqlite: Final = url.get_backend_name() == "sqlite"
        self.where: Final = url.render_as_string(hide_password=True)
        if self.is_sqlite:
            _make_private_file(url.database or "")
        with self._faults_named():
            self._engine: Final = _engine(url)
            self._driver_error: Final[type[Exception]] = self._engine.dialect.loaded_dbapi.Error
            try:
                self._prepare()
            except BaseException:
                self._engine.dispose()
                raise

    def close(self) -> None:
        """Give all connections back."""
        self._engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection for reading only."""
        with self._faults_named(), self._engine.connect() as connection:
            yield connection.execution_options(**{_BEGIN: "DEFERRED"})

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction: all of it is kept, or, after an exception, nothing."""
        with self._faults_named(), self._engine.connect() as connection:
            connection = connection.execution_options(**{_BEGIN: "IMMEDIATE"})
            with connection.begin():
                yield connection

    @contextmanager
    def administering(self) -> Iterator[Any]:
        """A cursor of the driver outside any transaction, for VACUUM and its kind."""
        pooled = None
        try:
            pooled = self._engine.raw_connection()
            driver: Any = pooled.driver_connection
            if not self.is_sqlite:
                driver.autocommit = True
            yield driver.cursor()
        except self._driver_error as fault:
            raise self._named(fault) from fault
        finally:
            if pooled is not None:
                # Not handed to anybody else with its settings changed.
                pooled.invalidate()
                pooled.close()

    def _prepare(self) -> None:
        if self.is_sqlite:
            self._keep_write_ahead_log()
        with self.reading() as connection:
            current = revision_of(connection)
        if current != NEWEST_REVISION:
            with self.writing() as connection:
                upgrade_schema(connection)

    def _keep_write_ahead_log(self) -> None:
        # The change of mode does not wait for others by itself.
        last_try_s = time.monotonic() + BUSY_TIMEOUT_S
        while True:
            try:
                with self.administering() as cursor:
                    cursor.execute("PRAGMA journal_mode=WAL")
                return
            except CaseBookError as fault:
                locked = "locked" in str(fault.__cause__)
                if not locked or time.monotonic() > last_try_s:
                    raise
                time.sleep(0.02)

    @contextmanager
    def _faults_named(self) -> Iterator[None]:
        try:
            yield
        except DBAPIError as fault:
            raise self._named(fault.orig or fault) from fault
        except self._driver_error as fault:
            raise self._named(fault) from fault
        except SQLAlchemyError as fault:
            raise self._named(fault) from fault

    def _named(self, fault: BaseException) -> CaseBookError:
        return CaseBookError(f"the case book {self.where} cannot be used: {str(fault).strip()}")


def _url(where: str | Path) -> URL:
    if isinstance(where, Path) or "://" not in where:
        return URL.create("sqlite", database=str(where))
    try:
        url = make_url(where)
    except (ArgumentError, ValueError):
        # The text may hold a password: it is not repeated.
        raise CaseBookError(
            "case book: wanted a path or a URL such as sqlite:///book.db or"
            " postgresql://user@host/name, found neither"
        ) from None
    match url.get_backend_name():
        case "sqlite":
            return url
        case "postgresql" | "postgres":
            return url.set(drivername="postgresql+psycopg")
        case other:
            raise CaseBookError(f"case book: wanted sqlite or postgresql, found {other!r}")


def _make_private_file(path: str) -> None:
    """An empty file that only its owner may read, before SQLite makes one for everybody."""
    if path in ("", ":memory:") or path.startswith("file:"):
        raise CaseBookError(f"case book: wanted the path of a file, found {path!r}")
    try:
        # A file that is there is left alone: to open and close it here would take away the locks
        # of this process's other connections (fcntl), and another process would take its log.
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    except FileExistsError:
        return
    except OSError as fault:
        raise CaseBookError(f"the case book {path} cannot be used: {fault.strerror}") from fault


def _engine(url: URL) -> Engine:
    if url.get_backend_name() != "sqlite":
        # Values of a failed statement are private: they stay out of messages and logs.
        return create_engine(url, pool_pre_ping=True, hide_parameters=True)
    engine = create_engine(url, hide_parameters=True, connect_args={"timeout": BUSY_TIMEOUT_S})
    event.listen(engine, "connect", _set_up_sqlite)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_up_sqlite(driver: sqlite3.Connection, _record: object) -> None:
    # Transactions begin where _begin_sqlite says, not where the driver guesses.
    driver.isolation_level = None
    for setting in ("foreign_keys=ON", "secure_delete=ON", "temp_store=MEMORY", "synchronous=FULL"):
        driver.execute(f"PRAGMA {setting}").close()


def _begin_sqlite(connection: Connection) -> None:
    how = connection.get_execution_options().get(_BEGIN, "IMMEDIATE")
    connection.exec_driver_sql(f"BEGIN {how}")
