"""The command on real photos, stopped for real."""

import csv
import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PIL import Image
from typer.testing import CliRunner, Result

from pose_fit.batch.row import Row
from pose_fit.batch.table import journal_path
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import EXIT_REFUSED, EXIT_WRONG_CALL, app

SAMPLES = Path(__file__).parents[2] / "sample_images"
COMMAND = (sys.executable, "-c", "from pose_fit.cli.main import main; main()", "batch")
#: A real run takes seconds; one that hangs fails.
PATIENCE_S = 120.0


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def rows_of(table: Path) -> dict[str, dict[str, str]]:
    text = io.StringIO(table.read_text("utf-8-sig"), newline="")
    return {row["photo"]: row for row in csv.DictReader(text)}


def photos_in(folder: Path) -> Path:
    """Three photos of a sheet, one of nobody, one that is not a picture."""
    folder.mkdir()
    for name in ("sheet_1.jpg", "sheet_2.jpg", "sheet_3.jpg"):
        shutil.copy(SAMPLES / name, folder / name)
    Image.new("RGB", (300, 400), "grey").save(folder / "nobody.png")
    (folder / "notes.jpg").write_text("no picture")
    return folder


def told_by_measure(photo: Path, *words: object) -> dict[str, object]:
    told: dict[str, object] = json.loads(run("measure", photo, *words, "--json").stdout)
    return told


def test_the_sentences_of_the_table_have_the_unit_first_that_was_asked_for(tmp_path: Path) -> None:
    """The other one next time, and nothing is measured again for it."""
    listed = tmp_path / "list.csv"
    listed.write_text(f"photo,ruler,heels_down\n{SAMPLES / 'sheet_2.jpg'},174.5,yes\n", "utf-8")
    table = tmp_path / "table.csv"
    command = ("batch", listed, "--out", table, "--bikes", DEMO_CATALOGUE, "--workers", 1)
    for units, first in (("cm", r"\d cm \(\d"), ("in", r"\d in \(\d"), ("cm", r"\d cm \(\d")):
        told = run(*command, "--units", units).stdout
        (row,) = rows_of(table).values()
        assert re.search(first, row["advice"])
        assert len(re.findall(r" \(\d", row["advice"])) == len(re.findall(first, row["advice"]))
    assert "1 of them by an earlier run" in told


def test_a_list_is_measured_as_each_photo_alone_is(tmp_path: Path) -> None:
    names = ("sheet_2", "door_1")
    truths = {name: json.loads((SAMPLES / f"{name}.json").read_text("utf-8")) for name in names}
    lines = [
        [
            os.path.relpath(SAMPLES / truth["photo"], tmp_path),
            truth["reference"],
            truth["size"] or "",
            truth["points"] if truth["reference"] == "door" else "",
            truth["ruler_mm"] or "",
            truth["soles_mm"],
            truth["age_years"],
            truth["sex"],
            "yes" if truth["heels_down"] else "",
        ]
        for truth in truths.values()
    ]
    source, out = tmp_path / "list.csv", tmp_path / "table.csv"
    with source.open("w", newline="") as file:
        header = ["photo", "reference", "size", "points", "ruler_mm", "soles_mm", "age", "sex"]
        header += ["heels_down"]
        csv.writer(file).writerows([header, *lines])
    result = run("batch", source, "--out", out, "--bikes", DEMO_CATALOGUE)
    assert result.exit_code == 0, result.output + result.stderr
    assert "2 measured, 0 refused, 0 failed" in result.stdout
    for row, truth in zip(rows_of(out).values(), truths.values(), strict=True):
        alone = told_by_measure(SAMPLES / truth["photo"], *truth["arguments"])
        assert row["inseam_mm"] == str(alone["inseam_mm"])
        assert row["sd_mm"] == str(alone["sd_mm"])
        assert float(row["low95_mm"]) <= truth["inseam_mm"] <= float(row["high95_mm"])
        assert row["bicycle"]


