"""Those who measure: a process on each core here. Light to import, since each process does."""

import os
import signal
import sys
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from types import TracebackType
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pose_fit.batch.job import Job
    from pose_fit.batch.row import Row

    Work = Callable[[Job, str], Row]

__all__ = ["LocalWorkers", "Workers", "cores"]


class Workers(Protocol):
    """Takes jobs and answers with futures."""

    @property
    def capacity(self) -> int:
        """How many jobs to have under way at once; asked anew each time."""
        ...

    def submit(self, work: "Work", job: "Job", fingerprint: str) -> "Future[Row]":
        """Have the work done; at most ``capacity`` futures may be open."""
        ...

    def is_crash(self, fault: BaseException) -> bool:
        """Whether a future's fault means that its worker died over the job."""
        ...


def cores() -> int:
    """Cores this process may use."""
    # Only Linux says which of the machine's cores those are.
    if sys.platform == "linux":
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@dataclass(slots=True)
class _Lane:
    """One worker process and what it was last given."""

    executor: ProcessPoolExecutor
    last: "Future[Row] | None" = None

    @property
    def is_free(self) -> bool:
        return self.last is None or self.last.done()


class LocalWorkers:
    """Worker processes on this machine, each with its own pose model for the whole run.

    Each process has one job at a time, so that the job over which it dies is known; another
    process takes its place.
    """

    def __init__(self, count: int) -> None:
        if count < 1:
            raise ValueError(f"wanted at least one worker, found {count}")
        self._count = count
        self._lanes: list[_Lane] = []

    @property
    def capacity(self) -> int:
        """One job for each process."""
        return self._count

    def submit(self, work: "Work", job: "Job", fingerprint: str) -> "Future[Row]":
        """Have the work done by a free process, a new one where none is."""
        lane = next((lane for lane in self._lanes if lane.is_free), None)
        if lane is None:
            if len(self._lanes) == self._count:
                raise ValueError(f"wanted at most {self._count} jobs at once, found one more")
            lane = _Lane(self._executor())
            self._lanes.append(lane)
        try:
            lane.last = lane.executor.submit(work, job, fingerprint)
        except BrokenProcessPool:
            lane.executor = self._executor()
            lane.last = lane.executor.submit(work, job, fingerprint)
        return lane.last

    def is_crash(self, fault: BaseException) -> bool:
        """Whether the process died over the job."""
        return isinstance(fault, BrokenProcessPool)

    def __enter__(self) -> "LocalWorkers":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        for lane in self._lanes:
            lane.executor.shutdown(wait=fault is None, cancel_futures=True)

    def _executor(self) -> ProcessPoolExecutor:
        # Spawned, since libraries with threads of their own do not survive a fork.
        threads = max(1, cores() // self._count)
        return ProcessPoolExecutor(
            1, mp_context=get_context("spawn"), initializer=_begin, initargs=(threads,)
        )


def _begin(threads: int) -> None:
    """Make a process a worker: its share of the cores, and no life without its parent."""
    # An interrupt at the terminal reaches every process; the parent ends the run in order.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    os.environ["OMP_NUM_THREADS"] = os.environ["OPENBLAS_NUM_THREADS"] = str(threads)
    # Native libraries greet on standard error, where the progress is shown.
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)
    os.close(nowhere)
    import cv2

    cv2.setNumThreads(threads)


def _end_with_parent() -> None:
    parent = parent_process()
    assert parent is not None
    parent.join()
    os._exit(1)
