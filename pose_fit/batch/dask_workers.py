"""Those who measure: the workers of a Dask cluster, who see the photos under the same paths."""

from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final

from pose_fit.errors import InputError

if TYPE_CHECKING:
    from pose_fit.batch.job import Job
    from pose_fit.batch.row import Row

__all__ = ["DaskWorkers", "dask_workers"]

#: One job under way and one waiting for each thread, so that none idles for the network.
_JOBS_A_THREAD: Final = 2
#: How long a scheduler has to answer, seconds.
TIMEOUT_S: Final = 10.0
#: How long a finished row may take to arrive, seconds. The cluster can wait for ever for one
#: whose worker died just then.
FETCH_S: Final = 30.0


class DaskWorkers:
    """The workers of a cluster; made by :func:`dask_workers`."""

    def __init__(self, client: Any) -> None:
        self._client = client

    @property
    def capacity(self) -> int:
        """Jobs to have under way at once, by the workers there are now."""
        threads: dict[str, int] = self._client.nthreads()
        return max(1, _JOBS_A_THREAD * sum(threads.values()))

    def submit(
        self, work: "Callable[[Job, str], Row]", job: "Job", fingerprint: str
    ) -> "Future[Row]":
        """Have the work done by a worker of the cluster."""
        here: Future[Row] = Future()

        def fetch(there: Any) -> None:
            try:
                here.set_result(there.result(timeout=FETCH_S))
            # Every fault is for whoever waits for the row.
            except Exception as fault:
                here.set_exception(fault)

        self._client.submit(work, job, fingerprint, pure=False).add_done_callback(fetch)
        return here

    def is_crash(self, fault: BaseException) -> bool:
        """Whether several workers died over the job, or one took its row with it."""
        from distributed import KilledWorker

        return isinstance(fault, (KilledWorker, TimeoutError))


@contextmanager
def dask_workers(address: str) -> Iterator[DaskWorkers]:
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
        client = Client(address, timeout=TIMEOUT_S, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as fault:
        raise InputError(f"{address}: no Dask scheduler answers there ({fault})") from fault
    with client:
        yield DaskWorkers(client)
