"""``pose-fit measure``: days, copies, children and clips; every key of its JSON by name."""

import json
import re
from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image
from typer.testing import CliRunner, Result

from pose_fit.anthropometry.plausibility import plausibility_at_age
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import EXIT_REFUSED, EXIT_WRONG_CALL, app
from pose_fit.report.json_keys import ANSWER_KEYS, FIT_KEYS, PHOTO_KEYS

SAMPLES = Path(__file__).parents[2] / "sample_images"
SAMPLE = SAMPLES / "sheet_1.jpg"
SHEET = ("--reference", "sheet", "--heels-down", "--soles", "20.5mm")
TODAY = ("--today", "2026-11-26")


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def lines_of(result: Result) -> list[dict[str, object]]:
    return [json.loads(line) for line in result.stdout.splitlines()]


def taken(tmp_path: Path, day: str) -> Path:
    """The sample with a day in its metadata."""
    path = tmp_path / f"{day}.jpg"
    with Image.open(SAMPLE) as picture:
        exif = picture.getexif()
        exif.get_ifd(0x8769)[0x9003] = f"{day.replace('-', ':')} 10:20:30"
        picture.save(path, exif=exif, quality=95)
    return path


def test_every_key_is_there_and_in_the_help_and_no_other(tmp_path: Path) -> None:
    words = ("--bikes", DEMO_CATALOGUE, "--json")
    (told,) = lines_of(run("measure", SAMPLE, *SHEET, "--age", "6.4", *words))
    assert set(told) == {*PHOTO_KEYS, *ANSWER_KEYS}
    assert {key for fit in told["fits"] for key in fit} == set(FIT_KEYS)
    Image.fromarray(np.full((400, 300, 3), 180, np.uint8)).save(tmp_path / "wall.png")
    (refused,) = lines_of(run("measure", tmp_path / "wall.png", *SHEET, *words))
    assert set(refused) == set(PHOTO_KEYS)
    help_text = run("measure", "--help").stdout
    assert all(f"  {key} " in help_text for key in {**PHOTO_KEYS, **ANSWER_KEYS, **FIT_KEYS})


def test_an_old_picture_is_measured_as_of_then_and_advised_as_of_today(tmp_path: Path) -> None:
    words = (*SHEET, "--age", "6.4", "--sex", "m", *TODAY, "--bikes", DEMO_CATALOGUE)
    (now,) = lines_of(run("measure", taken(tmp_path, "2026-11-26"), *words, "--json"))
    (old,) = lines_of(run("measure", taken(tmp_path, "2025-05-26"), *words, "--json"))
    assert old["taken_on"] == "2025-05-26"
    assert old["inseam_mm"] == pytest.approx(now["inseam_mm"], abs=0.2)
    assert now["today"]["inseam_mm"] == now["inseam_mm"]
    assert now["today"]["on"] == old["today"]["on"] == "2026-11-26"
    # A boy of six gains some 30 to 40 mm of inseam a year.
    assert 40 < old["today"]["inseam_mm"] - old["inseam_mm"] < 65
    assert old["today"]["sd_mm"] > 1.1 * old["sd_mm"]
    assert "grown_since" in {warning["code"] for warning in old["warnings"]}
    standover_mm = old["fits"][0]["standover_mm"]
    assert old["fits"][0]["clearance_mm"] == pytest.approx(
        old["today"]["inseam_mm"] + 15 - standover_mm, abs=0.3
    )
    text = " ".join(run("measure", taken(tmp_path, "2025-05-26"), *words).stdout.split())
    assert "The picture is of 2025-05-26, 18 months ago" in text
    told_cm = [float(number) for number in re.findall(r"\(([\d.]+) cm\)", text)]
    # The key is rounded to a tenth of a millimetre, and the text rounds the length itself.
    assert any(cm == pytest.approx(old["today"]["inseam_mm"] / 10, abs=0.06) for cm in told_cm)


def test_a_tape_of_today_is_compared_with_the_child_of_today(tmp_path: Path) -> None:
    """Long for the six-year-old of the picture; by now the child is nearly eight."""
    photo = taken(tmp_path, "2025-05-26")
    words = (*SHEET, "--age", "6.4", "--sex", "m", *TODAY, "--json")
    (alone,) = lines_of(run("measure", photo, *words))
    tape_mm = alone["today"]["inseam_mm"] + 36
    assert plausibility_at_age(tape_mm, sd_mm=7, age_y=6.4, sex="m").notice
    assert not plausibility_at_age(tape_mm, sd_mm=7, age_y=7.9, sex="m").notice
    together = lines_of(run("measure", photo, *words, "--tape", f"{tape_mm:.0f}mm"))[-1]
    assert together["method"] == "combined"
    assert not [one for one in together["warnings"] if one["code"].startswith(("tape_", "inseam_"))]


def test_the_day_can_be_stated_and_must_have_been(tmp_path: Path) -> None:
    photo = taken(tmp_path, "2025-05-26")
    (told,) = lines_of(run("measure", photo, *SHEET, "--taken", "2026-11-26", *TODAY, "--json"))
    assert told["taken_on"] == "2026-11-26"
    assert told["today"]["inseam_mm"] == told["inseam_mm"]
    result = run("measure", photo, *SHEET, "--taken", "2027-01-01", *TODAY)
    assert result.exit_code == EXIT_WRONG_CALL
    assert "which is to come" in result.stderr
    result = run("measure", photo, *SHEET, "--today", "soon")
    assert result.exit_code == EXIT_WRONG_CALL
    assert "--today: wanted a day" in result.stderr


