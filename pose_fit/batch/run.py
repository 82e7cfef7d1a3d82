"""A batch from jobs to table, whoever does the work."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, wait
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Final, Protocol

from pose_fit.batch.job import Job
from pose_fit.batch.row import Row, failed_row
from pose_fit.batch.table import ResultTable, open_table
from pose_fit.batch.work import measure_job
from pose_fit.errors import BatchError
from pose_fit.metrology.units import Unit
from pose_fit.refusal import Notice

if TYPE_CHECKING:
    from pose_fit.batch.workers import Work, Workers

__all__ = ["Tally", "Watcher", "run_batch"]

_CRASHED: Final = Notice("worker_crashed", "The process that measured this photo died over it.")


@dataclass(frozen=True, slots=True)
class Tally:
    """Rows of the finished table by status.

    Attributes
    ----------
    kept
        How many of them an earlier run had finished.
    partly
        How many are measured though a photo of the child gave nothing.
    """

    measured: int
    refused: int
    failed: int
    kept: int
    partly: int = 0


class Watcher(Protocol):
    """Told how the run goes on."""

    def started(self, *, photos: int, kept: int) -> None:
        """So many photos in all, so many of them known from an earlier run."""
        ...

    def finished(self, row: Row) -> None:
        """One more."""
        ...


class _NobodyWatches:
    def started(self, *, photos: int, kept: int) -> None: ...

    def finished(self, row: Row) -> None: ...


def run_batch(
    jobs: Sequence[Job],
    out: Path,
    *,
    workers: "Workers",
    work: "Work" = measure_job,
    watcher: Watcher | None = None,
    unit: Unit = "in",
) -> Tally:
    """Measure the photos that are not in the table yet, and write it in the order of the jobs.

    Whatever stops the run, the rows finished so far are kept, and the next run goes on from
    there. Rows that failed are tried again by the next run. Rows of photos that are no longer
    among the jobs leave the table.

    Parameters
    ----------
    work
        What turns a job and its fingerprint into its row.
    unit
        Which comes first in the table's sentences.

    Raises
    ------
    BatchError
        The table's file is something else, another run is writing it, or the workers went away.
    OutputError
        The table cannot be written.
    """
    watcher = watcher or _NobodyWatches()
    with open_table(out, unit=unit) as table:
        keys = [job.fingerprint() for job in jobs]
        todo = {key: job for key, job in zip(keys, jobs, strict=True) if key not in table.rows}
        kept = sum(key in table.rows for key in keys)
        try:
            watcher.started(photos=kept + len(todo), kept=kept)
            _measure(todo, table, keys, workers, work, watcher)
        finally:
            table.write(keys)
    rows = [table.rows[key] for key in keys]
    counts = Counter(row.status for row in rows)
    partly = sum(row.is_partly_measured for row in rows)
    return Tally(counts["measured"], counts["refused"], counts["failed"], kept, partly)


def _measure(
    todo: dict[str, Job],
    table: ResultTable,
    keys: Sequence[str],
    workers: "Workers",
    work: "Work",
    watcher: Watcher,
) -> None:
    suspects: dict[str, Job] = {}
    for key, job, row in _answers(todo, workers, work, together=lambda: workers.capacity):
        if row is None:
            suspects[key] = job
            continue
        table.add(row)
        table.write_now_and_then(keys)
        watcher.finished(row)
    # A worker may have died over its neighbour, or for want of memory: each photo whose worker
    # died has a second chance, alone.
    for key, job, row in _answers(suspects, workers, work, together=lambda: 1):
        row = row or failed_row(job, key, _CRASHED)
        table.add(row)
        watcher.finished(row)


def _answers(
    todo: dict[str, Job], workers: "Workers", work: "Work", *, together: Callable[[], int]
) -> Iterator[tuple[str, Job, Row | None]]:
    """Each job with its row, None where the worker died, as they come."""
    waiting = iter(todo.items())
    under_way: dict[Future[Row], tuple[str, Job]] = {}
    while True:
        for key, job in islice(waiting, max(0, together() - len(under_way))):
            under_way[workers.submit(work, job, key)] = key, job
        if not under_way:
            return
        wait(under_way, return_when=FIRST_COMPLETED)
        for future in [future for future in under_way if future.done()]:
            key, job = under_way.pop(future)
            yield key, job, _row(future, workers, job, key)


def _row(future: Future[Row], workers: "Workers", job: Job, key: str) -> Row | None:
    try:
        return future.result()
    except CancelledError as fault:
        raise BatchError(
            "the workers went away before the end; what they finished is kept: run it again"
        ) from fault
    # Whatever one photo brings to light, the others are measured all the same.
    except Exception as fault:
        if workers.is_crash(fault):
            return None
        told = f"{type(fault).__name__}: {fault}"
        return failed_row(job, key, Notice("unexpected_error", told))
