"""A catalogue's text changed in one cell or by one bicycle, and what changed between two catalogues."""

import csv
import io
import math
from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Final

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.tyre import TyreReading
from pose_fit.errors import CatalogueError
from pose_fit.files.csv_table import LENGTH_UNITS, separator_of

__all__ = [
    "BicycleChange",
    "CatalogueChange",
    "SomeNames",
    "StandoverMeasured",
    "Value",
    "ValueChange",
    "catalogue_change",
    "headers_of",
    "with_bicycle",
    "with_cell",
    "with_measured_standover",
    "without_bicycle",
]

#: Bicycles named of each kind of change; more are counted.
_MOST_NAMED: Final = 5

Value = str | float | bool | None


@dataclass(frozen=True, slots=True)
class SomeNames:
    """How many bicycles, and the first of them by name."""

    count: int
    first: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ValueChange:
    """One field of a bicycle and its values, in the units of that field; None is not known."""

    field: str
    before: Value
    after: Value


@dataclass(frozen=True, slots=True)
class BicycleChange:
    """What changed of one bicycle."""

    name: str
    values: tuple[ValueChange, ...]


@dataclass(frozen=True, slots=True)
class CatalogueChange:
    """What changed from one catalogue to the next; of many changed bicycles the first."""

    added: SomeNames
    gone: SomeNames
    changed: tuple[BicycleChange, ...]
    changed_count: int


@dataclass(frozen=True, slots=True)
class StandoverMeasured:
    """A bicycle's standover was measured in the shop."""

    name: str
    standover_mm: float


def headers_of(text: str) -> tuple[str, ...]:
    """The headers of a catalogue's text, as they stand there."""
    rows, _ = _rows(text)
    return tuple(cell.strip() for cell in rows[0])


def with_cell(text: str, *, name: str, header: str, value: str) -> str:
    """The text with one cell of one bicycle changed; a column that is missing is added.

    Raises
    ------
    CatalogueError
        No bicycle has this name.
    """
    rows, delimiter = _rows(text)
    headers = [_plain(cell) for cell in rows[0]]
    if _plain(header) not in headers:
        rows[0].append(header)
        headers.append(_plain(header))
    column, names = headers.index(_plain(header)), headers.index("name")
    for row in rows[1:]:
        if len(row) > names and row[names].strip().casefold() == name.strip().casefold():
            row += [""] * (column + 1 - len(row))
            row[column] = value
            break
    else:
        raise CatalogueError(f"wanted a bicycle of the catalogue, found {name!r}")
    return _text(rows, delimiter)


def with_bicycle(text: str, bicycle: Bicycle) -> str:
    """The text with one more bicycle at its end; columns that are missing are added.

    ``text`` is empty for a first bicycle. A name that is there already is a fault of the catalogue
    that comes out.
    """
    rows, delimiter = _rows(text) if text else ([[]], ",")
    headers, row = rows[0], [""] * len(rows[0])
    for field in fields(Bicycle):
        value = getattr(bicycle, field.name)
        if value is None or value == field.default:
            continue
        header, cell = _header_and_cell(field.name, value, headers)
        if header not in headers:
            headers.append(header)
            row.append("")
        row[headers.index(header)] = cell
    return _text([*rows, row], delimiter)


def without_bicycle(text: str, *, name: str) -> str:
    """The text without one bicycle.

    Raises
    ------
    CatalogueError
        No bicycle has this name.
    """
    rows, delimiter = _rows(text)
    names = [_plain(cell) for cell in rows[0]].index("name")
    kept = [row for row in rows if row[names].strip().casefold() != name.strip().casefold()]
    if len(kept) == len(rows):
        raise CatalogueError(f"wanted a bicycle of the catalogue, found {name!r}")
    return _text(kept, delimiter)


def with_measured_standover(text: str, *, name: str, standover_mm: float) -> str:
    """The text with a standover that was measured in the shop, and its source.

    Raises
    ------
    CatalogueError
        No bicycle has this name.
    """
    units = {f"standover_{unit}": mm for unit, mm in LENGTH_UNITS.items()}
    header = next(header for header in headers_of(text) if _plain(header) in units)
    value = _number(standover_mm / units[_plain(header)])
    changed = with_cell(text, name=name, header=header, value=value)
    return with_cell(changed, name=name, header="standover_source", value="measured")


def catalogue_change(before: Sequence[Bicycle], after: Sequence[Bicycle]) -> CatalogueChange:
    """What changed from one catalogue to the next."""
    old = {bicycle.name.casefold(): bicycle for bicycle in before}
    new = {bicycle.name.casefold(): bicycle for bicycle in after}
    changed = [
        BicycleChange(bicycle.name, _value_changes(old[key], bicycle))
        for key, bicycle in new.items()
        if key in old and old[key] != bicycle
    ]
    return CatalogueChange(
        added=_named([bicycle.name for key, bicycle in new.items() if key not in old]),
        gone=_named([bicycle.name for key, bicycle in old.items() if key not in new]),
        changed=tuple(changed[:_MOST_NAMED]),
        changed_count=len(changed),
    )


def _header_and_cell(
    field: str, value: Value | TyreReading, headers: Sequence[str]
) -> tuple[str, str]:
    """The column for a field of a bicycle, in the unit that the catalogue has it in, and its cell."""
    told, _, unit = field.rpartition("_")
    columns = {field: 1.0}
    if unit == "mm":
        columns = {f"{told}_{length}": mm for length, mm in LENGTH_UNITS.items()}
    elif unit == "rad":
        columns = {f"{told}_deg": math.radians(1)}
    header = next((header for header in headers if _plain(header) in columns), next(iter(columns)))
    if isinstance(value, bool):
        return header, "yes" if value else "no"
    if isinstance(value, float | int):
        return header, _number(value / columns[_plain(header)])
    return header, str(_value(value))


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _named(names: Sequence[str]) -> SomeNames:
    return SomeNames(len(names), tuple(names[:_MOST_NAMED]))


def _value_changes(before: Bicycle, after: Bicycle) -> tuple[ValueChange, ...]:
    return tuple(
        ValueChange(field.name, _value(old), _value(new))
        for field in fields(Bicycle)
        if (old := getattr(before, field.name)) != (new := getattr(after, field.name))
    )


def _value(value: Value | TyreReading) -> Value:
    return value.marking if isinstance(value, TyreReading) else value


def _rows(text: str) -> tuple[list[list[str]], str]:
    """Rows and the separator."""
    text = text.removeprefix("\ufeff")
    delimiter = separator_of(text)
    rows = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter) if row]
    return rows, delimiter


def _text(rows: Sequence[Sequence[str]], delimiter: str) -> str:
    table = io.StringIO(newline="")
    csv.writer(table, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return table.getvalue()


def _plain(header: str) -> str:
    return header.strip().lower().replace(" ", "_")
