"""What is to be measured: a folder, or a list whose faults are named by line and column."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.batch.job import Job
from pose_fit.batch.photo_list import read_jobs
from pose_fit.errors import BatchError
from pose_fit.fit.stock import Stock
from pose_fit.task.facts import FactError
from pose_fit.task.stated import Stated

SHEET = {"reference": "sheet", "ruler": "179", "age": "7"}


def jobs_of(folder: Path, text: str, typed: Mapping[str, str] = SHEET) -> tuple[Job, ...]:
    path = folder / "list.csv"
    path.write_bytes(text.encode())
    return read_jobs(path, typed, Stock())


def test_a_folder_gives_its_pictures_and_those_of_its_folders_in_order(tmp_path: Path) -> None:
    for name in ("b.JPG", "a é.heic", "notes.txt", "._a.jpg", "more/z.png", ".hidden/c.jpg"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"x")
    jobs = read_jobs(tmp_path, SHEET, Stock())
    assert [job.name for job in jobs] == ["a é.heic", "b.JPG", "more/z.png"]
    assert all(job.photos[0].path.is_file() for job in jobs)
    assert {job.photos[0].task.reference.ruler_mm for job in jobs} == {179.0}
    assert {job.photos[0].task.child for job in jobs} == {Child(age_y=7.0)}


def test_a_cell_goes_before_the_default_and_an_empty_one_leaves_it(tmp_path: Path) -> None:
    first, second = jobs_of(
        tmp_path,
        "photo,age,sex,soles_mm,ruler_mm,heels_down\none.jpg,9,F,12,,Yes\ntwo.jpg,,,,178,\n",
    )
    assert first.photos[0].task.child == Child(age_y=9.0, sex="f")
    assert (first.photos[0].task.stated.soles_mm, first.photos[0].task.reference.ruler_mm) == (
        12.0,
        179.0,
    )
    assert second.photos[0].task.child == Child(age_y=7.0)
    assert (second.photos[0].task.stated.soles_mm, second.photos[0].task.reference.ruler_mm) == (
        None,
        178.0,
    )
    assert (first.photos[0].task.stated.heels_down, second.photos[0].task.stated.heels_down) == (
        True,
        False,
    )
    assert first.photos[0].path == tmp_path / "one.jpg"


def test_a_row_may_take_back_what_is_said_of_all_heels(tmp_path: Path) -> None:
    said_of_all = {**SHEET, "heels_down": "yes"}
    jobs = jobs_of(tmp_path, "photo,heels_down\none.jpg,no\ntwo.jpg,\n", said_of_all)
    assert [job.photos[0].task.stated.heels_down for job in jobs] == [False, True]


def test_another_reference_keeps_nothing_of_the_common_one(tmp_path: Path) -> None:
    door, wheel, sheet = jobs_of(
        tmp_path,
        "photo;reference;size;points;crotch;person\n"
        "a.jpg;door;80in;1,1 9,1 9,20 1,20;5,12;6,9\nb.jpg;wheel;47-406;;;\nc.jpg;;;;;\n",
    )
    assert (door.photos[0].task.reference.kind, door.photos[0].task.reference.size_mm) == (
        "door",
        2032.0,
    )
    assert door.photos[0].task.reference.ruler_mm is None
    assert door.photos[0].task.reference.points_px is not None
    assert door.photos[0].task.reference.points_px == ((1, 1), (9, 1), (9, 20), (1, 20))
    assert door.photos[0].task.stated == Stated(crotch_px=(5.0, 12.0), person_px=(6.0, 9.0))
    # ISO 5775: 406 mm rim, 47 mm tyre.
    assert wheel.photos[0].task.reference.size_mm == pytest.approx(406 + 2 * 47, abs=2)
    assert wheel.photos[0].task.reference.placement == "beside"
    assert (sheet.photos[0].task.reference.kind, sheet.photos[0].task.reference.ruler_mm) == (
        "sheet",
        179.0,
    )


def test_lists_come_as_spreadsheets_write_them(tmp_path: Path) -> None:
    text = "\ufeffPhoto;Age;Stature_in;Soles_cm\r\nfoto ä.jpg;6,5;48;1,2\r\n\r\n"
    (job,) = jobs_of(tmp_path, text)
    assert job.name == "foto ä.jpg"
    assert job.photos[0].task.child.age_y == 6.5
    assert job.photos[0].task.child.stature_mm == pytest.approx(48 * 25.4)
    assert job.photos[0].task.stated.soles_mm == pytest.approx(12.0)


def test_a_missing_photo_is_a_job_like_any_other(tmp_path: Path) -> None:
    (job,) = jobs_of(tmp_path, "photo\nno such.jpg\n")
    assert not job.photos[0].path.exists()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "is empty"),
        ("photo\n", "holds no photo"),
        ("name,age\na.jpg,7\n", "line 1: wanted a column 'photo', found name, age"),
        ("photo,refrence\na.jpg,door\n", "did you mean 'reference'"),
        (
            "photo,age\na.jpg,old\n",
            "line 2, column age: wanted an age such as 7, 7.5 or 7y6m, found 'old'",
        ),
        ("photo,age\na.jpg,7\nb.jpg,99\n", "line 3, column age: the age must be"),
        ("photo,sex\na.jpg,x\n", "line 2, column sex"),
        ("photo,stature_mm\na.jpg,100\n", "line 2, column stature_mm: the body height must be"),
        ("photo,soles_mm\na.jpg,200\n", "line 2, column soles_mm"),
        ("photo,soles_mm\na.jpg,-1\n", "line 2, column soles_mm"),
        ("photo,heels_down\na.jpg,1\n", "line 2, column heels_down: wanted yes or no, found '1'"),
        ("photo,ruler_mm\na.jpg,18\n", "line 2, column ruler_mm: sheet: the ruler should"),
        ("photo,placement\na.jpg,floor\n", "line 2, column placement: wanted wall or beside"),
        ("photo,reference\na.jpg,ladder\n", "line 2, column reference: unknown reference"),
        ("photo,reference\na.jpg,wheel\n", "line 2, column size: wheel: wanted its size"),
        ("photo,reference,size\na.jpg,wheel,round\n", "line 2, column size"),
        ('photo,reference,size,points\na.jpg,length,12,"1,1 9,9"\n', "line 2, column size"),
        ("photo,reference,size\na.jpg,length,1m\n", "line 2, column points"),
        ('photo,reference,points\na.jpg,door,"1,1 9;1"\n', "line 2, column points"),
        ("photo,crotch\na.jpg,middle\n", "line 2, column crotch: wanted"),
        ("photo,points\na.jpg,1,1\n", "line 2: wanted 2 cells as in the header, found 3"),
        ("photo,age\n,7\n", "line 2, column photo: wanted a file"),
        ('photo\n"a.jpg\n', "line 2: is not CSV"),
    ],
)
def test_a_fault_names_line_and_column(tmp_path: Path, text: str, told: str) -> None:
    with pytest.raises(BatchError) as caught:
        jobs_of(tmp_path, text)
    assert told in str(caught.value)
    assert str(tmp_path / "list.csv") in str(caught.value)


def test_several_faults_are_told_at_once_but_not_all_of_very_many(tmp_path: Path) -> None:
    with pytest.raises(BatchError) as caught:
        jobs_of(tmp_path, "photo,age\n" + "a.jpg,old\n" * 9)
    lines = str(caught.value).splitlines()
    assert len(lines) == 6
    assert lines[-1] == "and 4 more faults"


def test_where_nobody_names_the_object_it_is_looked_for(tmp_path: Path) -> None:
    (job,) = jobs_of(tmp_path, "photo\na.jpg\n", {})
    assert job.photos[0].task.reference.kind == "auto"
    (tmp_path / "a.jpg").write_bytes(b"x")
    (job,) = read_jobs(tmp_path, {}, Stock())
    assert job.photos[0].task.reference.kind == "auto"
    with pytest.raises(FactError, match="wheel: wanted its size"):
        read_jobs(tmp_path, {"reference": "wheel"}, Stock())


def test_a_source_without_photos_is_told(tmp_path: Path) -> None:
    with pytest.raises(BatchError, match="wanted pictures"):
        read_jobs(tmp_path, SHEET, Stock())
    with pytest.raises(BatchError, match="no such file"):
        read_jobs(tmp_path / "nowhere", SHEET, Stock())
    (tmp_path / "bytes.csv").write_bytes(b"photo\n\xff\xfe\n")
    with pytest.raises(BatchError, match="not UTF-8"):
        read_jobs(tmp_path / "bytes.csv", SHEET, Stock())


def test_lines_of_one_child_are_one_job_with_its_tape(tmp_path: Path) -> None:
    jobs = jobs_of(
        tmp_path,
        "photo,child,age,tape_1_in,tape_2,taped,skill,care\n"
        "a.jpg,Ann,7,22.5,57cm,2026-03-02,,Hasty\n"
        "b.jpg,Ben,8,,,,,\n"
        "c.jpg,ann,7.5,,,,first_pedals,\n"
        "d.jpg,,6,,,,,\n"
        "e.jpg,,6,,,,,\n",
    )
    assert [job.name for job in jobs] == ["a.jpg; c.jpg", "b.jpg", "d.jpg", "e.jpg"]
    ann = jobs[0]
    assert ann.child == "Ann"
    assert ann.tape_mm == pytest.approx((571.5, 570.0))
    assert str(ann.taped_on) == "2026-03-02"
    assert [photo.task.child.age_y for photo in ann.photos] == [7.0, 7.5]
    assert (ann.rider.skill, ann.tape_care) == ("first_pedals", "hasty")
    assert (jobs[1].tape_mm, jobs[1].taped_on, jobs[1].rider.skill) == ((), None, "sure")


def test_a_tape_repeated_in_each_line_of_a_child_is_one_tape(tmp_path: Path) -> None:
    """Counted twice it would be surer than it is."""
    lines = "a.jpg,Ann,57cm,57.5cm\nb.jpg,Ann,57cm,\nc.jpg,Ann,57cm,57.5cm\n"
    (job,) = jobs_of(tmp_path, f"photo,child,tape_1,tape_2\n{lines}")
    assert job.tape_mm == (570.0, 575.0)
    assert len(job.photos) == 3
    with pytest.raises(BatchError, match=r"line 3, column tape_1: wanted the same in every line"):
        jobs_of(tmp_path, "photo,child,tape_1\na.jpg,Ann,57cm\nb.jpg,Ann,58cm\n")


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ("a.jpg,Ann,sure,,\nb.jpg,Ann,off_road,,\n", "line 3, column skill: wanted the same"),
        ("a.jpg,Ann,,5in,\n", "line 2, column tape: a tape reading of an inseam lies between"),
        ("a.jpg,Ann,,tall,\n", "line 2, column tape: 'tall' is not a length"),
        ("a.jpg,Ann,,,May\n", "line 2, column taped: wanted a day such as 2025-05-10"),
        ("a.jpg,Ann,,57cm,,sloppy\n", "line 2, column care: wanted careful or hasty, found 'slo"),
        ("a.jpg,Ann,fast,,\n", "line 2, column skill: wanted first_pedals, sure or off_road"),
    ],
)
def test_a_fault_of_what_belongs_to_the_child_names_line_and_column(
    tmp_path: Path, lines: str, told: str
) -> None:
    with pytest.raises(BatchError, match=told):
        jobs_of(tmp_path, f"photo,child,skill,tape,taped,care\n{lines}")


def test_a_tape_without_its_unit_is_told_how_to_write_it(tmp_path: Path) -> None:
    with pytest.raises(BatchError, match=r"line 2, column tape_1: .*write 25\.5in or 25\.5cm"):
        jobs_of(tmp_path, "photo,child,tape_1\na.jpg,Ann,25.5\n")
