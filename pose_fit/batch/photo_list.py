"""A folder of pictures, or a CSV file that names them, as the jobs of a batch."""

import os
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from pose_fit.batch.arguments import ArgumentError, PhotoArguments
from pose_fit.batch.job import Job, Stock
from pose_fit.errors import BatchError
from pose_fit.files.csv_table import (
    Column,
    Heading,
    Line,
    length_cell_mm,
    number_cell,
    read_csv_text,
    read_table,
)

__all__ = ["COLUMNS", "SUFFIXES", "read_jobs"]

#: Endings of the pictures taken from a folder; a list may name any file.
SUFFIXES: Final = frozenset(
    (".jpg", ".jpeg", ".jpe", ".mpo", ".png", ".webp", ".heic", ".heif", ".gif", ".bmp")
)
COLUMNS: Final = (
    Column("photo", "text", True, "File, from the list's own folder."),
    Column("reference", "text", False, "sheet, letter, a4, door, wheel or length."),
    Column("size", "text", False, "Door height or length with its unit; for a wheel its code."),
    Column("points", "text", False, 'Pixels "x,y x,y ..." of the upright picture.'),
    Column("crotch", "text", False, 'Pixel "x,y" where the legs part, in place of what is found.'),
    Column("floor", "text", False, 'Pixel "x,y" where the toes meet the floor, likewise.'),
    Column("person", "text", False, 'Pixel "x,y" on the child, where there are several people.'),
    Column("plane", "text", False, "wall or beside."),
    Column("ruler", "length", False, "What the ruler on the printed sheet measures."),
    Column("soles", "length", False, "Thickness of the shoes' soles; 0 is barefoot."),
    Column("legwear", "text", False, "snug, fitted, loose or hidden."),
    Column("heels_down", "text", False, "yes where both heels were on the floor, else no."),
    Column("age", "number", False, "Age in years."),
    Column("sex", "text", False, "f or m."),
    Column("stature", "length", False, "Body height."),
)


def read_jobs(source: Path, defaults: PhotoArguments, stock: Stock) -> tuple[Job, ...]:
    """The photos of a folder and the folders in it, or of a CSV list, at least one.

    A cell of the list goes before the default; an empty one leaves it. A photo that is missing
    is a job like any other, whose row will say so.

    Raises
    ------
    BatchError
        No such file or folder, no picture in it, or a list with a fault; the text names file,
        line, column, wanted and found.
    """
    if os.path.isdir(source):
        return _from_folder(source, defaults, stock)
    if not os.path.exists(source):
        raise BatchError(f"{source}: wanted a folder or a CSV list, found no such file")
    return _from_list(source, defaults, stock)


def _from_folder(folder: Path, defaults: PhotoArguments, stock: Stock) -> tuple[Job, ...]:
    try:
        common = _job("", folder, defaults, stock)
    except ArgumentError as fault:
        raise BatchError(f"{fault.argument}: {fault}") from fault
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


def _from_list(source: Path, defaults: PhotoArguments, stock: Stock) -> tuple[Job, ...]:
    return read_table(
        read_csv_text(source, fault=BatchError),
        str(source),
        COLUMNS,
        lambda line: _job_of_line(line, defaults, stock, source.parent),
        what="photo",
        too_many="points with commas need quotes around them",
        fault=BatchError,
    )


def _job(name: str, path: Path, typed: PhotoArguments, stock: Stock) -> Job:
    return Job(
        name=name,
        path=path,
        task=typed.task(),
        stock=stock,
    )


def _job_of_line(line: Line, defaults: PhotoArguments, stock: Stock, folder: Path) -> Job:
    said = {
        _argument(heading.column): _value(cell, heading, f"{line.place}, column {heading.header}")
        for heading in line.headings
        if (cell := line.cell(heading))
    }
    photo = said.pop("photo", None)
    if photo is None:
        raise BatchError(f"{line.place}, column photo: wanted a file, found an empty cell")
    try:
        return _job(str(photo), folder / str(photo), defaults.overridden(said), stock)
    except ArgumentError as fault:
        header = next(
            (h.header for h in line.headings if _argument(h.column) == fault.argument),
            fault.argument,
        )
        raise BatchError(f"{line.place}, column {header}: {fault}") from fault


def _argument(column: Column) -> str:
    return "age_y" if column.name == "age" else column.field


def _value(cell: str, heading: Heading, place: str) -> str | float:
    match heading.column.quantity:
        case "length":
            return length_cell_mm(cell, heading.unit, place, fault=BatchError)
        case "number":
            return number_cell(cell, place, fault=BatchError)
        case _ if heading.column.name in ("reference", "plane", "legwear", "heels_down", "sex"):
            return cell.lower()
        case _:
            return cell
