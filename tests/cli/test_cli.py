"""The command line's contract: what it prints, and how it exits."""

import json
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from typer.testing import CliRunner, Result

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import EXIT_REFUSED, EXIT_WRONG_CALL, app

SAMPLES = Path(__file__).parents[2] / "sample_images"
SHEET = ("--reference", "sheet", "--heels-down")
KEYS = {
    "photo",
    "status",
    "inseam_mm",
    "sd_mm",
    "interval95_mm",
    "method",
    "budget",
    "warnings",
    "retake",
    "reasons",
    "reference",
    "landmarks_px",
}
VERDICTS = {"contact", "tight", "good", "roomy", "cramped"}


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture
def nobody(tmp_path: Path) -> Path:
    path = tmp_path / "empty wall é.png"
    Image.fromarray(np.full((400, 300, 3), 180, np.uint8)).save(path)
    return path


def test_a_measured_photo_prints_one_json_object_with_every_key(tmp_path: Path) -> None:
    overlay = tmp_path / "marks.png"
    sample = SAMPLES / "sheet_1.jpg"
    result = run(
        *("measure", sample, *SHEET, "--bikes", DEMO_CATALOGUE),
        *("--json", "--overlay", overlay),
    )
    assert result.exit_code == 0, result.output
    (line,) = result.stdout.splitlines()
    told = json.loads(line)
    assert set(told) >= KEYS | {"fits"}
    assert told["status"] == "measured"
    assert told["method"] == "photo"
    low_mm, high_mm = told["interval95_mm"]
    assert low_mm < told["inseam_mm"] < high_mm
    squares = sum(source["sd_mm"] ** 2 for source in told["budget"])
    assert squares == pytest.approx(told["sd_mm"] ** 2, rel=0.02)
    assert {fit["verdict"] for fit in told["fits"]} <= VERDICTS
    with Image.open(overlay) as picture, Image.open(sample) as photo:
        assert picture.size == photo.size


def test_a_photo_of_nobody_is_refused_with_reasons_and_no_number(nobody: Path) -> None:
    result = run("measure", nobody, "--reference", "sheet", "--json")
    assert result.exit_code == EXIT_REFUSED
    told = json.loads(result.stdout)
    assert set(told) >= KEYS
    assert told["status"] == "refused"
    assert told["inseam_mm"] is None
    assert [reason["code"] for reason in told["reasons"]] == ["nobody"]
    assert told["retake"]


def test_several_photos_give_a_line_each_and_any_refusal_sets_the_exit(nobody: Path) -> None:
    result = run("measure", SAMPLES / "sheet_1.jpg", nobody, *SHEET, "--json")
    assert result.exit_code == EXIT_REFUSED
    assert [json.loads(line)["status"] for line in result.stdout.splitlines()] == [
        "measured",
        "refused",
    ]


def test_photos_of_one_child_are_combined_in_a_last_line(tmp_path: Path) -> None:
    sample, darker = SAMPLES / "sheet_1.jpg", tmp_path / "darker.jpg"
    with Image.open(sample) as picture:
        picture.point(lambda value: 0.9 * value).save(darker, exif=picture.getexif())
    result = run("measure", sample, darker, *SHEET, "--same-child", "--json")
    assert result.exit_code == 0, result.output
    first, _, combined = (json.loads(line) for line in result.stdout.splitlines())
    assert combined["photo"] is None
    assert combined["method"] == "combined"
    assert combined["inseam_mm"] == pytest.approx(first["inseam_mm"], abs=5)
    # What both photos share does not average away.
    assert first["sd_mm"] / 2**0.5 < combined["sd_mm"] < first["sd_mm"]


def test_a_parent_reads_inches_and_centimetres(nobody: Path) -> None:
    result = run("measure", nobody, "--reference", "sheet")
    assert "not measured" in result.stdout
    advice = run("advise", "--inseam", "25.5in", "--sd", "6mm", "--bikes", DEMO_CATALOGUE)
    assert advice.exit_code == 0
    assert "25.5 in (64.8 cm)" in advice.stdout
    assert "helmet" in advice.stdout.lower()


