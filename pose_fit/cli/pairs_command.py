"""The command for pairs of photo and tape; nothing heavy at the top."""

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from pose_fit.cli.options import AsJson
from pose_fit.cli.wrong_calls import wrong_calls_explained

__all__ = ["pairs"]


def pairs(
    table: Annotated[
        Path,
        typer.Argument(
            metavar="PAIRS.csv",
            help="One line a child: photo_mm, photo_sd_mm, tape_1_mm, taken_by, day, and any of"
            " child, tape_2_mm, tape_3_mm, care, reference, legwear, touched, shop.",
            show_default=False,
        ),
    ],
    shop: Annotated[
        str, typer.Option(help="The branch whose correction is wanted.", show_default=False)
    ] = "",
    plot: Annotated[
        Path | None,
        typer.Option(metavar="OUT.svg", help="Write the difference plot of photo against tape."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Compare photos with a tape: bias, spread, coverage, and the correction that follows."""
    with wrong_calls_explained():
        from pose_fit.cli.unused_columns import tell_unused_columns
        from pose_fit.errors import InputError
        from pose_fit.files.whole_file import check_ending, write_whole
        from pose_fit.pairs.difference_plot import difference_plot
        from pose_fit.pairs.pair_table import COLUMNS, read_pairs
        from pose_fit.pairs.summary import summary_of

        if plot is not None:
            check_ending(plot, ".svg")
        found = read_pairs(table)
        tell_unused_columns(table, COLUMNS)
        shops = sorted({pair.shop for pair in found})
        if shop and shop not in shops:
            named = " or ".join(filter(None, shops)) or f"a branch named in {table}"
            raise InputError(f"--shop: wanted {named}, found {shop!r}")
        summary = summary_of(found, shop=shop)
        if plot is not None:
            write_whole(plot, difference_plot(found).encode())
    if as_json:
        print(json.dumps(_rounded(summary.record())))
    else:
        print("\n".join(summary.lines))


def _rounded(value: Any) -> Any:
    """A hundredth of a millimetre is finer than any tape."""
    if isinstance(value, float):
        return round(value, 2)
    if isinstance(value, dict):
        return {key: _rounded(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [_rounded(one) for one in value]
    return value
