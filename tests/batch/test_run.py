"""The table is the same however often the run was stopped, and is never half written."""

import csv
import io
import os
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.anthropometry.child import Child
from pose_fit.batch.job import Job
from pose_fit.batch.row import COLUMNS, measured_row
from pose_fit.batch.run import Tally, run_batch
from pose_fit.batch.table import journal_path, open_table
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.errors import BatchError, OutputError
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.stock import Stock
from pose_fit.growth.dated_readings import Dated
from pose_fit.inseam.inseam import Inseam
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests.batch.workmates import TODAY, Counted, Here, Stopping, by_name, folder_of

NAMES = ("a.jpg", "b refuse.jpg", "c.jpg", "d raise.jpg", "é.jpg", "f fail.jpg", "=g+1.jpg")


def rows_of(table: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.read_text("utf-8-sig"), newline="")))


def with_task(job: Job, task: PhotoTask) -> Job:
    return replace(job, photos=(replace(job.photos[0], task=task),))


def test_a_row_says_what_became_of_each_photo(tmp_path: Path) -> None:
    out = tmp_path / "table.csv"
    tally = run_batch(folder_of(tmp_path / "in", NAMES), out, workers=Here(), work=by_name)
    assert tally == Tally(measured=4, refused=1, failed=2, kept=0)
    rows = {row["photo"]: row for row in rows_of(out)}
    assert list(rows) == sorted(rows, key=lambda name: name.lstrip("'"))
    assert rows["a.jpg"]["inseam_mm"] == "605.0"
    # 600 + 5, and 7 times the normal distribution's 97.5 % point on either side.
    assert (rows["a.jpg"]["low95_mm"], rows["a.jpg"]["high95_mm"]) == ("591.3", "618.7")
    assert rows["b refuse.jpg"]["reasons"] == "nobody"
    assert rows["b refuse.jpg"]["inseam_mm"] == ""
    assert rows["f fail.jpg"]["reasons"] == "photo_unreadable"
    assert rows["d raise.jpg"]["reasons"] == "unexpected_error"
    assert rows["d raise.jpg"]["message"] == "RuntimeError: odd d raise.jpg"
    assert "'=g+1.jpg" in rows
    assert not journal_path(out).exists()


@given(st.lists(st.integers(0, 3), max_size=4), st.data())
def test_resuming_after_any_stop_gives_the_same_table(
    stops: list[int], data: st.DataObject
) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        jobs = folder_of(folder / "in", NAMES)
        whole, out = folder / "whole.csv", folder / "table.csv"
        run_batch(jobs, whole, workers=Here(), work=by_name)
        for stop in stops:
            with suppress(KeyboardInterrupt):
                run_batch(jobs, out, workers=Here(), work=by_name, watcher=Stopping(stop))
            assert all(row in rows_of(whole) for row in rows_of(out))
            # The power may go at any byte of the journal, and take the table with it.
            is_lost, part = data.draw(st.booleans()), data.draw(st.floats(0, 1))
            if is_lost:
                out.unlink()
            journal = journal_path(out)
            if journal.exists():
                os.truncate(journal, round(part * journal.stat().st_size))
        run_batch(jobs, out, workers=Here(), work=by_name)
        assert out.read_bytes() == whole.read_bytes()


