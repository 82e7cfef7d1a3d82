"""One row a child: readings as photos give them, with a tape beside them, and with photos left out."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.batch.job import Job, ListedPhoto
from pose_fit.batch.row import COLUMNS, LeftOut, Row
from pose_fit.batch.work import measure_job, row_of_readings
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.errors import InputError
from pose_fit.fit.stock import Stock
from pose_fit.growth.dated_readings import Dated
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask
from tests.batch.workmates import TODAY

CHILD = Child(age_y=8.0, sex="f")
JOB = Job(
    tuple(ListedPhoto(name, Path(name), PhotoTask(child=CHILD)) for name in ("a.jpg", "b.jpg")),
    child="Ann",
    stock=Stock(read_catalogue(DEMO_CATALOGUE)),
)
REFUSED = LeftOut("b.jpg", Refusal((Notice("nobody", "Nobody is seen."),), ("Stand nearer.",)))


def by_photo(mean_mm: float, on: dt.date = TODAY, child: Child = CHILD) -> Dated:
    """An inseam of which half is scatter and half is shared by all photos."""
    budget = (Contribution("pose model", 10.0), Contribution("reference size", 10.0, shared=True))
    return Dated(Inseam(UncertainLength(mean_mm, budget), "photo"), on, child)


def cells(row: Row) -> dict[str, str]:
    return dict(zip(COLUMNS, row.cells, strict=True))


def row_of(*readings: Dated, job: Job = JOB, left_out: tuple[LeftOut, ...] = ()) -> dict[str, str]:
    return cells(row_of_readings(job, "key", list(readings), list(left_out), today=TODAY))


def test_two_photos_of_a_child_are_one_surer_row() -> None:
    alone, both = row_of(by_photo(600)), row_of(by_photo(600), by_photo(610))
    assert (both["photo"], both["child"], both["status"]) == ("a.jpg; b.jpg", "Ann", "measured")
    assert float(both["inseam_mm"]) == pytest.approx(605)
    # Scatter is halved in variance, what is shared is not: 50 + 100.
    assert float(alone["sd_mm"]) == pytest.approx(200**0.5, abs=0.06)
    assert float(both["sd_mm"]) == pytest.approx(150**0.5, abs=0.06)
    assert both["bicycle"]


def test_a_tape_joins_its_photo_by_their_uncertainties() -> None:
    told = row_of(by_photo(600), job=replace(JOB, tape_mm=(625.0, 625.0, 625.0)))
    assert told["method"] == "combined"
    assert 605 < float(told["inseam_mm"]) < 625
    assert float(told["sd_mm"]) < 9


def test_a_tape_of_another_day_counts_as_of_then() -> None:
    """Half a year later the legs are some 17 mm longer, and the tape of then still agrees."""
    then = TODAY - dt.timedelta(days=183)
    job = replace(JOB, tape_mm=(590.0,), taped_on=then)
    told = row_of(by_photo(607), job=job)
    assert float(told["inseam_mm"]) == pytest.approx(607, abs=4)
    with pytest.raises(InputError, match="taped"):
        row_of(by_photo(607), job=replace(job, taped_on=TODAY + dt.timedelta(days=1)))


@pytest.mark.parametrize(
    ("readings", "tape_mm", "code"),
    [
        ((600, 720), (), "not_one_child"),
        ((600,), (720.0,), "not_one_child"),
        ((600,), (600.0, 540.0), "tape_readings_disagree"),
        ((), (400.0,), "inseam_implausible"),
    ],
)
def test_readings_that_cannot_be_one_child_are_no_average(
    readings: tuple[float, ...], tape_mm: tuple[float, ...], code: str
) -> None:
    job = replace(JOB, tape_mm=tape_mm)
    told = row_of(*(by_photo(mean_mm) for mean_mm in readings), job=job, left_out=(REFUSED,))
    assert (told["status"], told["inseam_mm"], told["bicycle"]) == ("refused", "", "")
    assert code in told["reasons"].split()
    # What else went wrong is told too.
    assert "nobody" in told["reasons"]


def test_a_photo_left_out_is_named_with_its_reason() -> None:
    told = row_of(by_photo(600), left_out=(REFUSED,))
    assert (told["status"], told["reasons"]) == ("measured", "nobody")
    assert told["message"].endswith("b.jpg: Nobody is seen. Stand nearer.")
    nothing = row_of(left_out=(replace(REFUSED, name="a.jpg"), REFUSED))
    assert (nothing["status"], nothing["reasons"]) == ("refused", "nobody")
    assert "a.jpg: Nobody" in nothing["message"]
    missing = LeftOut("b.jpg", Notice("photo_unreadable", "no such file"))
    assert row_of(left_out=(missing, missing))["status"] == "failed"
    assert row_of(left_out=(missing, REFUSED))["status"] == "refused"


def test_one_file_listed_twice_is_one_photo(tmp_path: Path) -> None:
    for name in ("a.jpg", "b.jpg"):
        (tmp_path / name).write_bytes(b"no picture")
    photos = tuple(replace(photo, path=tmp_path / photo.name) for photo in JOB.photos)
    told = cells(measure_job(replace(JOB, photos=photos, today=TODAY), "key"))
    assert told["status"] == "failed"
    assert told["reasons"] == "photo_unreadable same_file"
    assert "b.jpg: It is the same file as a.jpg" in told["message"]


def test_a_child_with_a_missing_photo_is_measured_anew_once_anything_changes(
    tmp_path: Path,
) -> None:
    """The row is kept while nothing changes, and told as measured in part."""
    (tmp_path / "a.jpg").write_bytes(b"a")
    photos = tuple(replace(photo, path=tmp_path / photo.name) for photo in JOB.photos)
    job = replace(JOB, photos=photos)
    keys = [job.fingerprint(), replace(job, tape_mm=(600.0,)).fingerprint()]
    (tmp_path / "b.jpg").write_bytes(b"b")
    keys.append(job.fingerprint())
    assert len(set(keys)) == 3
    row = row_of_readings(job, "key", [by_photo(600)], [REFUSED], today=TODAY)
    assert row.is_partly_measured
    assert not row_of_readings(job, "key", [by_photo(600)], [], today=TODAY).is_partly_measured
