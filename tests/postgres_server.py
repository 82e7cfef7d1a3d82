"""A throw-away PostgreSQL server for tests."""

import os
import pwd
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import psycopg
import pytest

__all__ = ["APP_USER", "PostgresServer", "postgres", "postgres_database", "postgres_server"]

#: Not a superuser, as an application's account should not be.
APP_USER = "shop"


@dataclass(frozen=True)
class PostgresServer:
    """A running server: where its socket and its files are."""

    folder: Path
    data: Path

    def url(self, database: str, *, user: str = APP_USER) -> str:
        return f"postgresql://{user}@/{database}?host={self.folder}"

    def admin(self, database: str = "postgres") -> psycopg.Connection:
        return psycopg.connect(
            host=str(self.folder), user="postgres", dbname=database, autocommit=True
        )


def _programs() -> Path | None:
    """The newest Debian PostgreSQL's folder of server programs."""
    found = [path.parent for path in Path("/usr/lib/postgresql").glob("*/bin/initdb")]
    return max(found, key=lambda path: int(re.sub(r"\D", "", path.parent.name)), default=None)


def _account() -> int | None:
    """The server refuses to run as root: then the account "postgres" or "nobody" runs it."""
    if os.geteuid() != 0:
        return None
    for name in ("postgres", "nobody"):
        try:
            return pwd.getpwnam(name).pw_uid
        except KeyError:
            continue
    return None


@pytest.fixture(scope="session")
def postgres() -> Iterator[PostgresServer]:
    if _programs() is None:
        pytest.skip("no PostgreSQL server below /usr/lib/postgresql (apt-get install postgresql)")
    with postgres_server() as server:
        yield server


@contextmanager
def postgres_server() -> Iterator[PostgresServer]:
    """A server until the block ends; ``FileNotFoundError`` where none is installed."""
    programs = _programs()
    if programs is None:
        raise FileNotFoundError("no PostgreSQL server below /usr/lib/postgresql")
    # Not pytest's folder, into which another account may not look; and a socket's path is short.
    folder = Path(tempfile.mkdtemp(prefix="casebook-"))
    data, uid = folder / "data", _account()
    if uid is not None:
        os.chown(folder, uid, -1)

    def run(*arguments: str) -> None:
        done = subprocess.run(
            [str(programs / arguments[0]), *arguments[1:]],
            user=uid,
            cwd=folder,
            env={"PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8"},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stdout

    try:
        # Small segments of the write-ahead log, which tests of deletion search to the last byte.
        given = ("-U", "postgres", "-A", "trust", "-E", "UTF8", "--no-sync", "--wal-segsize=1")
        run("initdb", "-D", str(data), *given)
        options = f"-c listen_addresses= -c unix_socket_directories={folder} -c fsync=off"
        # Old segments of the write-ahead log are removed, not kept for being used again.
        options += " -c wal_recycle=off -c min_wal_size=2MB"
        log = str(folder / "log")
        run("pg_ctl", "-D", str(data), "-l", log, "-o", options, "-w", "-t", "60", "start")
        try:
            server = PostgresServer(folder, data)
            with server.admin() as admin:
                admin.execute(f"CREATE ROLE {APP_USER} LOGIN")
            yield server
        finally:
            run("pg_ctl", "-D", str(data), "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder)


@pytest.fixture
def postgres_database(postgres: PostgresServer) -> Iterator[str]:
    """Name of an empty database."""
    with postgres.admin() as admin:
        number = admin.execute("SELECT count(*) FROM pg_database").fetchone()
        name = f"book{number[0]}_{os.getpid()}"
        admin.execute(f"CREATE DATABASE {name} OWNER {APP_USER}")
        yield name
        admin.execute(f"DROP DATABASE {name} WITH (FORCE)")
