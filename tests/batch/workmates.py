"""Work that needs no picture, and workers that need no process."""

import datetime as dt
import os
import signal
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from pathlib import Path

from pose_fit.batch.job import Job
from pose_fit.batch.photo_list import read_jobs
from pose_fit.batch.row import Row, failed_row, measured_row, refused_row
from pose_fit.fit.stock import Stock
from pose_fit.growth.dated_readings import Dated
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal

SHEET = {"reference": "sheet"}
TODAY = dt.date(2026, 3, 1)


class Here:
    """Does the work at once, in this process."""

    capacity = 2

    def submit(self, work: Callable[[Job, str], Row], job: Job, fingerprint: str) -> "Future[Row]":
        future: Future[Row] = Future()
        try:
            future.set_result(work(job, fingerprint))
        except Exception as fault:
            future.set_exception(fault)
        return future

    def is_crash(self, fault: BaseException) -> bool:
        return isinstance(fault, MemoryError)


class Counted:
    """Work by a photo's name that notes what it was given."""

    def __init__(self) -> None:
        self.names: list[str] = []

    def __call__(self, job: Job, fingerprint: str) -> Row:
        self.names.append(job.name)
        return by_name(job, fingerprint)


class Stopping:
    """A watcher that stops the run after so many rows."""

    def __init__(self, after: int) -> None:
        self._left = after

    def started(self, *, photos: int, kept: int) -> None:
        if self._left == 0:
            raise KeyboardInterrupt

    def finished(self, row: Row) -> None:
        self._left -= 1
        if self._left == 0:
            raise KeyboardInterrupt


def by_name(job: Job, fingerprint: str) -> Row:
    """Measured, refused, failed, crashed or raised, as the photo's name says."""
    name = job.photos[0].path.name
    if "crash" in name:
        os.kill(os.getpid(), signal.SIGKILL)
    if "raise" in name:
        raise RuntimeError(f"odd {name}")
    if "refuse" in name:
        return refused_row(job, fingerprint, Refusal((Notice("nobody", "Nobody."),), ("Again.",)))
    if "fail" in name:
        return failed_row(job, fingerprint, Notice("photo_unreadable", "No picture."))
    inseam = Inseam.stated(600.0 + len(name), 7.0)
    return measured_row(job, fingerprint, Dated(inseam, TODAY), today=TODAY)


def process_of(job: Job, fingerprint: str) -> Row:
    """Tells the process that does the work."""
    return refused_row(job, fingerprint, Refusal((Notice(f"process_{os.getpid()}", "."),)))


def crash_once(job: Job, fingerprint: str) -> Row:
    """Die over each photo the first time."""
    mark = job.photos[0].path.with_suffix(".tried")
    if not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return by_name(job, fingerprint)


def folder_of(folder: Path, names: Sequence[str]) -> tuple[Job, ...]:
    """Files of these names as jobs."""
    folder.mkdir(exist_ok=True)
    for name in names:
        (folder / name).write_bytes(name.encode("utf-8", "surrogateescape"))
    return read_jobs(folder, SHEET, Stock())
