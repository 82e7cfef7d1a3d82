"""Read a shop's bicycles from a CSV file, and say exactly what is wrong with a bad one."""

import csv
import difflib
import functools
import io
import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.columns import ANGLE_UNITS, COLUMNS, LENGTH_UNITS, Column
from pose_fit.bicycle.tyre import TyreReading, read_marking
from pose_fit.errors import CatalogueError, InputError
from pose_fit.units import parse_length_mm

__all__ = ["DEMO_CATALOGUE", "parse_catalogue", "read_catalogue"]

#: The stock of an invented shop, for trying things out.
DEMO_CATALOGUE: Final = Path(__file__).parents[1] / "data" / "demo_bicycles.csv"

_MAX_FAULTS_TOLD: Final = 5
_YES_NO: Final = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


@dataclass(frozen=True, slots=True)
class _Heading:
    """Where a column stands in this file, and what turns its numbers into the library's unit."""

    index: int
    header: str
    column: Column
    unit: str


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
    try:
        data = Path(path).read_bytes()
    except OSError as error:
        raise CatalogueError(f"{path}: cannot be read ({error.strerror or error})") from error
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CatalogueError(
            f"{path}: is no UTF-8 text (byte {error.start}); save the table as “CSV UTF-8”"
        ) from error
    return parse_catalogue(text, source=str(path))


def parse_catalogue(text: str, *, source: str) -> tuple[Bicycle, ...]:
    """Read a catalogue from the text of a CSV file; ``source`` names it in errors.

    Raises
    ------
    CatalogueError
        As :func:`read_catalogue`.
    """
    rows = _rows(text.removeprefix("\ufeff"), source)
    line, header_row = next(rows, (1, []))
    if not header_row:
        raise CatalogueError(f"{source}: is empty; wanted a header line and one line a bicycle")
    headings = _headings(header_row, f"{source}, line {line}")
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


def _rows(text: str, source: str) -> Iterator[tuple[int, list[str]]]:
    """Line number in the file and stripped cells of each row that is not empty."""
    header = text.lstrip("\r\n").partition("\n")[0]
    delimiter = max(",;\t", key=header.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 1
    try:
        for cells in reader:
            row = [cell.strip() for cell in cells]
            if any(row):
                yield line, row
            line = reader.line_num + 1
    except csv.Error as error:
        raise CatalogueError(f"{source}, line {line}: is no CSV ({error})") from error


def _headings(header_row: list[str], place: str) -> tuple[_Heading, ...]:
    known = {header: column for column in COLUMNS for header in column.headers}
    headings: dict[str, _Heading] = {}
    for index, cell in enumerate(header_row):
        header = cell.lower().replace(" ", "_")
        column = known.get(header)
        if column is None:
            # An extra column is the shop's own business, a misspelt one would be lost silently.
            if close := difflib.get_close_matches(header, known, n=1, cutoff=0.85):
                raise CatalogueError(f"{place}: found column {cell!r}; did you mean {close[0]!r}?")
            continue
        if column.name in headings:
            raise CatalogueError(
                f"{place}: wanted one column for {column.name}, found"
                f" {headings[column.name].header!r} and {header!r}"
            )
        unit = header.removeprefix(column.name).removeprefix("_")
        headings[column.name] = _Heading(index, header, column, unit)
    for column in COLUMNS:
        if column.required and column.name not in headings:
            found = ", ".join(cell for cell in header_row if cell) or "nothing"
            wanted = " or ".join(repr(header) for header in column.headers)
            raise CatalogueError(f"{place}: wanted a column {wanted}, found {found}")
    return tuple(headings.values())


def _bicycle(row: list[str], headings: tuple[_Heading, ...], place: str) -> Bicycle:
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


def _value(cell: str, heading: _Heading, place: str) -> str | float | bool | TyreReading:
    match heading.column.quantity:
        case "text" if heading.column.name == "tyre":
            return _tyre(cell, place)
        case "text" if heading.column.name == "name":
            return cell
        case "text":
            return cell.lower().replace("-", "_").replace(" ", "_")
        case "length":
            return _length_mm(cell, heading.unit, place)
        case "angle":
            return _number(cell, place) * ANGLE_UNITS[heading.unit]
        case "number":
            return _number(cell, place)
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


def _length_mm(cell: str, unit: str, place: str) -> float:
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        try:
            return parse_length_mm(cell, default_unit=unit)
        except InputError as error:
            raise CatalogueError(f"{place}: wanted a length in {unit}, found {cell!r}") from error
    if not math.isfinite(value):
        raise CatalogueError(f"{place}: wanted a length in {unit}, found {cell!r}")
    return value * LENGTH_UNITS[unit]


def _number(cell: str, place: str) -> float:
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise CatalogueError(f"{place}: wanted a number, found {cell!r}")
    return value


def _yes_no(cell: str, place: str) -> bool:
    word = cell.lower()
    if word in _YES_NO:
        return _YES_NO[word]
    if word.isdecimal():
        return int(word) > 0
    raise CatalogueError(f"{place}: wanted yes, no or a count, found {cell!r}")