def test_a_killed_run_goes_on_where_it_was_stopped(tmp_path: Path) -> None:
    folder, out = photos_in(tmp_path / "in"), tmp_path / "table.csv"
    words = [str(folder), "--reference", "sheet", "--heels-down", "--workers", "2", "--out"]
    first = subprocess.Popen(
        [*COMMAND, *words, out], start_new_session=True, stdout=subprocess.DEVNULL
    )
    until_s = time.monotonic() + PATIENCE_S
    journal = journal_path(out)
    while not (journal.exists() and journal.read_bytes().count(b"\n") >= 2):
        assert first.poll() is None
        assert time.monotonic() < until_s
        time.sleep(0.005)
    os.kill(first.pid, signal.SIGKILL)
    assert first.wait() == -signal.SIGKILL
    # The workers go with it.
    while _is_anybody_left(first.pid):
        assert time.monotonic() < until_s
        time.sleep(0.01)
    *finished, torn = journal.read_bytes().split(b"\n")
    assert torn == b""
    first_rows = [Row(tuple(json.loads(line))) for line in finished]
    second = subprocess.run([*COMMAND, *words, out], capture_output=True, text=True, check=False)
    assert second.returncode == EXIT_REFUSED, second.stderr
    assert second.stderr == ""
    kept = [row for row in first_rows if row.status != "failed"]
    assert f"5 photos ({len(kept)} of them by an earlier run)" in second.stdout
    assert "3 measured, 1 refused, 1 failed" in second.stdout
    rows = rows_of(out)
    assert list(rows) == ["nobody.png", "notes.jpg", "sheet_1.jpg", "sheet_2.jpg", "sheet_3.jpg"]
    assert all(tuple(rows[row.cells[0]].values()) == row.cells for row in kept)
    assert rows["nobody.png"]["reasons"] == "nobody"
    assert rows["notes.jpg"]["reasons"] == "photo_unreadable"


def _is_anybody_left(group: int) -> bool:
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


def test_an_interrupt_leaves_the_finished_rows_in_the_table(tmp_path: Path) -> None:
    folder, out = photos_in(tmp_path / "in"), tmp_path / "table.csv"
    running = subprocess.Popen(
        [
            *COMMAND,
            str(folder),
            "--reference",
            "sheet",
            "--heels-down",
            "--workers",
            "1",
            "--out",
            out,
        ],
        start_new_session=True,
        stderr=subprocess.PIPE,
        text=True,
    )
    until_s = time.monotonic() + PATIENCE_S
    journal = journal_path(out)
    while not (journal.exists() and journal.read_bytes().count(b"\n") >= 1):
        assert running.poll() is None
        assert time.monotonic() < until_s
        time.sleep(0.005)
    os.killpg(running.pid, signal.SIGINT)
    _, told = running.communicate(timeout=PATIENCE_S)
    assert running.returncode == 130
    assert "run it again" in told
    assert "Traceback" not in told
    assert 1 <= len(rows_of(out)) < 5


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("{folder}", "--reference", "wheel"), "wheel: wanted its size"),
        (("{empty}", "--reference", "sheet"), "wanted pictures"),
        (("{list}",), "line 3, column age: wanted an age such as 7, 7.5 or 7y6m, found 'seven'"),
        (("{folder}", "--reference", "sheet", "--bikes", "no.csv"), "no.csv"),
        (("{folder}", "--reference", "sheet", "--out", "{folder}"), "wanted a file"),
        (("{list2}", "--reference", "sheet", "--out", "{list2}"), "kept as it is"),
        (("{folder}", "--reference", "sheet", "--dask", "tcp://127.0.0.1:9"), "no Dask scheduler"),
        (
            ("{folder}", "--reference", "sheet", "--dask", "tcp://127.0.0.1:9", "--workers", "2"),
            "wanted one of them",
        ),
    ],
)
def test_a_wrong_call_names_what_was_wanted_and_found(
    tmp_path: Path, words: tuple[str, ...], told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("pose_fit.batch.dask_workers.TIMEOUT_S", 0.5)
    places = {name: str(tmp_path / name) for name in ("folder", "empty")}
    places |= {name: str(tmp_path / f"{name}.csv") for name in ("list", "list2")}
    (tmp_path / "empty").mkdir()
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "a.jpg").write_bytes(b"x")
    (tmp_path / "list.csv").write_text("photo,reference,age\na.jpg,sheet,7\nb.jpg,sheet,seven\n")
    (tmp_path / "list2.csv").write_text("photo\na.jpg\n")
    said = [word.format(**places) for word in words]
    if "--out" not in said:
        said += ["--out", str(tmp_path / "table.csv")]
    result = run("batch", *said)
    assert result.exit_code == EXIT_WRONG_CALL, result.output
    assert told in result.stderr
    assert "Traceback" not in result.output + result.stderr
    assert not (tmp_path / "table.csv").exists()