def test_a_tape_goes_through_the_same_door() -> None:
    result = run("advise", "--inseam", "64.8cm", "--bikes", DEMO_CATALOGUE, "--json")
    told = json.loads(result.stdout)
    assert told["method"] == "tape"
    assert told["inseam_mm"] == 648.0
    assert told["sd_mm"] > 0
    probabilities = told["fits"][0]["probabilities"]
    assert set(probabilities) == VERDICTS
    assert sum(probabilities.values()) == pytest.approx(1, abs=1e-4)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("measure", "no/such.jpg", "--reference", "sheet"), "no such file"),
        (("measure", "{folder}", "--reference", "sheet"), "found a folder"),
        (("measure", "{text}", "--reference", "sheet"), "not a picture"),
        (("measure", "{photo}", "--reference", "ladder"), "unknown reference 'ladder'"),
        (("measure", "{photo}", "--reference", "door"), "wanted its four corners"),
        (("measure", "{photo}", "--reference", "length", "--size", "1m"), "wanted its two ends"),
        (("measure", "{photo}", "--reference", "wheel"), "wanted its size"),
        (
            ("measure", "{photo}", "--reference", "door", "--points", "1,1 9,1 9,9"),
            "wanted 4 points, found 3",
        ),
        (
            ("measure", "{photo}", "--reference", "door", "--points", "1,1 9;1"),
            "found '9;1'",
        ),
        (("measure", "{photo}", "--reference", "sheet", "--ruler", "18"), "ruler should measure"),
        (("measure", "{photo}", "--reference", "sheet", "--age", "99"), "age must be"),
        (("advise", "--inseam", "25", "--bikes", "{bikes}"), "25 without a unit is millimetres"),
        (("advise", "--inseam", "9in", "--bikes", "{bikes}"), "9.0 in"),
        (("advise", "--inseam", "25in", "--bikes", "no.csv"), "no.csv"),
        (("advise", "--inseam", "25in", "--bikes", "{headless}"), "standover"),
        (("advise", "--inseam", "25in", "--bikes", "{wordy}"), "line 2, column standover_mm"),
        (("advise", "--bikes", "{bikes}"), "found none"),
        (("sheet", "--out", "{folder}"), "cannot be written"),
    ],
)
def test_a_wrong_call_names_what_was_wanted_and_found(
    tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    (tmp_path / "notes.jpg").write_text("no picture")
    (tmp_path / "headless.csv").write_text("name,tyre\nPipwren,20 x 1.75\n")
    (tmp_path / "wordy.csv").write_text("name,tyre,standover_mm\nPipwren,20 x 1.75,low\n")
    places = {
        "folder": str(tmp_path),
        "text": str(tmp_path / "notes.jpg"),
        "photo": str(SAMPLES / "sheet_1.jpg"),
        "bikes": str(DEMO_CATALOGUE),
        "headless": str(tmp_path / "headless.csv"),
        "wordy": str(tmp_path / "wordy.csv"),
    }
    result = run(*(word.format(**places) if "{" in word else word for word in words))
    assert result.exit_code == EXIT_WRONG_CALL, result.output
    assert told in result.stderr
    assert "Traceback" not in result.output + result.stderr


def test_the_sheet_is_a_pdf_page(tmp_path: Path) -> None:
    out = tmp_path / "page.pdf"
    result = run("sheet", "--paper", "a4", "--out", out)
    assert result.exit_code == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert "180 mm" in result.stdout


def test_each_command_has_help() -> None:
    for command in ("measure", "advise", "batch", "sheet", "label", "app"):
        result = run(command, "--help")
        assert result.exit_code == 0
        assert "--help" in result.stdout


def test_a_crotch_and_floor_that_a_person_gives_are_told_in_the_budget() -> None:
    sample = SAMPLES / "sheet_1.jpg"
    found = run("measure", sample, *SHEET, "--json")
    joints_px = json.loads(found.stdout)["landmarks_px"]
    hips, ankles = (
        np.mean([joints_px[f"{side}_{joint}"] for side in ("left", "right")], axis=0)
        for joint in ("hip", "ankle")
    )
    crotch, toes = (hips + part * (ankles - hips) for part in (0.15, 1.12))
    places = [f"{x:.0f},{y:.0f}" for x, y in (crotch, toes)]
    result = run(
        *("measure", sample, *SHEET, "--json"),
        *("--crotch", places[0], "--floor", places[1]),
    )
    assert result.exit_code == 0, result.output
    sources = {line["source"] for line in json.loads(result.stdout)["budget"]}
    assert {"crotch click", "floor click", "clothing"} <= sources


@pytest.mark.parametrize("place", ["12", "1,2,3", "a,b", "9999999,1"])
def test_a_place_that_is_none_is_a_wrong_call(place: str) -> None:
    sample = SAMPLES / "sheet_1.jpg"
    result = run("measure", sample, "--reference", "sheet", "--crotch", place)
    assert result.exit_code == EXIT_WRONG_CALL
    assert "crotch: wanted" in result.stderr


def test_a_crotch_belongs_to_one_photo(nobody: Path) -> None:
    result = run("measure", nobody, nobody, "--reference", "sheet", "--crotch", "1,2")
    assert result.exit_code == EXIT_WRONG_CALL
    assert "--crotch belongs to one photo" in result.stderr
