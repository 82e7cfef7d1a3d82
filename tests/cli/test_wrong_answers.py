"""What a hostile or a new user types: no confident wrong answer, and every wrong call in one line."""

import datetime as dt
import json
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from typer.testing import CliRunner, Result

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import EXIT_REFUSED, EXIT_WRONG_CALL, app

SAMPLES = Path(__file__).parents[2] / "sample_images"
BIKES = ("--bikes", str(DEMO_CATALOGUE))
PAIRS = "photo_mm,photo_sd_mm,tape_1_mm,taken_by,day,shop\n600,{sd},605,AB,{day},North\n"


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture
def nobody(tmp_path: Path) -> Path:
    path = tmp_path / "wall.png"
    Image.fromarray(np.full((400, 300, 3), 180, np.uint8)).save(path)
    return path


@pytest.mark.parametrize(
    "words",
    [
        ("--inseam", "16in", "--age", "12"),
        ("--inseam", "25.5in", "--age", "3"),
        ("--inseam", "25.5in", "--stature", "100cm"),
        ("--inseam", "25.5in", "--sd", "6mm", "--age", "3"),
        ("--trousers", "18in", "--age", "13"),
        ("--lift", "8in", "--lift-bike", "Brambit 20", "--lifted", "whole", "--age", "4"),
    ],
)
def test_legs_that_no_such_child_has_get_no_bicycle(words: tuple[str, ...]) -> None:
    result = run("advise", *words, *BIKES)
    assert result.exit_code == EXIT_REFUSED, result.output
    assert result.stdout.startswith("No result.\nWhy: ")
    assert "--age" in result.stdout
    assert not any(word in result.stdout for word in ("fits", "try it", "worth a try"))
    told = json.loads(run("advise", *words, *BIKES, "--json").stdout)
    assert told["status"] == "refused"
    assert told["inseam_mm"] is None


def test_a_clothing_size_is_no_inseam_until_the_age_says_so() -> None:
    """European sizes are heights in centimetres: 98 is worn at three years."""
    result = run("advise", "--inseam", "98cm", *BIKES)
    assert result.exit_code == EXIT_REFUSED, result.output
    assert "a clothing size" in " ".join(result.stdout.split())
    assert "state it with --age" in " ".join(result.stdout.split())
    assert run("advise", "--inseam", "92cm", "--age", "18", "--sex", "m", *BIKES).exit_code == 0


@pytest.mark.parametrize("age", ["2", "17"])
def test_a_height_that_no_child_of_this_age_has_is_a_wrong_call(age: str) -> None:
    """127 cm: the CDC's 97th percentile at two years is 94 cm, the 3rd of girls at 17 is 151."""
    result = run("advise", "--stature", "127cm", "--age", age, *BIKES)
    assert result.exit_code == EXIT_WRONG_CALL, result.output
    assert f"--stature: wanted the body height of a child of {age} years" in result.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("--inseam", "25.5in", "--age", "9", "--sex", "f"),
        ("--inseam", "300", "--age", "2"),
        ("--inseam", "900", "--age", "17", "--sex", "m"),
        ("--stature", "50in", "--sex", "f", "--age", "8"),
    ],
)
def test_legs_at_the_limits_are_answered(words: tuple[str, ...]) -> None:
    assert run("advise", *words, *BIKES).exit_code == 0


def test_the_front_wheel_lifted_alone_is_no_longer_legs() -> None:
    """Over a foot under the front tyre of a 20 in bicycle is 4.4 to 6.2 in of clearance."""
    words = ("advise", "--lift", "13in", "--lift-bike", "Brambit 20", "--lifted", "front_wheel")
    told = json.loads(run(*words, *BIKES, "--json").stdout)
    clearance_mm = told["inseam_mm"] + 15 - 498
    assert 4.4 * 25.4 < clearance_mm < 6.2 * 25.4
    assert told["fits"][0]["standover_mm"] + 25.4 < told["inseam_mm"] + 15


def test_one_question_is_asked_once() -> None:
    words = ("--inseam", "20in", "--inseam", "20in", "--age", "9")
    told = run("advise", *words, *BIKES).stdout
    assert told.count("An inseam of 20.0 in (50.8 cm) is shorter than expected") == 1


@pytest.mark.parametrize("words", [("--age", "2"), ("--age", "5"), ("--stature", "120cm")])
def test_a_guess_from_age_or_height_is_never_sure(words: tuple[str, ...]) -> None:
    """Age and stature only guide; the inseam decides."""
    told = json.loads(run("advise", *words, *BIKES, "--json").stdout)
    assert told["how_sure"] != "sure"


def test_a_tape_answers_where_the_photo_shows_nobody(nobody: Path) -> None:
    result = run("measure", nobody, "--tape", "25.5in", *BIKES, "--json")
    assert result.exit_code == EXIT_REFUSED
    photo, child = (json.loads(line) for line in result.stdout.splitlines())
    assert photo["status"] == "refused"
    assert child["status"] == "measured"
    assert child["method"] == "tape"
    assert child["fits"]


def test_no_table_is_promised_where_none_is_shown() -> None:
    assert "the table says" not in run("advise", "--inseam", "900", *BIKES).stdout
    assert "the table says" in run("advise", "--inseam", "25in", *BIKES).stdout


