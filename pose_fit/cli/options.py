"""Options and exit codes that several commands share, besides the facts of ``task.facts``."""

from pathlib import Path
from typing import Annotated, Literal

import typer

__all__ = [
    "EXIT_REFUSED",
    "EXIT_WRONG_CALL",
    "AsJson",
    "Bikes",
    "Care",
    "Details",
    "Stretch",
    "Today",
    "Units",
]

EXIT_WRONG_CALL = 2
EXIT_REFUSED = 3

Bikes = Annotated[
    Path | None,
    typer.Option("--bikes", metavar="CSV", help="Catalogue of bicycles to judge."),
]
Care = Annotated[
    Literal["careful", "hasty"],
    typer.Option(
        help="How the tape was held: careful is a book pressed up, barefoot, the back straight.",
        case_sensitive=False,
    ),
]
Stretch = Annotated[
    bool,
    typer.Option("--stretch", help="Accept less than the usual clearance, never contact."),
]
Today = Annotated[
    str | None,
    typer.Option(
        metavar="YYYY-MM-DD",
        help="Day the advice is for.  [default: the day on which you ask]",
        show_default=False,
    ),
]
Units = Annotated[
    Literal["in", "cm"],
    typer.Option(help="Unit that comes first.", case_sensitive=False),
]
Details = Annotated[
    bool,
    typer.Option("--details", help="Tell all that is known: intervals, reasons, sources."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object a line.")]
