"""Tells which columns of a table the program does not know, so that nothing is lost silently."""

import sys
from collections.abc import Sequence
from pathlib import Path

from pose_fit.errors import InputError
from pose_fit.files.csv_table import Column, read_csv_text, unused_headers

__all__ = ["tell_unused_columns"]

_MOST_TOLD = 8


def tell_unused_columns(path: Path, columns: Sequence[Column]) -> None:
    """One line on standard error; none where every column of the file is one of these.

    Raises
    ------
    InputError
        The file cannot be read.
    """
    unused = unused_headers(read_csv_text(path, fault=InputError), columns)
    if unused:
        names = ", ".join(unused[:_MOST_TOLD])
        more = f" and {len(unused) - _MOST_TOLD} more" if len(unused) > _MOST_TOLD else ""
        print(f"pose-fit: {path}: columns not used: {names}{more}", file=sys.stderr)