@pytest.mark.parametrize("sex", ["M", "m", " F"])
def test_words_are_read_in_any_case(sex: str) -> None:
    assert run("advise", "--inseam", "25in", "--sex", sex, *BIKES).exit_code == 0
    assert (
        run("measure", "no.jpg", "--legwear", "SNUG").stderr == "pose-fit: no.jpg: no such file\n"
    )


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("advise", "--inseam", "25in", *BIKES, "--sex", "x"), "--sex: wanted f or m, found 'x'"),
        (
            ("advise", "--inseam", "25in", *BIKES, "--skill", "expert"),
            "--skill: wanted first_pedals, sure or off_road, found 'expert'",
        ),
        (
            ("measure", SAMPLES / "sheet_2.jpg", "--legwear", "jeans"),
            "--legwear: wanted snug, fitted, loose or hidden, found 'jeans'",
        ),
        (
            ("advise", "--inseam", "25in", *BIKES, "--riding-soles", "15in"),
            "--riding-soles: wanted 0 to 60 mm, found 381 mm",
        ),
        (
            ("advise", "--stature", "50cm", *BIKES),
            "--stature: the body height must be between 31.5 in (80.0 cm) and 74.8 in (190.0 cm),"
            " found 19.7 in (50.0 cm)",
        ),
        (
            ("advise", "--inseam", "2in", "--sd", "6mm", *BIKES),
            "--inseam: an inseam lies between 9.8 in (25.0 cm) and 43.3 in (110.0 cm),"
            " found 2.0 in (5.1 cm)",
        ),
        (
            ("advise", "--lift", "10in", "--lift-bike", "Brambit 20", *BIKES),
            "--lift: 10.0 in (25.4 cm) is much for both wheels together; add --lifted whole or",
        ),
        # What is wrong of the object names its option, though it shows with the photo alone.
        (
            (
                *("measure", SAMPLES / "sheet_2.jpg", "--reference", "door", "--size", "80in"),
                *("--points", "0,0 100,0 100,100"),
            ),
            "--points: door: wanted 4 points, found 3",
        ),
        (
            (
                *("measure", SAMPLES / "sheet_2.jpg", "--reference", "length", "--size", "1m"),
                *("--points", "5,5 5,5"),
            ),
            "--points: length: wanted points apart from each other",
        ),
        (
            ("measure", SAMPLES / "sheet_2.jpg", "--reference", "height"),
            "--stature: height: wanted the child’s height, found none",
        ),
        # A small number without a unit is as likely inches or centimetres: 6 mm of lift would be
        # the legs of a child six inches shorter.
        (
            ("advise", "--lift", "6", "--lift-bike", "Brambit 20", *BIKES),
            "--lift: wanted the unit of 6; write 6in, 6cm or 6mm",
        ),
        (
            ("advise", "--trousers", "24in", "--hem", "2", *BIKES),
            "--hem: wanted the unit of 2; write 2in, 2cm or 2mm",
        ),
        (
            ("measure", SAMPLES / "sheet_2.jpg", "--soles", "1"),
            "--soles: wanted the unit of 1; write 1in, 1cm or 1mm",
        ),
        (
            ("advise", "--inseam", "25in", "--riding-soles", "1.5", *BIKES),
            "--riding-soles: wanted the unit of 1.5; write 1.5in, 1.5cm or 1.5mm",
        ),
        (
            ("advise", "--inseam", "25in", "--sd", "0.1mm", *BIKES),
            "--sd: wanted a standard uncertainty of 1 mm to 10 cm, found '0.1mm'",
        ),
        (
            ("advise", "--inseam", "25in", "--lifted", "whole", *BIKES),
            "--lifted belongs to --lift",
        ),
        (
            (
                *("advise", "--lift", "40in", "--lift-bike", "Brambit 20", "--lifted", "whole"),
                *BIKES,
            ),
            "--lift: 40.0 in (101.6 cm) gives an inseam of 59.0 in (149.9 cm);",
        ),
        (
            ("batch", SAMPLES / "sheet_2.jpg", "--out", "{out}.csv"),
            "sheet_2.jpg: wanted a folder or a CSV list, found a picture;",
        ),
        (("sheet", "--out", "{out}.txt"), "wanted a name that ends in .pdf, found '.txt'"),
        (("label", "--out", "{out}"), "wanted a name that ends in .pdf, found none"),
        (("pairs", "{pairs}", "--plot", "{out}.png"), "wanted a name that ends in .svg, found"),
        (("pairs", "{pairs}", "--shop", "South"), "--shop: wanted North, found 'South'"),
        (("pairs", "{zero}"), "photo_sd_mm: wanted more than 0, found '0'"),
        (("pairs", "{future}"), "day: wanted a day up to"),
    ],
)
def test_a_wrong_call_ends_in_one_line(
    tmp_path: Path, words: tuple[object, ...], told: str
) -> None:
    files = {
        "pairs": PAIRS.format(sd=10, day="2026-01-02"),
        "zero": PAIRS.format(sd=0, day="2026-01-02"),
        "future": PAIRS.format(sd=10, day=dt.date.today() + dt.timedelta(days=2)),
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    paths = {name: tmp_path / name for name in files} | {"out": tmp_path / "out"}
    result = run(*(str(word).format(**paths) for word in words))
    assert result.exit_code == EXIT_WRONG_CALL, result.output
    assert told in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert not list(tmp_path.glob("out*"))


def test_a_height_measured_on_a_day_to_come_is_a_wrong_call() -> None:
    result = run(
        *("measure", SAMPLES / "door_1.jpg", "--reference", "height", "--stature", "1255"),
        *("--measured", "2030-01-01", "--heels-down", "--today", "2026-11-27"),
    )
    assert result.exit_code == EXIT_WRONG_CALL, result.output
    assert "measured: wanted a day up to 2026-11-27, found 2030-01-01" in result.stderr


def test_a_spreadsheets_own_words_for_yes_and_no(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("photo,heels_down,sex\nmissing.jpg,TRUE,M\n")
    result = run("batch", tmp_path / "list.csv", "--out", tmp_path / "out.csv", "--workers", "1")
    assert "1 photo: 0 measured, 0 refused, 1 failed" in result.stdout, result.output
