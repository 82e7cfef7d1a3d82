"""Read a shop's bicycles from a CSV file, and say exactly what is wrong with a bad one."""

import functools
from pathlib import Path
from typing import Any, Final

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.columns import ANGLE_UNITS, COLUMNS
from pose_fit.bicycle.tyre import TyreReading, read_marking
from pose_fit.csv_table import (
    Heading,
    csv_rows,
    length_cell_mm,
    number_cell,
    read_csv_text,
    read_headings,
)
from pose_fit.errors import CatalogueError, InputError

__all__ = ["DEMO_CATALOGUE", "parse_catalogue", "read_catalogue"]

#: The stock of an invented shop, for trying things out.
DEMO_CATALOGUE: Final = Path(__file__).parents[1] / "data" / "demo_bicycles.csv"

_MAX_FAULTS_TOLD: Final = 5
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
    rows = csv_rows(text, source, fault=CatalogueError)
    line, header_row = next(rows, (1, []))
    if not header_row:
        raise CatalogueError(f"{source}: is empty; wanted a header line and one line a bicycle")
    headings = read_headings(header_row, COLUMNS, f"{source}, line {line}", fault=CatalogueError)
    bicycles: list[Bicycle] = []
    faults: list[str] = []
    line_of_name: dict[str, int] = {}
    for line, row in rows:
        place = f"{source}, line {line}"
        try:
            if len(row) > len(header_row):
                raise CatalogueError(
                    f"{place}: wanted {len(header_row)} cells as in the header, found {len(row)};"
                    " a decimal comma needs semicolons between the cells"
                )
            bicycle = _bicycle(row, headings, place)
            first_line = line_of_name.setdefault(bicycle.name.casefold(), line)
            if first_line != line:
                raise CatalogueError(
                    f"{place}, column name: wanted each name once, found {bicycle.name!r}"
                    f" also in line {first_line}"
                )
        except CatalogueError as error:
            faults.append(str(error))
        else:
            bicycles.append(bicycle)
    if faults:
        more = len(faults) - _MAX_FAULTS_TOLD
        told = faults[:_MAX_FAULTS_TOLD] + ([f"and {more} more faults"] if more > 0 else [])
        raise CatalogueError("\n".join(told))
    if not bicycles:
        raise CatalogueError(f"{source}: holds no bicycle; wanted one line each below the header")
    return tuple(bicycles)


def _bicycle(row: list[str], headings: tuple[Heading, ...], place: str) -> Bicycle:
    values: dict[str, Any] = {}
    for heading in headings:
        cell = row[heading.index] if heading.index < len(row) else ""
        column = f"{place}, column {heading.header}"
        if cell:
            values[heading.column.field] = _value(cell, heading, column)
        elif heading.column.required:
            raise CatalogueError(f"{column}: wanted a value, found an empty cell")
    try:
        return Bicycle(**values)
    except CatalogueError as error:
        field, _, problem = str(error).partition(": ")
        header = next((h.header for h in headings if h.column.field == field), field)
        unit = " (millimetres)" if field.endswith("_mm") and not header.endswith("_mm") else ""
        raise CatalogueError(f"{place}, column {header}: {problem}{unit}") from error


def _value(cell: str, heading: Heading, place: str) -> str | float | bool | TyreReading:
    match heading.column.quantity:
        case "text" if heading.column.name == "tyre":
            return _tyre(cell, place)
        case "text" if heading.column.name == "name":
            return cell
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
