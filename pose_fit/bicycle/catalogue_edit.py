"""A catalogue's text changed in one cell, and two catalogues compared in words."""

import csv
import io
from collections.abc import Sequence
from dataclasses import fields
from typing import Final

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.errors import CatalogueError
from pose_fit.files.csv_table import LENGTH_UNITS, separator_of

__all__ = ["change_words", "headers_of", "with_cell", "with_measured_standover"]

#: Names told of each kind of change; more are counted.
_MOST_TOLD: Final = 5


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
    table = io.StringIO(newline="")
    csv.writer(table, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return table.getvalue()


def with_measured_standover(text: str, *, name: str, standover_mm: float) -> str:
    """The text with a standover that was measured in the shop, and its source.

    Raises
    ------
    CatalogueError
        No bicycle has this name.
    """
    units = {f"standover_{unit}": mm for unit, mm in LENGTH_UNITS.items()}
    header = next(header for header in headers_of(text) if _plain(header) in units)
    value = f"{standover_mm / units[_plain(header)]:.2f}".rstrip("0").rstrip(".")
    changed = with_cell(text, name=name, header=header, value=value)
    return with_cell(changed, name=name, header="standover_source", value="measured")


def change_words(before: Sequence[Bicycle], after: Sequence[Bicycle]) -> str:
    """What changed from one catalogue to the next, in a sentence."""
    old = {bicycle.name.casefold(): bicycle for bicycle in before}
    new = {bicycle.name.casefold(): bicycle for bicycle in after}
    added = [bicycle.name for key, bicycle in new.items() if key not in old]
    gone = [bicycle.name for key, bicycle in old.items() if key not in new]
    changed = [
        f"{bicycle.name} ({_differences(old[key], bicycle)})"
        for key, bicycle in new.items()
        if key in old and old[key] != bicycle
    ]
    parts = [
        f"{len(names)} {word}: {_told(names)}"
        for word, names in (("new", added), ("gone", gone), ("changed", changed))
        if names
    ]
    return "; ".join(parts) or "nothing changed"


def _differences(before: Bicycle, after: Bicycle) -> str:
    told = []
    for field in fields(Bicycle):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if old != new:
            name = field.name.removesuffix("_mm").removesuffix("_rad").replace("_", " ")
            if field.name == "tyre":
                told.append("tyre")
            else:
                told.append(f"{name} {_value(old)} to {_value(new)}")
    return ", ".join(told)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return "unknown" if value is None else str(value)


def _told(names: Sequence[str]) -> str:
    more = len(names) - _MOST_TOLD
    return ", ".join(names[:_MOST_TOLD]) + (f" and {more} more" if more > 0 else "")


def _rows(text: str) -> tuple[list[list[str]], str]:
    """Rows and the separator."""
    text = text.removeprefix("\ufeff")
    delimiter = separator_of(text)
    rows = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter) if row]
    return rows, delimiter


def _plain(header: str) -> str:
    return header.strip().lower().replace(" ", "_")
