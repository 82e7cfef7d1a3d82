"""Those who measure: the workers of a Dask cluster, who see the photos under the same paths."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from pose_fit.errors import InputError

if TYPE_CHECKING:
    from pose_fit.batch.job import Job
    from pose_fit.batch.row import Row

__all__ = ["DaskWorkers", "dask_workers"]

#: One job under way and one waiting for each thread, so that none idles for the network.
_JOBS_A_THREAD = 2


class DaskWorkers:
    """The workers of a cluster; made by :func:`dask_workers`."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._executor = client.get_executor(pure=False)

    @property
    def capacity(self) -> int:
        """Jobs under way at once; asked anew each time, since a cluster grows and shrinks."""
        threads: dict[str, int] = self._client.nthreads()
        return max(1, _JOBS_A_THREAD * sum(threads.values()))

    def submit(
        self, work: "Callable[[Job, str], Row]", job: "Job", fingerprint: str
    ) -> "Future[Row]":
        """Have the work done by a worker of the cluster."""
        future: Future[Row] = self._executor.submit(work, job, fingerprint)
        return future

    def is_crash(self, fault: BaseException) -> bool:
        """Whether several workers died over the job."""
        from distributed import KilledWorker

        return isinstance(fault, KilledWorker)


@contextmanager
def dask_workers(address: str, *, timeout_s: float = 10.0) -> Iterator[DaskWorkers]:
    """The workers of the cluster whose scheduler has this address, such as ``tcp://host:8786``.

    Raises
    ------
    InputError
        Dask is not installed, or no scheduler answers there.
    """
    try:
        from distributed import Client
    except ImportError as fault:
        raise InputError(
            "a cluster needs Dask: install pose-fit with its extra, pose-fit[dask]"
        ) from fault
    try:
        client = Client(address, timeout=timeout_s, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as fault:
        raise InputError(f"{address}: no Dask scheduler answers there ({fault})") from fault
    with client:
        yield DaskWorkers(client)
