"""A few worker processes that serve many visits in turn."""

import os
import pickle
import threading
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, Final, Generic, TypeVar

from pose_fit.errors import WorkStoppedError
from pose_fit.workers.fair_queue import FairQueue
from pose_fit.workers.worker_process import WorkerLostError, WorkerProcess

__all__ = ["Job", "WorkerPool"]

T = TypeVar("T")

#: A job whose worker ended is tried this often in all.
_TRIES: Final = 2
#: A job that takes longer has hung; the longest clip takes a tenth of that on one busy core.
_LIMIT_S: Final = 120.0


@dataclass(frozen=True, slots=True, eq=False)
class Job(Generic[T]):
    """Work for a visit; ``future.cancel()`` gives up its place in the queue."""

    visit: Hashable
    pickled: bytes
    future: Future[T] = field(default_factory=Future)


class WorkerPool:
    """Worker processes behind a fair queue; they end with this process, however it ends.

    Parameters
    ----------
    count
        How many processes.
    warm
        Done by each process before anything else.
    limit_s
        A process that takes longer for a job is ended.
    """

    def __init__(
        self, count: int, *, warm: Callable[[], object] | None = None, limit_s: float = _LIMIT_S
    ) -> None:
        self._warm = None if warm is None else _pickled(warm)
        self._limit_s = limit_s
        self._threads_each = max(1, (os.cpu_count() or 1) // count)
        #: None ends a thread.
        self._queue: FairQueue[Job[Any] | None] = FairQueue()
        self._running: set[Job[Any]] = set()
        self._workers: dict[int, WorkerProcess] = {}
        self._is_closed = False
        self._threads = [
            threading.Thread(target=self._serve, args=(number,), daemon=True)
            for number in range(count)
        ]
        for thread in self._threads:
            thread.start()

    @property
    def pids(self) -> tuple[int, ...]:
        """Numbers of the processes that are running."""
        # A copy, since each thread adds its worker when it comes to it.
        workers = tuple(self._workers.values())
        return tuple(worker.pid for worker in workers if worker.is_alive)

    def submit(self, visit: Hashable, work: Callable[..., T], *arguments: object) -> Job[T]:
        """Have ``work(*arguments)`` done; its outcome, or what it raised, comes in the job's future.

        Raises ``WorkStoppedError`` there where the process ended twice at it.
        """
        job: Job[T] = Job(visit, _pickled(work, *arguments))
        self._queue.put(visit, job)
        job.future.add_done_callback(lambda _: self._queue.drop(job))
        return job

    def ahead(self, job: Job[Any]) -> int:
        """How many jobs end before this one begins; 0 where it has begun."""
        if job.future.running() or job.future.done():
            return 0
        others = sum(other.visit != job.visit for other in tuple(self._running))
        return self._queue.ahead(job) + others

    def close(self) -> None:
        """End every process, also a busy one; what is still waiting is not done."""
        self._is_closed = True
        for thread in self._threads:
            self._queue.put(thread, None)
        for worker in tuple(self._workers.values()):
            worker.kill()
        for thread in self._threads:
            thread.join()

    def _serve(self, number: int) -> None:
        with suppress(WorkerLostError, OSError):
            self._worker(number)
        while not self._is_closed:
            job = self._queue.take()
            if job is not None and job.future.set_running_or_notify_cancel():
                self._running.add(job)
                self._do(number, job)
                self._running.discard(job)
        if number in self._workers:
            self._workers[number].end()

    def _do(self, number: int, job: Job[Any]) -> None:
        for _ in range(_TRIES):
            try:
                is_done, outcome = self._worker(number).do(job.pickled, limit_s=self._limit_s)
            except (WorkerLostError, OSError):
                if self._is_closed:
                    break
                continue
            except Exception as fault:
                # An answer that cannot be read. Part of it may still lie in the pipe.
                self._workers[number].end()
                job.future.set_exception(fault)
                return
            if is_done:
                job.future.set_result(outcome)
            else:
                job.future.set_exception(outcome)
            return
        job.future.set_exception(
            WorkStoppedError("The program that measures stopped at this picture, twice.")
        )

    def _worker(self, number: int) -> WorkerProcess:
        """The worker with this number; a new one where it ended."""
        worker = self._workers.get(number)
        if worker is None or not worker.is_alive:
            if worker is not None:
                worker.end()
            worker = self._workers[number] = WorkerProcess(threads=self._threads_each)
            if self._warm is not None:
                worker.do(self._warm, limit_s=self._limit_s)
        return worker


def _pickled(work: Callable[..., object], *arguments: object) -> bytes:
    return pickle.dumps((work, arguments), pickle.HIGHEST_PROTOCOL)
