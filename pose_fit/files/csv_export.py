"""Tables for spreadsheets, in which no cell is taken for a formula."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from typing import Final

__all__ = ["Cell", "csv_bytes", "safe_cell"]

Cell = str | int | float | None


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table for spreadsheets, each text made safe.

    UTF-8 with a byte order mark, which spreadsheets need to read accents.
    """
    table = io.StringIO(newline="")
    writer = csv.writer(table)
    writer.writerow(header)
    for row in rows:
        writer.writerow([safe_cell(cell) if isinstance(cell, str) else cell for cell in row])
    return table.getvalue().encode("utf-8-sig")


#: Where a spreadsheet may begin to read a formula: at the start, behind blanks and quotes, or, for one
#: that takes semicolons or tabs for separators, behind those. The wide forms count too.
_FORMULA: Final = re.compile(r'(?:^|(?<=[;\t\r\n]))(?=[\s"]*[=+\-@\t\r＝＋－＠])')


def safe_cell(text: str) -> str:
    """The text with an apostrophe before everything that a spreadsheet may take for a formula.

    Numbers are written as numbers and never come here.
    """
    return _FORMULA.sub("'", text)