def test_finished_photos_are_not_measured_again(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg", "b refuse.jpg", "c.jpg", "d fail.jpg"))
    out = tmp_path / "table.csv"
    first, second, third = Counted(), Counted(), Counted()
    with pytest.raises(KeyboardInterrupt):
        run_batch(jobs, out, workers=Here(), work=first, watcher=Stopping(2))
    assert [row["photo"] for row in rows_of(out)] == ["a.jpg", "b refuse.jpg"]
    tally = run_batch(jobs, out, workers=Here(), work=second)
    assert second.names == ["c.jpg", "d fail.jpg"]
    assert tally == Tally(measured=2, refused=1, failed=1, kept=2)
    # What failed may have failed for want of memory or disk.
    run_batch(jobs, out, workers=Here(), work=third)
    assert third.names == ["d fail.jpg"]


def test_a_changed_photo_and_other_arguments_are_measured_anew(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg", "b.jpg", "c.jpg"))
    out = tmp_path / "table.csv"

    def measured_anew(changed: tuple[Job, ...]) -> list[str]:
        work = Counted()
        run_batch(changed, out, workers=Here(), work=work)
        return work.names

    assert measured_anew(jobs) == ["a.jpg", "b.jpg", "c.jpg"]
    (tmp_path / "in" / "b.jpg").write_bytes(b"another picture")
    assert measured_anew(jobs) == ["b.jpg"]
    os.utime(tmp_path / "in" / "c.jpg", ns=(1, 1))
    assert measured_anew(jobs) == ["c.jpg"]
    task = replace(jobs[0].photos[0].task, child=Child(age_y=7.0))
    aged = (with_task(jobs[0], task), *jobs[1:])
    assert measured_anew(aged) == ["a.jpg"]
    task = replace(task, stated=Stated(soles_mm=0.0))
    soled = (with_task(aged[0], task), *jobs[1:])
    assert measured_anew(soled) == ["a.jpg"]
    task = replace(task, reference=replace(task.reference, ruler_mm=178.0))
    assert measured_anew((with_task(soled[0], task), *jobs[1:])) == ["a.jpg"]
    stock = Stock(read_catalogue(DEMO_CATALOGUE))
    assert measured_anew(tuple(replace(job, stock=stock) for job in jobs)) == [
        "a.jpg",
        "b.jpg",
        "c.jpg",
    ]
    off_road = replace(jobs[0], stock=stock, rider=Rider(skill="off_road"))
    assert measured_anew((off_road,)) == ["a.jpg"]
    assert measured_anew((replace(off_road, stock=replace(stock, policy=Policy(stretch=True))),))
    # What is no longer asked for has left the table.
    assert [row["photo"] for row in rows_of(out)] == ["a.jpg"]


def test_the_best_bicycle_is_told_with_its_verdict(tmp_path: Path) -> None:
    stock = Stock(read_catalogue(DEMO_CATALOGUE))
    jobs = tuple(replace(job, stock=stock) for job in folder_of(tmp_path / "in", ("a.jpg",)))
    out = tmp_path / "table.csv"
    run_batch(jobs, out, workers=Here(), work=by_name)
    (row,) = rows_of(out)
    assert row["bicycle"] in {bicycle.name for bicycle in stock.bicycles}
    assert row["verdict"] in {"good", "roomy"}
    assert row["how_sure"] in {"sure", "fairly sure"}
    assert row["advice"].startswith(f"{row['bicycle']}: {row['verdict']}.")
    # The rule of the judgement: never more than this risk.
    assert float(row["contact_probability"]) <= 0.025


def test_no_bicycle_is_named_where_none_fits(tmp_path: Path) -> None:
    bicycles = read_catalogue(DEMO_CATALOGUE)
    tall = max(bicycles, key=lambda bicycle: bicycle.standover_mm)
    (job,) = folder_of(tmp_path / "in", ("a.jpg",))
    out = tmp_path / "table.csv"
    run_batch((replace(job, stock=Stock((tall,))),), out, workers=Here(), work=by_name)
    (row,) = rows_of(out)
    assert (row["bicycle"], row["verdict"]) == ("", "")
    assert row["advice"].startswith("All of these are still too big")


def test_an_old_picture_is_told_as_of_then_and_judged_as_of_today(tmp_path: Path) -> None:
    (job,) = folder_of(tmp_path / "in", ("a.jpg",))
    job = replace(job, stock=Stock(read_catalogue(DEMO_CATALOGUE)))
    child = Child(age_y=7.5, sex="f")
    measured = Dated(Inseam.stated(600, 12), TODAY.replace(year=TODAY.year - 1), child)
    cells = dict(zip(COLUMNS, measured_row(job, "key", measured, today=TODAY).cells, strict=True))
    carried = measured.carried_to(TODAY)
    assert isinstance(carried, Dated)
    assert (cells["inseam_mm"], cells["taken_on"]) == ("600.0", "2025-03-01")
    assert cells["today"] == "2026-03-01"
    assert float(cells["inseam_today_mm"]) == pytest.approx(carried.inseam.mean_mm, abs=0.05)
    assert float(cells["inseam_today_mm"]) > 620
    assert "grown_since" in cells["warnings"]
    best = next(b for b in job.stock.bicycles if b.name == cells["bicycle"])
    clearance_mm = carried.inseam.mean_mm + job.rider.soles_mm - best.standover_mm
    assert float(cells["clearance_mm"]) == pytest.approx(clearance_mm, abs=0.1)


def test_photos_listed_twice_are_measured_once(tmp_path: Path) -> None:
    (job,) = folder_of(tmp_path / "in", ("a.jpg",))
    work = Counted()
    tally = run_batch((job, job), tmp_path / "t.csv", workers=Here(), work=work)
    assert work.names == ["a.jpg"]
    assert tally.measured == len(rows_of(tmp_path / "t.csv")) == 2


def test_a_missing_photo_fails_and_is_measured_once_it_is_there(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg", "b fail.jpg"))
    jobs[1].photos[0].path.unlink()
    out = tmp_path / "table.csv"
    assert run_batch(jobs, out, workers=Here(), work=by_name).failed == 1
    there = replace(jobs[1], photos=(replace(jobs[1].photos[0], path=jobs[0].photos[0].path),))
    assert run_batch((jobs[0], there), out, workers=Here(), work=by_name).measured == 2


def test_a_worker_that_dies_twice_over_a_photo_is_told(tmp_path: Path) -> None:
    tried: list[str] = []

    def die(job: Job, fingerprint: str) -> object:
        tried.append(job.name)
        raise MemoryError

    jobs = folder_of(tmp_path / "in", ("a.jpg",))
    run_batch(jobs, tmp_path / "t.csv", workers=Here(), work=die)  # type: ignore[arg-type]
    (row,) = rows_of(tmp_path / "t.csv")
    assert (row["status"], row["reasons"]) == ("failed", "worker_crashed")
    assert tried == ["a.jpg", "a.jpg"]


@pytest.mark.parametrize(
    "content", ["name,price\nPipwren,100\n", "", ",".join(COLUMNS) + "\r\nx,measured\r\n"]
)
def test_a_file_that_is_no_such_table_is_kept_as_it_is(tmp_path: Path, content: str) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg",))
    out = tmp_path / "stock.csv"
    out.write_bytes(content.encode())
    if content == "":
        # As a program makes it that asks for a place.
        run_batch(jobs, out, workers=Here(), work=by_name)
        assert len(rows_of(out)) == 1
        return
    with pytest.raises(BatchError, match="not a table of this program"):
        run_batch(jobs, out, workers=Here(), work=by_name)
    assert out.read_bytes() == content.encode()
    assert not journal_path(out).exists()


def test_two_runs_do_not_write_one_table(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg",))
    out = tmp_path / "table.csv"
    with open_table(out), pytest.raises(BatchError, match="another run"):
        run_batch(jobs, out, workers=Here(), work=by_name)


def test_a_place_that_cannot_be_written_is_told_before_any_work(tmp_path: Path) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg",))
    work = Counted()
    for out in (tmp_path / "no" / "table.csv", tmp_path / "in"):
        with pytest.raises(OutputError):
            run_batch(jobs, out, workers=Here(), work=work)
    assert work.names == []


def test_a_full_disk_loses_nothing_that_was_finished(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    jobs = folder_of(tmp_path / "in", ("a.jpg", "b.jpg"))
    out = tmp_path / "table.csv"

    def full(path: Path, data: bytes) -> None:
        raise OutputError(f"{path}: cannot be written (No space left on device)")

    with monkeypatch.context() as patched:
        patched.setattr("pose_fit.batch.table.write_whole", full)
        with pytest.raises(OutputError, match="No space left"):
            run_batch(jobs, out, workers=Here(), work=by_name)
    assert not out.exists()
    work = Counted()
    assert run_batch(jobs, out, workers=Here(), work=work).kept == 2
    assert work.names == []
