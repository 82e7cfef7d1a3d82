"""A folder of pictures, or a CSV file that names them, as the jobs of a batch."""

import datetime as dt
import os
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from pose_fit.batch.job import Job
from pose_fit.errors import BatchError
from pose_fit.files.csv_table import LENGTH_UNITS, Column, Heading, Line, read_csv_text, read_table
from pose_fit.fit.stock import Stock, rider_of
from pose_fit.task.facts import PHOTO, RIDER, FactError
from pose_fit.task.typed import overridden, task_of

__all__ = ["COLUMNS", "SUFFIXES", "read_jobs"]

#: Endings of the pictures taken from a folder; a list may name any file.
SUFFIXES: Final = frozenset(
    (
        *(".jpg", ".jpeg", ".jpe", ".mpo", ".png", ".webp", ".heic", ".heif", ".gif", ".bmp"),
        *(".mp4", ".m4v", ".mov", ".webm"),
    )
)
COLUMNS: Final = (
    Column("photo", "text", True, "File, from the list's own folder."),
    *(
        Column(
            fact.name,
            "length" if fact.kind == "length" else "text",
            False,
            fact.meaning,
            bare_header=True,
        )
        for fact in (*PHOTO, *RIDER)
    ),
)


def read_jobs(
    source: Path, typed: Mapping[str, str], stock: Stock, *, today: dt.date | None = None
) -> tuple[Job, ...]:
    """The photos of a folder and the folders in it, or of a CSV list, at least one.

    A cell of the list goes before what is stated of all; an empty one leaves it. A photo that is
    missing is a job like any other, whose row will say so.

    Parameters
    ----------
    typed
        What is stated of all photos: text by the name of its fact.
    today
        Day of the advice; None for the day on which a photo is measured.

    Raises
    ------
    BatchError
        No such file or folder, no picture in it, or a list with a fault; the text names file,
        line, column, wanted and found.
    FactError
        A folder, and something stated of all photos that cannot be used.
    """

    def job(name: str, path: Path, stated: Mapping[str, str]) -> Job:
        return Job(name, path, task_of(stated), rider_of(stated), stock, today)

    if os.path.isdir(source):
        return _from_folder(source, job("", source, typed))
    if not os.path.exists(source):
        raise BatchError(f"{source}: wanted a folder or a CSV list, found no such file")
    if source.suffix.lower() in SUFFIXES:
        raise BatchError(
            f"{source}: wanted a folder or a CSV list, found a picture; measure takes single ones"
        )
    return read_table(
        read_csv_text(source, fault=BatchError),
        str(source),
        COLUMNS,
        lambda line: _job_of_line(line, typed, source.parent, job),
        what="photo",
        too_many="points with commas need quotes around them",
        fault=BatchError,
    )


def _from_folder(folder: Path, common: Job) -> tuple[Job, ...]:
    jobs = tuple(
        replace(common, name=path.relative_to(folder).as_posix(), path=path)
        for path in sorted(_pictures(folder))
    )
    if not jobs:
        raise BatchError(f"{folder}: wanted pictures ({', '.join(sorted(SUFFIXES))}), found none")
    return jobs


def _pictures(folder: Path) -> Iterator[Path]:
    def tell(fault: OSError) -> None:
        raise BatchError(f"{fault.filename}: cannot be read ({fault.strerror})") from fault

    for parent, folders, names in os.walk(folder, onerror=tell):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in names:
            # Names that begin with a point are what systems leave beside pictures.
            if Path(name).suffix.lower() in SUFFIXES and not name.startswith("."):
                yield Path(parent, name)


def _job_of_line(
    line: Line,
    common: Mapping[str, str],
    folder: Path,
    job: Callable[[str, Path, Mapping[str, str]], Job],
) -> Job:
    headers = {heading.column.name: heading.header for heading in line.headings}
    own = {
        heading.column.name: _with_unit(cell, heading)
        for heading in line.headings
        if (cell := line.cell(heading))
    }
    photo = own.pop("photo", None)
    if photo is None:
        raise BatchError(f"{line.place}, column photo: wanted a file, found an empty cell")
    try:
        return job(photo, folder / photo, overridden(common, own))
    except FactError as fault:
        header = headers.get(fault.fact, fault.fact)
        raise BatchError(f"{line.place}, column {header}: {fault}") from fault


def _with_unit(cell: str, heading: Heading) -> str:
    """A bare number is in the unit of its header, where that names one."""
    is_bare = cell.replace(",", ".", 1).replace(".", "", 1).isdecimal()
    return f"{cell} {heading.unit}" if is_bare and heading.unit in LENGTH_UNITS else cell
