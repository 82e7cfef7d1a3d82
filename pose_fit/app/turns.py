"""Work that takes time is done by worker processes, in turn for all visitors of this process."""

import os
import threading
from collections.abc import AsyncIterator, Callable
from concurrent.futures import wait
from contextlib import asynccontextmanager
from types import TracebackType
from typing import Any, Final, TypeVar

import streamlit as st

from pose_fit.app.session import remembered
from pose_fit.app.worker_jobs import warm_up
from pose_fit.errors import InputError
from pose_fit.workers.worker_pool import Job, WorkerPool

__all__ = ["WORKERS_VARIABLE", "Turns", "in_turn", "worker_count", "workers", "workers_running"]

T = TypeVar("T")

#: Environment variable with the number of worker processes.
WORKERS_VARIABLE: Final = "POSE_FIT_WORKERS"
#: How often a waiting page looks whether its visitor is still there, and tells its place.
_LOOK_S: Final = 0.25

_pools: Final[list[WorkerPool]] = []
_making: Final = threading.Lock()


def worker_count(told: str = "") -> int:
    """As many as were told; otherwise one for each core but one, which builds the pages.

    Raises
    ------
    InputError
        Something else than a whole number from 1.
    """
    if not told.strip():
        return max(1, (os.cpu_count() or 1) - 1)
    if not told.strip().isdecimal() or int(told) < 1:
        raise InputError(f"{WORKERS_VARIABLE}: wanted a whole number from 1, found {told!r}")
    return int(told)


def workers() -> WorkerPool:
    """The workers of this process, started at the first call; they get ready by themselves."""
    with _making:
        if not _pools:
            count = worker_count(os.environ.get(WORKERS_VARIABLE, ""))
            _pools.append(WorkerPool(count, warm=warm_up))
        return _pools[0]


@asynccontextmanager
async def workers_running(_server: object) -> AsyncIterator[None]:
    """Workers from the start of the server to its end."""
    workers()
    try:
        yield
    finally:
        with _making:
            while _pools:
                _pools.pop().close()


class Turns:
    """The turns that one run of a page waits for; leaving the block gives them away.

    A visitor who leaves, or presses something else, ends the run at the next look.
    """

    def __init__(self) -> None:
        self._jobs: list[Job[Any]] = []

    def __enter__(self) -> "Turns":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for job in self._jobs:
            job.future.cancel()

    def submit(self, work: Callable[..., T], *arguments: object) -> Job[T]:
        """Queue up for ``work(*arguments)``."""
        job = workers().submit(remembered("turns.visit", object), work, *arguments)
        self._jobs.append(job)
        return job

    def outcome(self, job: Job[T], *, tell: Callable[[int], object] | None = None) -> T:
        """What came of a job; ``tell`` is called meanwhile with how many are ahead.

        Raises what the work raised, or ``WorkStoppedError``.
        """
        while not job.future.done():
            if tell is not None:
                tell(workers().ahead(job))
            # Looking at the session ends the run of a visitor who is gone.
            st.session_state.get("turns.visit")
            wait([job.future], _LOOK_S)
        return job.future.result()


def in_turn(work: Callable[..., T], *arguments: object) -> T:
    """What comes of ``work(*arguments)``, done by a worker when it is this visitor's turn."""
    with Turns() as turns:
        return turns.outcome(turns.submit(work, *arguments))
