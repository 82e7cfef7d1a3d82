"""Hostile files and calls by the thousand, and how they ended.

    python -m calibration.fuzz --out calibration/results/fuzz.md

ends with 1 where there was a traceback. The same with fewer cases is among the tests.
"""

import datetime as dt
import time
from pathlib import Path
from typing import Annotated, Final

import typer
from rich.progress import Progress

from calibration.fuzz import damaged_files, drawn_calls

#: Calls of a command for each hundred of the whole: those that see files have most to stumble on.
_SHARES: Final = {"measure": 35, "batch": 20, "advise": 25, "sheet": 10, "app": 2}
_OTHER_SHARE: Final = 15


def report(
    files: damaged_files.Tally, calls: drawn_calls.Tally, *, seed: int, seconds: float
) -> str:
    """The counts as Markdown, with every fault in full."""
    faults = [*files.faults, *calls.faults]
    total = files.verdicts.total() + calls.ends.total()
    lines = [
        "# Fuzz of files and command line",
        "",
        f"Written by `python -m calibration.fuzz` on {dt.date.today():%d %B %Y}, seed {seed},"
        f" {seconds:.0f} s on a shared machine.",
        "",
        f"**{total:,} cases, {len(faults)} tracebacks.**",
        "",
        f"{files.verdicts.total():,} damaged picture files: each sound file with one to four kinds"
        " of damage (bits, bytes, lengths, cuts, repeats, parts of another file).",
        "",
        "| file | opened | refused in words | traceback |",
        "|---|--:|--:|--:|",
    ]
    for kind in dict.fromkeys(kind for kind, _ in files.verdicts):
        opened, refused, fault = (
            files.verdicts[kind, verdict] for verdict in ("opened", "refused", "fault")
        )
        lines.append(f"| {kind} | {opened} | {refused} | {fault} |")
    lines += [
        "",
        f"{calls.ends.total():,} calls of the command line, drawn by Hypothesis, with photos,"
        " catalogues and lists damaged by bytes and by cells. `batch` measured in this process,"
        " `app` served nothing.",
        "",
        "| command | exit 0, done | exit 2, wrong call | exit 3, photo refused | anything else |",
        "|---|--:|--:|--:|--:|",
    ]
    for command in drawn_calls.COMMANDS:
        ends = {code: number for (name, code), number in calls.ends.items() if name == command}
        known = [ends.pop(code, 0) for code in (0, 2, 3)]
        cells = " | ".join(str(number) for number in (*known, sum(ends.values())))
        lines.append(f"| {command} | {cells} |")
    for trace in faults:
        lines += ["", "```", trace.encode("utf-8", "backslashreplace").decode(), "```"]
    return "\n".join(lines) + "\n"


def main(
    files: Annotated[int, typer.Option(help="How many damaged files.")] = 4200,
    calls: Annotated[int, typer.Option(help="About how many calls of the command line.")] = 2500,
    seed: Annotated[int, typer.Option(help="Seed of all damage and calls.")] = 1,
    out: Annotated[Path | None, typer.Option(help="Where to write the report.")] = None,
) -> None:
    """Read damaged files and make calls; report how they ended."""
    start_s = time.perf_counter()
    with Progress() as bar:
        task = bar.add_task("Files", total=files)
        read = damaged_files.read_damaged(files, seed=seed, progress=lambda: bar.advance(task))
        task = bar.add_task("Calls", total=calls)
        made = drawn_calls.Tally()
        for command in drawn_calls.COMMANDS:
            count = calls * _SHARES.get(command, _OTHER_SHARE) // 100
            tally = drawn_calls.run_calls(
                (command,), count, seed=seed, progress=lambda: bar.advance(task)
            )
            made.ends += tally.ends
            made.faults += tally.faults
    text = report(read, made, seed=seed, seconds=time.perf_counter() - start_s)
    typer.echo(text)
    if out is not None:
        out.write_text(text, encoding="utf-8")
    raise typer.Exit(1 if read.faults or made.faults else 0)


if __name__ == "__main__":
    typer.run(main)