def test_a_picture_of_years_ago_gets_no_advice(tmp_path: Path) -> None:
    photo = taken(tmp_path, "2021-05-26")
    result = run("measure", photo, *SHEET, *TODAY, "--bikes", DEMO_CATALOGUE, "--json")
    assert result.exit_code == EXIT_REFUSED
    (told,) = lines_of(result)
    assert told["status"] == "measured"
    assert told["today"] is None
    assert "fits" not in told
    assert "picture_too_old" in {warning["code"] for warning in told["warnings"]}


def test_one_file_given_three_times_is_one_photo(tmp_path: Path) -> None:
    copy = tmp_path / "copy.jpg"
    copy.write_bytes(SAMPLE.read_bytes())
    result = run("measure", SAMPLE, copy, SAMPLE, *SHEET, "--same-child", "--json")
    assert result.exit_code == 0, result.output
    photo, child = lines_of(result)
    assert (child["inseam_mm"], child["sd_mm"]) == (photo["inseam_mm"], photo["sd_mm"])
    assert result.stderr.count("is the same file as") == 2


def test_two_children_are_no_result() -> None:
    words = (*SHEET, "--same-child", "--bikes", DEMO_CATALOGUE)
    result = run("measure", SAMPLE, SAMPLES / "sheet_2.jpg", *words, "--json")
    assert result.exit_code == EXIT_REFUSED
    first, second, child = lines_of(result)
    assert (first["status"], second["status"]) == ("measured", "measured")
    assert child["status"] == "refused"
    assert child["inseam_mm"] is None
    assert [reason["code"] for reason in child["reasons"]] == ["not_one_child"]
    text = run("measure", SAMPLE, SAMPLES / "sheet_2.jpg", *words)
    assert text.exit_code == EXIT_REFUSED
    assert "too far apart for one child" in " ".join(text.stdout.split())
    assert "What to do" not in text.stdout


def test_a_tape_of_another_child_is_no_result() -> None:
    result = run("measure", SAMPLE, *SHEET, "--tape", "27in", "--tape", "27.2in", "--json")
    assert result.exit_code == EXIT_REFUSED
    assert lines_of(result)[-1]["status"] == "refused"


def test_bicycles_are_judged_once_for_several_photos_of_a_child(tmp_path: Path) -> None:
    darker = tmp_path / "darker.jpg"
    with Image.open(SAMPLE) as picture:
        picture.point(lambda value: 0.9 * value).save(darker, exif=picture.getexif())
    words = (*SHEET, "--same-child", "--bikes", DEMO_CATALOGUE)
    result = run("measure", SAMPLE, darker, *words)
    assert result.exit_code == 0, result.output
    assert result.stdout.count("What to do") == 1
    told = lines_of(run("measure", SAMPLE, darker, *words, "--json"))
    assert ["fits" in line for line in told] == [False, False, True]
    # Nobody who gives several photos need know the option.
    apart = run("measure", SAMPLE, darker, *SHEET)
    assert "if all show one child, add --same-child" in apart.stderr
    assert "--same-child" not in result.stderr


def clip_of(path: Path, *, size: tuple[int, int] = (900, 1200)) -> Path:
    """A second of film of the sample by a camera that comes nearer and moves aside."""
    picture = cv2.imread(str(SAMPLE))
    film = cv2.VideoWriter(str(path), cv2.VideoWriter_fourcc(*"mp4v"), 30, size)
    for number in range(30):
        scale = size[0] / picture.shape[1] * (1 + 0.001 * number)
        move = np.float32([[scale, 0, -1.0 * number], [0, scale, -0.6 * number]])
        film.write(cv2.warpAffine(picture, move, size, borderMode=cv2.BORDER_REPLICATE))
    film.release()
    return path


@pytest.mark.parametrize("name", ["clip.mp4", "clip.mov"])
def test_a_clip_is_measured_like_its_photo(tmp_path: Path, name: str) -> None:
    truth = json.loads((SAMPLES / "sheet_1.json").read_text("utf-8"))
    result = run("measure", clip_of(tmp_path / name), *SHEET, "--json")
    assert result.exit_code == 0, result.output + result.stderr
    (told,) = lines_of(result)
    (photo,) = lines_of(run("measure", SAMPLE, *SHEET, "--json"))
    assert told["method"] == "photo"
    low_mm, high_mm = told["interval95_mm"]
    assert low_mm < truth["inseam_mm"] < high_mm
    # Frames share nearly all their error: several are not much surer than one.
    assert told["sd_mm"] > 0.7 * photo["sd_mm"]
    assert "clip_frames" in {warning["code"] for warning in told["warnings"]}


def test_points_belong_to_a_photo_and_not_to_a_clip(tmp_path: Path) -> None:
    result = run("measure", clip_of(tmp_path / "clip.mp4"), *SHEET, "--crotch", "400,600")
    assert result.exit_code == EXIT_WRONG_CALL
    assert "found a clip" in result.stderr


def test_an_endless_strip_is_a_wrong_call(tmp_path: Path) -> None:
    path = tmp_path / "strip.png"
    Image.new("L", (300, 399_000)).save(path)
    result = run("measure", path, *SHEET)
    assert result.exit_code == EXIT_WRONG_CALL
    assert "times as long as wide, found 300 x 399000" in result.stderr
