"""The command for many photos; imported with the command line, so nothing heavy at the top."""

import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pose_fit.cli.options import EXIT_REFUSED, Bikes, Stretch, Today, Units
from pose_fit.cli.stated_options import with_facts
from pose_fit.cli.wrong_calls import wrong_calls_explained
from pose_fit.task.facts import PHOTO, RIDER

if TYPE_CHECKING:
    from rich.progress import Progress

    from pose_fit.batch.job import Job
    from pose_fit.batch.row import Row
    from pose_fit.batch.workers import Workers

__all__ = ["batch"]

_INTERRUPTED = 130


#: Points of the object may be the same in all photos, where the camera stands still.
_OF_ALL_PHOTOS = tuple(
    fact for fact in (*PHOTO, *RIDER) if not fact.of_one_photo or fact.name == "points"
)


@with_facts(_OF_ALL_PHOTOS)
def batch(
    source: Annotated[
        Path,
        typer.Argument(
            metavar="SOURCE",
            help="Folder of photos, or a CSV file with a column photo and, by row, any of"
            f" {', '.join(fact.name for fact in (*PHOTO, *RIDER))}. The photos of one child, by a"
            " column child, are combined in one row; its tape stands in the columns tape_1, tape_2"
            " and tape_3, the day of the tape in taped (else the day of the advice), and in care how"
            " it was held, careful or hasty. A length"
            " may have its unit in the cell, or in the header: soles_mm, soles_cm, soles_in.",
            show_default=False,
        ),
    ],
    out: Annotated[
        Path,
        typer.Option(
            metavar="TABLE.csv",
            help="The table. Started again, the command goes on where it was stopped.",
        ),
    ],
    *,
    typed: dict[str, str],
    bikes: Bikes = None,
    stretch: Stretch = False,
    today: Today = None,
    units: Units = "in",
    workers: Annotated[
        int | None,
        typer.Option(
            min=1, max=256, help="Processes here.  [default: one a core]", show_default=False
        ),
    ] = None,
    dask: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="Measure on the Dask cluster of this scheduler (tcp://host:8786), whose workers"
            " see the photos under the same paths.",
        ),
    ] = None,
) -> None:
    """Measure a folder or a list of photos into a table, on all cores or on a cluster."""
    with wrong_calls_explained(), _interruption_explained(out):
        from pose_fit.batch.photo_list import COLUMNS, read_jobs
        from pose_fit.batch.run import run_batch
        from pose_fit.cli.typed_clues import day_of, stock_of
        from pose_fit.cli.unused_columns import tell_unused_columns
        from pose_fit.errors import InputError

        if dask is not None and workers is not None:
            raise InputError("--workers are processes here and --dask are not; wanted one of them")
        day = None if today is None else day_of(today)
        jobs = read_jobs(source, typed, stock_of(bikes, stretch=stretch), today=day)
        if source.is_file():
            tell_unused_columns(source, COLUMNS)
        with (
            _interrupts_kept() as interrupts,
            _workers(workers, dask, jobs=len(jobs)) as crew,
            _bar() as bar,
        ):
            watcher = _Watcher(bar, interrupts)
            tally = run_batch(jobs, out, workers=crew, watcher=watcher, unit=units)
    kept = f" ({tally.kept} of them by an earlier run)" if tally.kept else ""
    print(
        f"{out}: {_counted(jobs)}{kept}: {tally.measured} measured, {tally.refused} refused,"
        f" {tally.failed} failed"
    )
    if tally.partly:
        print(f"Measured with a photo left out: {tally.partly}; see the column message.")
    if tally.measured < len(jobs) or tally.partly:
        raise typer.Exit(EXIT_REFUSED)


def _counted(jobs: "Sequence[Job]") -> str:
    """Photos, or rows where a child's photos share one."""
    photos = sum(len(job.photos) for job in jobs)
    told = "1 photo" if photos == 1 else f"{photos} photos"
    if photos == len(jobs):
        return told
    return f"{told} in 1 row" if len(jobs) == 1 else f"{told} in {len(jobs)} rows"


@contextmanager
def _interruption_explained(out: Path) -> Iterator[None]:
    try:
        yield
    except KeyboardInterrupt:
        print(f"pose-fit: stopped; {out} has what was finished, run it again", file=sys.stderr)
        raise typer.Exit(_INTERRUPTED) from None


@contextmanager
def _workers(count: int | None, dask: str | None, *, jobs: int) -> "Iterator[Workers]":
    if dask is not None:
        from pose_fit.batch.dask_workers import dask_workers

        with dask_workers(dask) as cluster:
            yield cluster
        return
    from pose_fit.batch.workers import LocalWorkers, cores

    with LocalWorkers(min(count or cores(), jobs)) as here:
        yield here


@contextmanager
def _bar() -> "Iterator[Progress]":
    """A bar on the terminal; nothing where standard error is none."""
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    with Progress(
        TextColumn("Measuring"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
        TextColumn("{task.description}"),
        console=Console(stderr=True),
        disable=not sys.stderr.isatty(),
    ) as bar:
        yield bar


@contextmanager
def _interrupts_kept() -> Iterator[list[int]]:
    """Signals that asked to stop: one that arrives inside a finaliser is swallowed there."""
    kept: list[int] = []

    def keep(number: int, frame: object) -> None:
        kept.append(number)
        raise KeyboardInterrupt

    if threading.current_thread() is not threading.main_thread():
        yield kept
        return
    before = signal.signal(signal.SIGINT, keep)
    try:
        yield kept
    finally:
        signal.signal(signal.SIGINT, before)


class _Watcher:
    """Moves the bar, and counts beside it what was not measured."""

    def __init__(self, bar: "Progress", interrupts: list[int]) -> None:
        self._bar = bar
        self._interrupts = interrupts
        self._task = bar.add_task("", total=None)
        self._refused = self._failed = 0

    def started(self, *, photos: int, kept: int) -> None:
        self._bar.update(self._task, total=photos, completed=kept)

    def finished(self, row: "Row") -> None:
        self._refused += row.status == "refused"
        self._failed += row.status == "failed"
        self._bar.update(
            self._task,
            advance=1,
            description=f"{self._refused} refused, {self._failed} failed",
        )
        if self._interrupts:
            raise KeyboardInterrupt
