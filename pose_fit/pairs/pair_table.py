"""Pairs as a CSV table: a shop's own list read, and the case book's pairs written."""

import datetime as dt
from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final

from pose_fit.errors import InputError, PoseFitError
from pose_fit.files.csv_export import Cell, csv_bytes
from pose_fit.files.csv_table import (
    Column,
    Heading,
    Line,
    length_cell_mm,
    number_cell,
    read_csv_text,
    read_table,
)
from pose_fit.growth.dated_readings import check_past
from pose_fit.inseam.from_tape import TAPE_CARE
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.pairs.pair import Pair
from pose_fit.reference.request import REFERENCE_KINDS
from pose_fit.task.legwear import LEGWEAR

__all__ = ["COLUMNS", "pairs_csv", "read_pairs"]

COLUMNS: Final = (
    Column("child", "text", False, "Number or mark of the child, by which you find it again."),
    Column("photo", "length", True, "Inseam from the photo, without any tape in it."),
    Column("photo_sd", "length", True, "Its standard uncertainty."),
    Column("tape_1", "length", True, "First reading of the tape."),
    Column("tape_2", "length", False, "Second reading."),
    Column("tape_3", "length", False, "Third reading."),
    Column("care", "text", False, "careful (book pressed up, barefoot) or hasty; else careful."),
    Column("taken_by", "text", True, "Who held the tape."),
    Column("day", "text", True, "Day of the tape, as 2026-03-02."),
    Column("reference", "text", False, "Object in the photo: " + ", ".join(REFERENCE_KINDS) + "."),
    Column("legwear", "text", False, ", ".join(LEGWEAR) + "."),
    Column("touched", "text", False, "yes where the bicycle that was tried touched, else no."),
    Column("shop", "text", False, "Branch."),
)
_READINGS: Final = ("tape_1_mm", "tape_2_mm", "tape_3_mm")


def read_pairs(path: str | Path) -> tuple[Pair, ...]:
    """The pairs of a CSV file, at least one.

    Raises
    ------
    InputError
        The file cannot be read, or a line has a fault; the text names file, line and column.
    """
    text = read_csv_text(path, fault=InputError)
    return read_table(
        text,
        str(path),
        COLUMNS,
        _pair,
        what="pair",
        too_many="a comma inside a cell needs quotes around the cell",
        fault=InputError,
    )


def _pair(line: Line) -> Pair:
    cells = {heading.column.field: _value(line, heading) for heading in line.headings}
    given = {name: value for name, value in cells.items() if value is not None}
    for name in ("photo_mm", "photo_sd_mm", "tape_1_mm", "taken_by", "day"):
        if name not in given:
            raise InputError(f"{line.place}: wanted a value for {name}, found none")
    try:
        photo = UncertainLength(
            given["photo_mm"], (Contribution("photo, as stated", given["photo_sd_mm"]),)
        )
        return Pair(
            name=given.get("child") or f"line {line.number}",
            photo=Inseam(photo, "photo"),
            readings_mm=tuple(given[name] for name in _READINGS if name in given),
            care=given.get("care", "careful"),
            taken_by=given["taken_by"],
            day=given["day"],
            reference=given.get("reference"),
            legwear=given.get("legwear"),
            touched=given.get("touched"),
            shop=given.get("shop", ""),
        )
    except (PoseFitError, ValueError) as fault:
        raise InputError(f"{line.place}: {fault}") from fault


def _value(line: Line, heading: Heading) -> Any:
    """What a cell holds; None for an empty one."""
    cell, name = line.cell(heading), heading.column.name
    place = f"{line.place}, {heading.header}"
    if not cell:
        return None
    match heading.column.kind:
        case "length":
            length_mm = length_cell_mm(cell, heading.unit, place, fault=InputError)
            if length_mm <= 0:
                raise InputError(f"{place}: wanted more than 0, found {cell!r}")
            return length_mm
        case "number":
            return number_cell(cell, place, fault=InputError)
    match name:
        case "care":
            return _one_of(cell, tuple(TAPE_CARE), place)
        case "reference":
            return _one_of(cell, REFERENCE_KINDS, place)
        case "legwear":
            return _one_of(cell, LEGWEAR, place)
        case "touched":
            return _one_of(cell, ("yes", "no"), place) == "yes"
        case "day":
            return _past_day(cell, place)
    return cell


def _past_day(cell: str, place: str) -> dt.date:
    try:
        day = dt.date.fromisoformat(cell)
    except ValueError:
        raise InputError(f"{place}: wanted a day such as 2026-03-02, found {cell!r}") from None
    check_past(place, day, today=dt.date.today())
    return day


def _one_of(cell: str, names: tuple[str, ...], place: str) -> str:
    if cell.lower() not in names:
        raise InputError(f"{place}: wanted one of {', '.join(names)}, found {cell!r}")
    return cell.lower()


def pairs_csv(pairs: Iterable[Pair]) -> bytes:
    """The pairs as a table that :func:`read_pairs` reads.

    Of more than three readings of one tape the mean is written three times over: the table has
    three columns.
    """
    return csv_bytes([column.headers[0] for column in COLUMNS], map(_row, pairs))


def _row(pair: Pair) -> list[Cell]:
    readings = pair.readings_mm
    if len(readings) > len(_READINGS):
        readings = (pair.tape.mean_mm,) * len(_READINGS)
    rounded = [round(reading_mm, 2) for reading_mm in readings]
    return [
        pair.name,
        round(pair.photo.mean_mm, 2),
        round(pair.photo.sd_mm, 3),
        *rounded,
        *[None] * (len(_READINGS) - len(rounded)),
        pair.care,
        pair.taken_by,
        pair.day.isoformat(),
        pair.reference,
        pair.legwear,
        {True: "yes", False: "no", None: None}[pair.touched],
        pair.shop,
    ]
