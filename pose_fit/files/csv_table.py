"""Tables people type: cells of a CSV file with line and column in every error.

``fault`` is the error to raise, so that each kind of file has its own.
"""

import csv
import difflib
import io
import math
import os
import stat
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal, TypeVar

from pose_fit.errors import InputError
from pose_fit.metrology.units import MM_PER_INCH, parse_length_mm

__all__ = [
    "ANGLE_UNITS",
    "LENGTH_UNITS",
    "CellKind",
    "Column",
    "Heading",
    "Line",
    "length_cell_mm",
    "number_cell",
    "read_csv_text",
    "read_table",
    "separator_of",
    "unused_headers",
]

#: More is not a table that anybody typed; a device may have no end.
MAX_TABLE_BYTES: Final = 64_000_000

_MAX_FAULTS_NAMED: Final = 5
#: How the files of spreadsheet programs begin: a ZIP archive, or the older compound file.
_WORKBOOKS: Final = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")

Item = TypeVar("Item")
#: What the cells of a column hold.
CellKind = Literal["text", "length", "angle", "number", "yes_no"]

#: Header endings of a length, and millimetres in each.
LENGTH_UNITS: Final[dict[str, float]] = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}
#: Header endings of an angle, and radians in each.
ANGLE_UNITS: Final[dict[str, float]] = {"deg": math.radians(1.0)}


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the file.

    Attributes
    ----------
    name
        Header without its unit.
    kind
        What a cell holds. A length's header ends in ``_mm``, ``_cm`` or ``_in``, an angle's in
        ``_deg``.
    required
        Whether every row needs it.
    meaning
        What to measure and how, for a shop.
    bare_header
        A length may stand under the name alone, each cell with its unit.
    """

    name: str
    kind: CellKind
    required: bool
    meaning: str
    bare_header: bool = False

    @property
    def headers(self) -> tuple[str, ...]:
        """The headers this column can have in a file."""
        if self.kind == "length":
            bare = (self.name,) if self.bare_header else ()
            return (*bare, *(f"{self.name}_{unit}" for unit in LENGTH_UNITS))
        if self.kind == "angle":
            return tuple(f"{self.name}_{unit}" for unit in ANGLE_UNITS)
        return (self.name,)

    @property
    def field(self) -> str:
        """The field it fills of what a row becomes: name and the library's unit."""
        return self.name + {"length": "_mm", "angle": "_rad"}.get(self.kind, "")


