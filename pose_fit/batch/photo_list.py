"""A folder of pictures, or a CSV file that names them, as the jobs of a batch: one a row of the table."""

import datetime as dt
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from pose_fit.batch.job import Job, ListedPhoto
from pose_fit.errors import BatchError, InputError
from pose_fit.files.csv_table import LENGTH_UNITS, Column, Heading, Line, read_csv_text, read_table
from pose_fit.fit.stock import Stock, rider_of
from pose_fit.inseam.from_tape import TAPE_CARE, inseam_from_tape
from pose_fit.task.facts import PHOTO, RIDER, FactError, no_unit_hint, read_day, read_length_mm
from pose_fit.task.typed import overridden, task_of

__all__ = ["COLUMNS", "SUFFIXES", "read_jobs"]

#: Endings of the pictures taken from a folder; a list may name any file.
SUFFIXES: Final = frozenset(
    (
        *(".jpg", ".jpeg", ".jpe", ".mpo", ".png", ".webp", ".heic", ".heif", ".gif", ".bmp"),
        *(".mp4", ".m4v", ".mov", ".webm"),
    )
)
#: Columns of the tape's readings; the second to fourth have the names of a table of pairs.
_TAPE: Final = ("tape", "tape_1", "tape_2", "tape_3")
COLUMNS: Final = (
    Column("photo", "text", True, "File, from the list's own folder."),
    Column(
        "child",
        "text",
        False,
        "Number or mark of the child: all photos of one child make one row of the table.",
    ),
    *(
        Column(name, "length", False, "Reading of a tape of this child.", bare_header=True)
        for name in _TAPE
    ),
    Column("taped", "text", False, "Day of the tape, as 2026-03-02; else the day of the advice."),
    Column("care", "text", False, "How the tape was held: careful or hasty; else careful."),
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


@dataclass(frozen=True, slots=True)
class _Listed:
    """One line of a list; ``of_child`` holds its texts by column that belong to the child."""

    place: str
    photo: ListedPhoto
    child: str
    of_child: Mapping[str, str]


def read_jobs(
    source: Path, typed: Mapping[str, str], stock: Stock, *, today: dt.date | None = None
) -> tuple[Job, ...]:
    """The photos of a folder and the folders in it, or of a CSV list, at least one.

    A cell of the list goes before what is stated of all; an empty one leaves it. Lines of one child
    make one job. A photo that is missing is listed like any other, and its row will say so.

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
    if os.path.isdir(source):
        task, rider = task_of(typed), rider_of(typed)
        return tuple(
            Job(
                (ListedPhoto(path.relative_to(source).as_posix(), path, task),),
                rider=rider,
                stock=stock,
                today=today,
            )
            for path in _from_folder(source)
        )
    if not os.path.exists(source):
        raise BatchError(f"{source}: wanted a folder or a CSV list, found no such file")
    if source.suffix.lower() in SUFFIXES:
        raise BatchError(
            f"{source}: wanted a folder or a CSV list, found a picture; measure takes single ones"
        )
    lines = read_table(
        read_csv_text(source, fault=BatchError),
        str(source),
        COLUMNS,
        lambda line: _listed(line, typed, source.parent),
        what="photo",
        too_many="points with commas need quotes around them",
        fault=BatchError,
    )
    return tuple(_job(together, typed, stock, today) for together in _by_child(lines))


def _from_folder(folder: Path) -> list[Path]:
    paths = sorted(_pictures(folder))
    if not paths:
        raise BatchError(f"{folder}: wanted pictures ({', '.join(sorted(SUFFIXES))}), found none")
    return paths


def _pictures(folder: Path) -> Iterator[Path]:
    def tell(fault: OSError) -> None:
        raise BatchError(f"{fault.filename}: cannot be read ({fault.strerror})") from fault

    for parent, folders, names in os.walk(folder, onerror=tell):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in names:
            # Names that begin with a point are what systems leave beside pictures.
            if Path(name).suffix.lower() in SUFFIXES and not name.startswith("."):
                yield Path(parent, name)


def _listed(line: Line, common: Mapping[str, str], folder: Path) -> _Listed:
    headers = {heading.column.name: heading.header for heading in line.headings}
    own = {
        heading.column.name: _with_unit(cell, heading)
        for heading in line.headings
        if (cell := line.cell(heading))
    }
    photo, child = own.pop("photo", None), own.pop("child", "")
    if photo is None:
        raise BatchError(f"{line.place}, column photo: wanted a file, found an empty cell")
    of_child = {name: own[name] for name in (*_RIDES, *_TAPED) if name in own}
    for name in _TAPED:
        if name in own:
            with _told_at(f"{line.place}, column {headers[name]}"):
                _read_taped(name, own.pop(name))
    stated = overridden(common, own)
    try:
        # Whether the rider is one is told here, where the line is known.
        rider_of(stated)
        listed = ListedPhoto(photo, folder / photo, task_of(stated))
    except FactError as fault:
        header = headers.get(fault.fact, fault.fact)
        raise BatchError(f"{line.place}, column {header}: {fault}") from fault
    return _Listed(line.place, listed, child, of_child)


_RIDES: Final = tuple(fact.name for fact in RIDER)
_TAPED: Final = (*_TAPE, "taped", "care")


def _read_taped(name: str, text: str) -> float | dt.date | str:
    """A reading of the tape, its day or its care."""
    if name == "taped":
        return read_day(text)
    if name == "care":
        if text.lower() not in TAPE_CARE:
            raise InputError(f"wanted {' or '.join(TAPE_CARE)}, found {text!r}")
        return text.lower()
    reading_mm = read_length_mm(text)
    try:
        inseam_from_tape([reading_mm])
    except InputError as fault:
        raise InputError(f"{fault}{no_unit_hint(text)}") from fault
    return reading_mm


@contextmanager
def _told_at(place: str) -> Iterator[None]:
    try:
        yield
    except InputError as fault:
        raise BatchError(f"{place}: {fault}") from fault


def _by_child(lines: Sequence[_Listed]) -> Iterator[list[_Listed]]:
    """The lines of each child where its first one stands; a line without a child by itself."""
    of_child: dict[str, list[_Listed]] = {}
    for place, line in enumerate(lines):
        of_child.setdefault(line.child.casefold() or f"\n{place}", []).append(line)
    yield from of_child.values()


def _job(
    lines: Sequence[_Listed], common: Mapping[str, str], stock: Stock, today: dt.date | None
) -> Job:
    of_child: dict[str, str] = {}
    for line in lines:
        for name, text in line.of_child.items():
            if of_child.setdefault(name, text) != text:
                raise BatchError(
                    f"{line.place}, column {name}: wanted the same in every line of child"
                    f" {line.child!r}, found {of_child[name]!r} and {text!r}"
                )
    taped = {name: _read_taped(name, of_child.pop(name)) for name in _TAPED if name in of_child}
    day = taped.get("taped")
    return Job(
        tuple(line.photo for line in lines),
        child=lines[0].child,
        # A list that repeats a child's tape in each of its lines has one tape.
        tape_mm=tuple(one for one in taped.values() if isinstance(one, float)),
        taped_on=day if isinstance(day, dt.date) else None,
        tape_care="hasty" if taped.get("care") == "hasty" else "careful",
        rider=rider_of(overridden(common, of_child)),
        stock=stock,
        today=today,
    )


def _with_unit(cell: str, heading: Heading) -> str:
    """A bare number is in the unit of its header, where that names one."""
    is_bare = cell.replace(",", ".", 1).replace(".", "", 1).isdecimal()
    return f"{cell} {heading.unit}" if is_bare and heading.unit in LENGTH_UNITS else cell
