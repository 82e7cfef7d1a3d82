"""The same run on a real cluster of processes on this machine."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from pose_fit.batch.dask_workers import dask_workers
from pose_fit.batch.photo_list import read_jobs
from pose_fit.batch.run import Tally, run_batch
from pose_fit.batch.workers import LocalWorkers
from pose_fit.fit.stock import Stock
from tests.batch.workmates import by_name, folder_of

dask, distributed = (pytest.importorskip(name) for name in ("dask", "distributed"))

SAMPLES = Path(__file__).parents[2] / "sample_images"


@pytest.fixture(scope="module")
def scheduler() -> Iterator[str]:
    """Address of a scheduler with two workers, each a process.

    A job may kill one worker more than the first before it is given up: each takes seconds to start.
    """
    once_more = dask.config.set({"distributed.scheduler.allowed-failures": 1})
    cluster = distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
    )
    with once_more, cluster:
        yield cluster.scheduler_address


def test_a_cluster_gives_the_table_that_this_machine_gives(scheduler: str, tmp_path: Path) -> None:
    folder = tmp_path / "in"
    folder.mkdir()
    shutil.copy(SAMPLES / "sheet_1.jpg", folder / "sheet.jpg")
    (folder / "notes.jpg").write_text("no picture")
    jobs = read_jobs(folder, {"reference": "sheet", "heels_down": "yes"}, Stock())
    with dask_workers(scheduler) as cluster:
        tally = run_batch(jobs, tmp_path / "far.csv", workers=cluster)
    assert tally == Tally(measured=1, refused=0, failed=1, kept=0)
    with LocalWorkers(1) as here:
        run_batch(jobs, tmp_path / "near.csv", workers=here)
    assert (tmp_path / "far.csv").read_bytes() == (tmp_path / "near.csv").read_bytes()


def test_a_photo_that_kills_workers_stops_nothing(scheduler: str, tmp_path: Path) -> None:
    names = ("a.jpg", "b crash.jpg", "c raise.jpg", *(f"{place}.jpg" for place in range(5)))
    jobs = folder_of(tmp_path / "in", names)
    with dask_workers(scheduler) as cluster:
        tally = run_batch(jobs, tmp_path / "t.csv", workers=cluster, work=by_name)
    assert tally == Tally(measured=6, refused=0, failed=2, kept=0)
    assert "worker_crashed" in (tmp_path / "t.csv").read_text("utf-8-sig")
