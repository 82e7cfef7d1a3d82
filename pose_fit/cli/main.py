"""The command line. Heavy libraries are imported by the command that needs them."""

import io
import os
import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from pose_fit.cli.advise_command import advise
from pose_fit.cli.batch_command import batch
from pose_fit.cli.measure_command import measure
from pose_fit.cli.options import EXIT_REFUSED, EXIT_WRONG_CALL
from pose_fit.cli.pairs_command import pairs
from pose_fit.cli.wrong_calls import wrong_calls_explained
from pose_fit.report.json_keys import (
    ANSWER_KEYS,
    FIT_KEYS,
    GROUP_KEYS,
    PAIRS_KEYS,
    PHOTO_KEYS,
    keys_text,
)

__all__ = ["EXIT_REFUSED", "EXIT_WRONG_CALL", "app", "main"]


Paper = Annotated[Literal["letter", "a4"], typer.Option(help="Paper size.", case_sensitive=False)]


def _show_version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        print(f"pose-fit {version('pose-fit')}")
        raise typer.Exit


def _print_every_letter(
    _version: Annotated[
        bool,
        typer.Option(
            "--version", is_eager=True, callback=_show_version, help="Show the version and exit."
        ),
    ] = False,
) -> None:
    if isinstance(sys.stdout, io.TextIOWrapper):
        # Neither can every terminal show every letter, nor need a file's name be text.
        sys.stdout.reconfigure(errors="backslashreplace")


_JSON = keys_text(
    {
        "Keys of the JSON": PHOTO_KEYS,
        "With a catalogue": ANSWER_KEYS,
        "Keys of each bicycle": FIT_KEYS,
    }
)

app = typer.Typer(
    callback=_print_every_letter,
    help="A child's inseam from a photo or a tape, and which bicycles fit.",
    epilog="\b\nTo begin:\n  pose-fit sheet --out sheet.pdf\n"
    "  pose-fit measure photo.jpg --bikes bicycles.csv\n"
    "  pose-fit advise --inseam 25.5in --bikes bicycles.csv",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

app.command(epilog=_JSON, short_help="The inseam from photos, and which bicycles fit.")(measure)
app.command(
    epilog="The keys of the JSON are those of measure: see its help, or pose-fit schema.",
    short_help="Which bicycles fit, by tape, trousers, height or age.",
)(advise)


@app.command(short_help="Write the sheet to print and hang beside the child.")
def sheet(
    out: Annotated[Path, typer.Option(metavar="FILE.pdf", help="Where to write the page.")],
    paper: Paper = "letter",
) -> None:
    """Write the printable reference sheet, true to scale."""
    from pose_fit.files.whole_file import check_ending, write_whole
    from pose_fit.reference.printed_sheet import RULER_MM, sheet_pdf

    with wrong_calls_explained():
        check_ending(out, ".pdf")
        write_whole(out, sheet_pdf(paper=paper))
    print(
        f"Wrote {out}. Print it at 100 % and measure its ruler with a tape: it should be"
        f" {RULER_MM:.0f} mm; if it is not, give what it measures as --ruler."
    )


@app.command(short_help="Write the label for a book between the legs.")
def label(
    out: Annotated[Path, typer.Option(metavar="FILE.pdf", help="Where to write the page.")],
    paper: Paper = "letter",
) -> None:
    """Write the printable label for a book held between the legs, true to scale."""
    from pose_fit.files.whole_file import check_ending, write_whole
    from pose_fit.reference.book_label import LABEL_WIDTH_MM, label_pdf

    with wrong_calls_explained():
        check_ending(out, ".pdf")
        write_whole(out, label_pdf(paper=paper))
    print(
        f"Wrote {out}. Print it at 100 %: its black bar should be {LABEL_WIDTH_MM:.0f} mm long; if"
        " it is not, give what it measures as --ruler."
    )


@app.command(short_help="Print the JSON Schema of what --json prints.")
def schema() -> None:
    """Print the JSON Schema of one line that measure and advise print with --json."""
    import json

    from pose_fit.report.json_schema import json_schema

    print(json.dumps(json_schema(), indent=2))


app.command(short_help="Measure many photos into a table.")(batch)
app.command(
    epilog=keys_text({"Keys of the JSON": PAIRS_KEYS, "Keys of each group": GROUP_KEYS}),
    short_help="Compare photos with a tape.",
)(pairs)


@app.command("app", short_help="Open the app in the browser.")
def open_app(
    port: Annotated[int, typer.Option(min=1, max=65535, help="Port on this machine.")] = 8501,
) -> None:
    """Open the app in the browser; it listens on this machine only."""
    from pose_fit.app.serve import serve

    raise typer.Exit(serve(port=port))


def main() -> None:
    """Entry point of the console script."""
    try:
        try:
            app()
        finally:
            if sys.stdout is not None:
                sys.stdout.flush()
    except OSError as fault:
        # What is still to be written would fail once more while the interpreter closes.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"pose-fit: {fault.strerror or fault}", file=sys.stderr)
        sys.exit(EXIT_WRONG_CALL)
