"""Read a shop's bicycles from a CSV file, and say exactly what is wrong with a bad one."""

import functools
import math
import re
import unicodedata
from pathlib import Path
from typing import Any, Final

from pose_fit.bicycle.bicycle import LENGTH_RANGES_MM, Bicycle
from pose_fit.bicycle.columns import COLUMNS
from pose_fit.bicycle.tyre import TyreReading, read_marking
from pose_fit.errors import CatalogueError, InputError
from pose_fit.files.csv_table import (
    ANGLE_UNITS,
    LENGTH_UNITS,
    Heading,
    Line,
    length_cell_mm,
    number_cell,
    read_csv_text,
    read_table,
)

__all__ = ["DEMO_CATALOGUE", "parse_catalogue", "read_catalogue"]

#: The stock of an invented shop, for trying things out.
DEMO_CATALOGUE: Final = Path(__file__).parents[1] / "data" / "demo_bicycles.csv"

#: Words of the column ``kind``; any other, such as a shop's own "city", is a bicycle with pedals.
_WITHOUT_PEDALS: Final = frozenset({"balance", "balance_bicycle", "balance_bike"})
_NOT_BY_INSEAM: Final = frozenset({"tricycle", "trike", "bmx", "scooter"})

_WORD: Final = re.compile(r"[a-z]+")

_YES_NO: Final = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


def read_catalogue(path: str | Path) -> tuple[Bicycle, ...]:
    """Read a catalogue file.

    The columns are those of :data:`pose_fit.bicycle.columns.COLUMNS`; others are ignored.
    Comma, semicolon or tab between cells, decimal point or comma, UTF-8 with or without a byte
    order mark.

    Returns
    -------
    tuple of Bicycle
        In the order of the file, at least one.

    Raises
    ------
    CatalogueError
        The file cannot be read, lacks a column, holds something other than what a cell
        should, or names two bicycles alike. The text says file, line, column, wanted, found.
    """
    text = read_csv_text(path, fault=CatalogueError)
    return parse_catalogue(text, source=str(path))


def parse_catalogue(text: str, *, source: str) -> tuple[Bicycle, ...]:
    """Read a catalogue from the text of a CSV file; ``source`` names it in errors.

    Raises
    ------
    CatalogueError
        As :func:`read_catalogue`.
    """
    line_of_name: dict[str, int] = {}

    def bicycle_of(line: Line) -> Bicycle:
        bicycle = _bicycle(line)
        first_line = line_of_name.setdefault(bicycle.name.casefold(), line.number)
        if first_line != line.number:
            raise CatalogueError(
                f"{line.place}, column name: wanted each name once, found {bicycle.name!r}"
                f" also in line {first_line}; add the size or colour to one, or leave it out"
            )
        return bicycle

    return read_table(
        text,
        source,
        COLUMNS,
        bicycle_of,
        what="bicycle",
        too_many="a decimal comma needs semicolons between the cells",
        fault=CatalogueError,
    )


def _bicycle(line: Line) -> Bicycle:
    values: dict[str, Any] = {}
    for heading in line.headings:
        cell = line.cell(heading)
        column = f"{line.place}, column {heading.header}"
        if cell:
            values[heading.column.field] = _value(cell, heading, column)
        elif heading.column.required:
            raise CatalogueError(
                f"{column}: wanted a value, found an empty cell; fill it in, or leave the line out"
            )
    _check_name(line, values)
    _apply_kind(line, values)
    try:
        return Bicycle(**values)
    except CatalogueError as error:
        field, _, problem = str(error).partition(": ")
        found = next((one for one in line.headings if one.column.field == field), None)
        column, typed = field, ""
        if found is not None:
            column = found.header
            is_other_unit = found.column.kind == "length" and found.unit != "mm"
            typed = f", typed {line.cell(found)!r}" if is_other_unit else ""
            typed += _unit_hint(line.cell(found), found)
        raise CatalogueError(f"{line.place}, column {column}: {problem}{typed}") from error


def _unit_hint(cell: str, heading: Heading) -> str:
    """The columns in whose unit a bare number would be a usual length, where it is none in its own."""
    low_mm, high_mm = LENGTH_RANGES_MM.get(heading.column.field, (math.inf, -math.inf))
    try:
        number = float(cell.replace(",", "."))
    except ValueError:
        return ""
    others = [
        repr(f"{heading.column.name}_{unit}")
        for unit, unit_mm in LENGTH_UNITS.items()
        if unit != heading.unit and low_mm <= number * unit_mm <= high_mm
    ]
    if not others:
        return ""
    return f"; is it in another unit? Then call the column {' or '.join(others)}"


def _check_name(line: Line, values: dict[str, Any]) -> None:
    """A list without a column for the kind may hold what the inseam does not size all the same."""
    if "kind" in values:
        return
    name = values.get("name", "")
    found = next((one for one in _WORD.findall(name.lower()) if one in _NOT_BY_INSEAM), None)
    if found is not None:
        raise CatalogueError(
            f"{line.place}, column name: wanted a bicycle, found {name!r}, and the inseam does not"
            f" size a {found}; leave it out, or say bicycle in a column kind"
        )


def _apply_kind(line: Line, values: dict[str, Any]) -> None:
    """Take the kind out of the values: what it says is whether there are pedals."""
    kind = values.pop("kind", None)
    if kind in _NOT_BY_INSEAM:
        raise CatalogueError(
            f"{line.place}, column kind: wanted a bicycle, found {kind!r}, which the inseam does not"
            " size; leave it out of this list"
        )
    if kind in _WITHOUT_PEDALS and values.setdefault("pedals", False):
        raise CatalogueError(
            f"{line.place}, column pedals: wanted no on a balance bicycle, found yes"
        )


def _value(cell: str, heading: Heading, place: str) -> str | float | bool | TyreReading:
    match heading.column.kind:
        case "text" if heading.column.name == "tyre":
            return _tyre(cell, place)
        case "text" if heading.column.name == "name":
            return _name(cell, place)
        case "text":
            return cell.lower().replace("-", "_").replace(" ", "_")
        case "length":
            return length_cell_mm(cell, heading.unit, place, fault=CatalogueError)
        case "angle":
            return number_cell(cell, place, fault=CatalogueError) * ANGLE_UNITS[heading.unit]
        case "number":
            return number_cell(cell, place, fault=CatalogueError)
        case "yes_no":
            return _yes_no(cell, place)


def _name(cell: str, place: str) -> str:
    """The name on one line."""
    name = " ".join(cell.split())
    # A terminal would obey them.
    if any(unicodedata.category(letter) == "Cc" for letter in name):
        raise CatalogueError(f"{place}: wanted a name without control characters, found {cell!r}")
    return name


def _tyre(cell: str, place: str) -> TyreReading:
    try:
        return _cached_marking(cell)
    except InputError as error:
        raise CatalogueError(f"{place}: {error}") from error


@functools.lru_cache(maxsize=1024)
def _cached_marking(cell: str) -> TyreReading:
    return read_marking(cell)


def _yes_no(cell: str, place: str) -> bool:
    word = cell.lower()
    if word in _YES_NO:
        return _YES_NO[word]
    if word.isdecimal():
        return int(word) > 0
    raise CatalogueError(f"{place}: wanted yes, no or a count, found {cell!r}")
