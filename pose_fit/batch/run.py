"""A batch from jobs to table, whoever does the work."""

from collections import Counter
from collections.abc import Sequence
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, wait
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from pose_fit.batch.job import Job
from pose_fit.batch.row import Row, failed_row
from pose_fit.batch.table import ResultTable, open_table
from pose_fit.batch.work import measure_job
from pose_fit.errors import BatchError
from pose_fit.refusal import Notice

if TYPE_CHECKING:
    from pose_fit.batch.workers import Work, Workers

__all__ = ["Tally", "Watcher", "run_batch"]


@dataclass(frozen=True, slots=True)
class Tally:
    """Photos of the finished table by status, and how many of them an earlier run had measured."""

    measured: int
    refused: int
    failed: int
    kept: int


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
) -> Tally:
    """Measure the photos that are not in the table yet, and write it in the order of the jobs.

    Whatever stops the run, the rows finished so far are kept, and the next run goes on from
    there. Rows that failed are tried again by the next run. Rows of photos that are no longer
    among the jobs leave the table.

    Parameters
    ----------
    work
        What turns a job and its fingerprint into its row.

    Raises
    ------
    BatchError
        The table's file is something else, another run is writing it, or the workers went away.
    OutputError
        The table cannot be written.
    """
    watcher = watcher or _NobodyWatches()
    with open_table(out) as table:
        keys = [_fingerprint(job) for job in jobs]
        todo = {key: job for key, job in zip(keys, jobs, strict=True) if key not in table.rows}
        kept = sum(key in table.rows for key in keys)
        watcher.started(photos=kept + len(todo), kept=kept)
        try:
            _measure(todo, table, keys, workers, work, watcher)
        finally:
            table.write(keys)
    counts = Counter(table.rows[key].status for key in keys)
    return Tally(counts["measured"], counts["refused"], counts["failed"], kept)


def _fingerprint(job: Job) -> str:
    try:
        return job.fingerprint()
    except OSError:
        # Never that of a file; the photo is looked for again by the next run.
        return f"missing {job.name}"


def _measure(
    todo: dict[str, Job],
    table: ResultTable,
    keys: Sequence[str],
    workers: "Workers",
    work: "Work",
    watcher: Watcher,
) -> None:
    waiting = iter(todo.items())
    #: Jobs under way, and whether a worker has died over them already.
    under_way: dict[Future[Row], tuple[str, Job, bool]] = {}
    while True:
        room = max(0, workers.capacity - len(under_way))
        for key, job in islice(waiting, room):
            under_way[workers.submit(work, job, key)] = key, job, False
        if not under_way:
            return
        for future in wait(under_way, return_when=FIRST_COMPLETED).done:
            key, job, has_crashed = under_way.pop(future)
            fault = _fault(future)
            if fault is not None and workers.is_crash(fault) and not has_crashed:
                # Another's lack of memory may have killed it: the photo has a second chance.
                under_way[workers.submit(work, job, key)] = key, job, True
                continue
            row = future.result() if fault is None else _failed(workers, job, key, fault)
            table.add(row)
            watcher.finished(row)
        table.write_now_and_then(keys)


def _fault(future: Future[Row]) -> BaseException | None:
    try:
        return future.exception()
    except CancelledError as fault:
        raise BatchError(
            "the workers went away before the end; what they finished is kept: run it again"
        ) from fault


def _failed(workers: "Workers", job: Job, key: str, fault: BaseException) -> Row:
    if workers.is_crash(fault):
        told = "The process that measured this photo died over it, twice."
        return failed_row(job, key, Notice("worker_crashed", told))
    told = f"{type(fault).__name__}: {fault}"
    return failed_row(job, key, Notice("unexpected_error", told))
