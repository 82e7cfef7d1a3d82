"""The table on the disk: every row of it whole, whenever the program is stopped.

Each finished row is first appended to a journal beside the table, one line of JSON a row.
The table itself is only ever replaced as a whole, now and then and at the end, when the
journal goes. A line of the journal that a crash cut short is left out, and its photo measured
again.
"""

import csv
import io
import json
import os
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, Final

from pose_fit.batch.row import COLUMNS, Row
from pose_fit.errors import BatchError, OutputError
from pose_fit.files.csv_table import read_csv_text
from pose_fit.files.file_lock import lock_alone
from pose_fit.files.whole_file import cannot_write, write_whole
from pose_fit.metrology.units import Unit, with_unit_first

__all__ = ["ResultTable", "journal_path", "open_table"]

#: Seconds between two states of the table while the run goes on, and how many times longer
#: the pause is than the writing.
_PAUSE_S: Final = 2.0
_PAUSE_RATIO: Final = 20.0


def journal_path(table: Path) -> Path:
    """Where the finished rows stand until the table is complete."""
    return table.with_name(f".{table.name}.journal")


class ResultTable:
    """Finished rows by fingerprint; made by :func:`open_table`."""

    def __init__(
        self, path: Path, journal: BinaryIO, known: Mapping[str, Row], *, unit: Unit
    ) -> None:
        self._path = path
        self._unit = unit
        self._journal = journal
        self._rows = dict(known)
        self._written_at_s = time.monotonic()
        self._pause_s = _PAUSE_S

    @property
    def rows(self) -> Mapping[str, Row]:
        """Every finished row by its fingerprint."""
        return self._rows

    def add(self, row: Row) -> None:
        """Keep a row, safe from whatever happens to the program from now on.

        Raises
        ------
        OutputError
            The disk is full or gone.
        """
        # First here: an interrupt between the two must not keep it out of the table.
        self._rows[row.fingerprint] = row
        try:
            self._journal.write(_line(row))
            self._journal.flush()
        except OSError as fault:
            raise cannot_write(self._path, fault) from fault

    def write_now_and_then(self, order: Sequence[str]) -> None:
        """Write the table if the last time was long enough ago."""
        if time.monotonic() >= self._written_at_s + self._pause_s:
            self.write(order)

    def write(self, order: Sequence[str]) -> None:
        """Put the finished rows, in the order of these fingerprints, in the table's place.

        Raises
        ------
        OutputError
            It cannot be written; what stood there stays.
        """
        start_s = time.monotonic()
        text = io.StringIO(newline="")
        writer = csv.writer(text)
        writer.writerow(COLUMNS)
        for key in order:
            if key in self._rows:
                # Also in rows of an earlier run, which may have asked for the other unit.
                writer.writerow(with_unit_first(cell, self._unit) for cell in self._rows[key].cells)
        write_whole(self._path, text.getvalue().encode("utf-8-sig"))
        self._written_at_s = time.monotonic()
        self._pause_s = max(_PAUSE_S, _PAUSE_RATIO * (self._written_at_s - start_s))


@contextmanager
def open_table(path: Path, *, unit: Unit = "in") -> Iterator[ResultTable]:
    """The table with all rows of earlier runs but the failed ones, for this run alone.

    ``unit`` comes first in its sentences; its columns of numbers have theirs in the name. The
    journal stays where the block raises, and goes where it ends by itself.

    Raises
    ------
    BatchError
        The file is there but is not such a table, or another run is writing it.
    OutputError
        The folder is missing or may not be written.
    """
    rows = _table_rows(path)
    journal = journal_path(path)
    try:
        file = open(journal, "a+b")  # noqa: SIM115 - closed below
    except OSError as fault:
        raise cannot_write(path, fault) from fault
    with file:
        try:
            lock_alone(file)
        except OSError as fault:
            raise BatchError(f"{path}: another run is writing this table") from fault
        rows |= _journal_rows(file)
        known = {key: row for key, row in rows.items() if row.status != "failed"}
        yield ResultTable(path, file, known, unit=unit)
        journal.unlink(missing_ok=True)


def _line(row: Row) -> bytes:
    return json.dumps(row.cells, ensure_ascii=False).encode() + b"\n"


def _journal_rows(file: BinaryIO) -> dict[str, Row]:
    """The whole lines; one that was cut short is ended, so that the next begins a new line."""
    file.seek(0)
    data = file.read()
    if data and not data.endswith(b"\n"):
        file.write(b"\n")
        file.flush()
    rows = {}
    for line in data.splitlines():
        try:
            row = Row(tuple(json.loads(line)))
        except (ValueError, TypeError):
            continue
        rows[row.fingerprint] = row
    return rows


def _table_rows(path: Path) -> dict[str, Row]:
    if not os.path.exists(path):
        return {}
    if not path.is_file():
        raise OutputError(f"{path}: wanted a file for the table, found something else")
    text = read_csv_text(path, fault=BatchError)
    if not text:
        return {}
    try:
        header, *lines = csv.reader(io.StringIO(text, newline=""))
        if tuple(header) != COLUMNS:
            raise ValueError("another header")
        rows = [Row(tuple(cells)) for cells in lines]
    except (csv.Error, ValueError) as fault:
        raise BatchError(
            f"{path}: is not a table of this program, or was changed since; it is kept as it is."
            " Choose another name"
        ) from fault
    return {row.fingerprint: row for row in rows}