@dataclass(frozen=True, slots=True)
class Heading:
    """Where a column stands in this file, and what turns its numbers into the library's unit."""

    index: int
    header: str
    column: Column
    unit: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the file below its header; ``place`` names file and line in an error."""

    number: int
    place: str
    headings: tuple[Heading, ...]
    cells: tuple[str, ...]

    def cell(self, heading: Heading) -> str:
        """What stands under a heading; empty where the line ends before it."""
        return self.cells[heading.index] if heading.index < len(self.cells) else ""


def read_csv_text(path: str | Path, *, fault: type[InputError]) -> str:
    """The text of a UTF-8 file, with or without a byte order mark.

    Raises
    ------
    fault
        It is not a file, cannot be read, is far too large or is not UTF-8.
    """
    try:
        # A pipe that nobody writes would be waited for without end.
        with open(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise fault(f"{path}: wanted a file, found a folder, a pipe or a device")
            data = file.read(MAX_TABLE_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise fault(f"{path}: cannot be read ({reason})") from error
    if data.startswith(_WORKBOOKS):
        raise fault(f"{path}: is a spreadsheet’s workbook; save the table as “CSV UTF-8”")
    if len(data) > MAX_TABLE_BYTES:
        raise fault(f"{path}: wanted at most {MAX_TABLE_BYTES / 1e6:.0f} megabytes, found more")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise fault(
            f"{path}: is not UTF-8 text (byte {error.start}); save the table as “CSV UTF-8”"
        ) from error


def separator_of(text: str) -> str:
    """What stands between the cells, as the header has it: comma, semicolon or tab."""
    header = text.lstrip("\r\n").partition("\n")[0]
    return max(",;\t", key=header.count)


def _rows(text: str, source: str, *, fault: type[InputError]) -> Iterator[tuple[int, list[str]]]:
    """Line number in the file and stripped cells of each row that is not empty.

    Raises
    ------
    fault
        The text is not CSV.
    """
    text = text.removeprefix("\ufeff")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator_of(text), strict=True)
    line = 1
    try:
        for cells in reader:
            row = [cell.strip() for cell in cells]
            if any(row):
                yield line, row
            line = reader.line_num + 1
    except csv.Error as error:
        raise fault(f"{source}, line {line}: is not CSV ({error})") from error


def _plain(header: str) -> str:
    return header.lower().replace(" ", "_")


def _headings(
    header_row: list[str], columns: Sequence[Column], place: str, *, fault: type[InputError]
) -> tuple[Heading, ...]:
    """The columns the file has, in its order; ``place`` begins the text of an error.

    Raises
    ------
    fault
        A required column is missing, one is there twice, or a name looks misspelt.
    """
    known = {header: column for column in columns for header in column.headers}
    headings: dict[str, Heading] = {}
    for index, cell in enumerate(header_row):
        header = _plain(cell)
        column = known.get(header)
        if column is None:
            # An extra column is the shop's own business, a misspelt one would be lost silently.
            if close := difflib.get_close_matches(header, known, n=1, cutoff=0.85):
                raise fault(f"{place}: found column {cell!r}; did you mean {close[0]!r}?")
            continue
        if column.name in headings:
            raise fault(
                f"{place}: wanted one column for {column.name}, found"
                f" {headings[column.name].header!r} and {header!r}; keep one, where a cell may have a"
                " unit of its own, such as 20.5 in"
            )
        unit = header.removeprefix(column.name).removeprefix("_")
        headings[column.name] = Heading(index, header, column, unit)
    for column in columns:
        if column.required and column.name not in headings:
            found = ", ".join(cell for cell in header_row if cell) or "nothing"
            wanted = " or ".join(repr(header) for header in column.headers)
            raise fault(f"{place}: wanted a column {wanted}, found {found}")
    return tuple(headings.values())


def unused_headers(text: str, columns: Sequence[Column]) -> tuple[str, ...]:
    """The headers, as the file has them, that are none of these columns' and so are not read."""
    known = {header for column in columns for header in column.headers}
    _, header_row = next(_rows(text, "", fault=InputError), (1, []))
    return tuple(cell for cell in header_row if cell and _plain(cell) not in known)


def read_table(
    text: str,
    source: str,
    columns: Sequence[Column],
    made_of: Callable[[Line], Item],
    *,
    what: str,
    too_many: str,
    fault: type[InputError],
) -> tuple[Item, ...]:
    """What ``made_of`` makes of each line below the header.

    Parameters
    ----------
    what
        What one line describes, for errors: "bicycle", "pair".
    too_many
        The usual cause of a line with more cells than the header, for its error.

    Raises
    ------
    fault
        No header, no line, or faulty lines; the text names the first few.
    """
    rows = _rows(text, source, fault=fault)
    number, header_row = next(rows, (1, []))
    if not header_row:
        raise fault(f"{source}: is empty; wanted a header line and one line for each {what}")
    headings = _headings(header_row, columns, f"{source}, line {number}", fault=fault)
    items: list[Item] = []
    faults: list[str] = []
    for number, cells in rows:
        line = Line(number, f"{source}, line {number}", headings, tuple(cells))
        try:
            if len(cells) > len(header_row):
                raise fault(
                    f"{line.place}: wanted {len(header_row)} cells as in the header, found"
                    f" {len(cells)}; {too_many}"
                )
            items.append(made_of(line))
        except fault as error:
            faults.append(str(error))
    if faults:
        more = len(faults) - _MAX_FAULTS_NAMED
        named = faults[:_MAX_FAULTS_NAMED] + ([f"and {more} more faults"] if more > 0 else [])
        raise fault("\n".join(named))
    if not items:
        raise fault(f"{source}: holds no {what}; wanted one line for each below the header")
    return tuple(items)


def number_cell(cell: str, place: str, *, fault: type[InputError]) -> float:
    """A number with decimal point or comma."""
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise fault(f"{place}: wanted a number, found {cell!r}")
    return value


def length_cell_mm(cell: str, unit: str, place: str, *, fault: type[InputError]) -> float:
    """A length in the heading's unit, or with its own."""
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        try:
            return parse_length_mm(cell, default_unit=unit)
        except InputError as error:
            raise fault(f"{place}: wanted a length in {unit}, found {cell!r}") from error
    if not math.isfinite(value):
        raise fault(f"{place}: wanted a length in {unit}, found {cell!r}")
    return value * LENGTH_UNITS[unit]
