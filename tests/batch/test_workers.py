"""Real processes: one start-up each, and a death costs one photo."""

import csv
import io
from pathlib import Path

from pose_fit.batch.run import Tally, run_batch
from pose_fit.batch.workers import LocalWorkers
from tests.batch.workmates import by_name, crash_once, folder_of, process_of


def column_of(table: Path, name: str) -> list[str]:
    text = io.StringIO(table.read_text("utf-8-sig"), newline="")
    return [row[name] for row in csv.DictReader(text)]


def test_a_few_processes_do_all_the_work(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", [f"{place}.jpg" for place in range(30)])
    with LocalWorkers(2) as workers:
        run_batch(jobs, tmp_path / "t.csv", workers=workers, work=process_of)
    assert len(set(column_of(tmp_path / "t.csv", "reasons"))) == 2


def test_a_crash_costs_its_own_photo_only(tmp_path: Path) -> None:
    names = ("a.jpg", "b crash.jpg", "c.jpg", "d raise.jpg", "e.jpg", "f.jpg")
    jobs = folder_of(tmp_path / "in", names)
    with LocalWorkers(2) as workers:
        tally = run_batch(jobs, tmp_path / "t.csv", workers=workers, work=by_name)
    assert tally == Tally(measured=4, refused=0, failed=2, kept=0)
    assert column_of(tmp_path / "t.csv", "photo") == list(names)
    reasons = column_of(tmp_path / "t.csv", "reasons")
    assert [reasons[1], reasons[3]] == ["worker_crashed", "unexpected_error"]


def test_a_photo_whose_worker_was_killed_has_a_second_chance(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg",))
    with LocalWorkers(1) as workers:
        tally = run_batch(jobs, tmp_path / "t.csv", workers=workers, work=crash_once)
    assert tally.measured == 1
