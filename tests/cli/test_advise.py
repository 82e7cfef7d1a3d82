"""``pose-fit advise`` as a family, a shop or a program uses it: what they type, and what comes back."""

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import EXIT_REFUSED, EXIT_WRONG_CALL, app
from pose_fit.report.json_keys import ANSWER_KEYS, FIT_KEYS, PHOTO_KEYS

BIKES = ("--bikes", DEMO_CATALOGUE)


def run(*words: object) -> Result:
    return CliRunner().invoke(app, ["advise", *map(str, words), *map(str, BIKES)])


@pytest.mark.parametrize(
    "words", [("--inseam", "25in"), ("--trousers", "23in"), ("--stature", "50in"), ("--age", "7")]
)
def test_a_program_finds_every_key_as_with_a_photo(words: tuple[str, ...]) -> None:
    told = json.loads(run(*words, "--json").stdout)
    assert set(told) == {*PHOTO_KEYS, *ANSWER_KEYS}
    assert (told["status"], told["photo"], told["reasons"]) == ("measured", None, [])
    assert {key for fit in told["fits"] for key in fit} == set(FIT_KEYS)
    refused = json.loads(run("--inseam", "25in", "--age", "3", "--json").stdout)
    assert set(refused) == set(PHOTO_KEYS)


def test_the_tape_has_one_name_with_and_without_a_photo() -> None:
    assert run("--tape", "25in").stdout == run("--inseam", "25in").stdout
    measure = CliRunner().invoke(app, ["measure", "no.jpg", "--inseam", "9in"])
    assert measure.exit_code == EXIT_WRONG_CALL
    assert "no.jpg: no such file" in measure.stderr


@pytest.mark.parametrize("size", ["8-9", "age 8-9", "8Y", "size 10"])
def test_a_clothing_size_is_told_from_a_length(size: str) -> None:
    result = run("--trousers", size)
    assert result.exit_code == EXIT_WRONG_CALL
    assert "a clothing size is none: measure the seam" in result.stderr
    # Nobody is told to write 8-9 with a unit.
    assert "write 8" not in result.stderr
    assert "without a unit" not in result.stderr


def test_a_measured_hem_makes_a_seam_surer() -> None:
    guessed, looked = (
        json.loads(run("--trousers", "22in", *hem, "--json").stdout)
        for hem in ((), ("--hem", "3cm"))
    )
    # The usual hem ends 3 cm above the floor.
    assert looked["inseam_mm"] == guessed["inseam_mm"]
    assert looked["sd_mm"] < 0.7 * guessed["sd_mm"]
    alone = run("--inseam", "25in", "--hem", "3cm")
    assert alone.exit_code == EXIT_WRONG_CALL
    assert "--hem belongs to --trousers" in alone.stderr


def test_a_seam_is_told_as_it_was_typed() -> None:
    told = run("--trousers", "128").stderr
    assert "an inside seam of 5.0 in (12.8 cm) gives an inseam of 7.0 in (17.8 cm)" in told
    assert "128 without a unit is millimetres" in told


def test_a_lift_that_may_be_the_front_wheels_is_told_as_it_was_taken() -> None:
    """5 in under both tyres or under one: nearly three inches of leg apart."""
    words = ("--lift", "5in", "--lift-bike", "Brambit 20", "--json")
    silent, whole, front = (
        json.loads(run(*words, *said).stdout)
        for said in ((), ("--lifted", "whole"), ("--lifted", "front_wheel"))
    )
    assert silent["inseam_mm"] == whole["inseam_mm"] > front["inseam_mm"] + 60
    assert not {"lifted_whole"} & {one["code"] for one in whole["warnings"] + front["warnings"]}
    (told,) = (one["message"] for one in silent["warnings"] if one["code"] == "lifted_whole")
    assert f"about {front['inseam_mm'] / 25.4:.1f} in" in told
    assert "--lifted" in told


def test_a_hasty_tape_is_less_sure() -> None:
    words = ("--inseam", "25.5in", "--json")
    careful, hasty = (json.loads(run(*words, *more).stdout) for more in ((), ("--care", "Hasty")))
    assert hasty["inseam_mm"] == careful["inseam_mm"]
    assert hasty["sd_mm"] > 2 * careful["sd_mm"]
    for more in (("--trousers", "24in"), ("--inseam", "25in", "--sd", "6mm")):
        assert run(*more, "--care", "hasty").exit_code == EXIT_WRONG_CALL


def test_readings_that_nearly_agree_are_averaged() -> None:
    told = json.loads(run("--inseam", "23.5in", "--inseam", "23.4in", "--json").stdout)
    assert told["how_sure"] in ("sure", "fairly sure")
    assert not told["warnings"]


@pytest.mark.parametrize(
    ("readings", "code"),
    [
        (("25in", "22in"), "tape_readings_disagree"),
        # Two of three say 25.4 in: were it 22, the 24 in frames of the demo would touch.
        (("25.5in", "25.4in", "22in"), "tape_odd_reading"),
        (("60cm", "60cm", "60.5cm", "56cm"), "tape_odd_reading"),
    ],
)
def test_readings_too_far_apart_are_a_question_and_no_average(
    readings: tuple[str, ...], code: str
) -> None:
    words = [word for reading in readings for word in ("--inseam", reading)]
    result = run(*words, "--json")
    told = json.loads(result.stdout)
    assert result.exit_code == EXIT_REFUSED
    assert told["inseam_mm"] is None
    assert [reason["code"] for reason in told["reasons"]] == [code]
    assert "every reading but the slip" in run(*words).stdout


def test_a_seam_that_disagrees_with_the_tape_makes_it_unsure() -> None:
    words = ("--inseam", "60cm", "--trousers", "48.5cm")
    told = json.loads(run(*words, "--json").stdout)
    assert told["how_sure"] == "unsure"
    first = run(*words).stdout.split("How sure")[0]
    assert "the readings disagree: measure again first" in " ".join(first.split())
    assert "readings_disagree" in [one["code"] for one in told["warnings"]]


@pytest.mark.parametrize("lifted", ["whole", "front_wheel"])
def test_a_lift_is_made_in_the_shoes_of_riding(lifted: str) -> None:
    """Whatever the soles, this bicycle comes up as far as it did."""
    words = ("--lift", "5in", "--lift-bike", "Brambit 20", "--lifted", lifted, "--json")
    found = [
        json.loads(run(*words, *soles).stdout)
        for soles in ((), ("--riding-soles", "5mm"), ("--riding-soles", "30mm"))
    ]
    clearances = [
        next(fit["clearance_mm"] for fit in told["fits"] if fit["name"] == "Brambit 20")
        for told in found
    ]
    assert clearances == pytest.approx([clearances[0]] * 3, abs=0.11)
    assert found[1]["inseam_mm"] == pytest.approx(found[2]["inseam_mm"] + 25, abs=0.11)


def test_a_bicycle_to_grow_into_is_named_and_recommended_with_stretch_alone() -> None:
    """Less than an inch over the top tube, and surely none of it gone."""
    words = ("--inseam", "28in", "--inseam", "28in", "--inseam", "28in")
    text = " ".join(run(*words).stdout.split())
    assert "To grow into, with less to spare than usual: Larkum 26 S (--stretch)." in text
    plain, stretched = (
        json.loads(run(*words, *stretch, "--json").stdout) for stretch in ((), ("--stretch",))
    )
    assert (plain["with_stretch"], stretched["with_stretch"]) == (["Larkum 26 S"], [])
    before, after = (
        next(fit for fit in told["fits"] if fit["name"] == "Larkum 26 S")
        for told in (plain, stretched)
    )
    assert (before["recommended"], after["recommended"]) == (False, True)
    assert after["clearance_mm"] < 25.4
    assert after["probabilities"]["contact"] <= 0.025


@pytest.mark.parametrize("age", ["7 1/2", "7½", "7.5", "7,5", "7y6m", "7 years 6 months"])
def test_half_years_are_typed_in_many_ways(age: str) -> None:
    assert run("--age", age).stdout == run("--age", "90 months").stdout


@pytest.mark.parametrize(
    ("words", "is_sent_to_a_tape"),
    [
        (("--inseam", "25.5in", "--age", "3"), False),
        (("--inseam", "25.5in", "--sd", "6mm", "--age", "3"), False),
        (("--trousers", "24in", "--age", "3"), True),
    ],
)
def test_nobody_with_a_tape_in_hand_is_sent_to_a_tape(
    words: tuple[str, ...], is_sent_to_a_tape: bool
) -> None:
    result = run(*words)
    assert result.exit_code == EXIT_REFUSED
    assert ("Or use a tape" in result.stdout) == is_sent_to_a_tape


def test_a_stock_list_that_knows_the_wheels_alone_is_judged_and_says_what_is_missing(
    tmp_path: Path,
) -> None:
    path = tmp_path / "stock.csv"
    path.write_text('name,tyre,standover_in\nRed,"20""",19.5\nBlue,24 inch,24\n', "utf-8")
    words = ["advise", "--inseam", "23in", "--bikes", str(path), "--json"]
    told = json.loads(CliRunner().invoke(app, words).stdout)
    assert [fit["wheel_class_in"] for fit in told["fits"]] == [20, 24]
    for fit in told["fits"]:
        assert "tyre_ambiguous" in {caution["code"] for caution in fit["cautions"]}
    # A picture cannot be scaled by it.
    photo = Path(__file__).parents[2] / "sample_images" / "wheel_1.jpg"
    words = ["measure", str(photo), "--reference", "wheel", "--size", "26"]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == EXIT_WRONG_CALL
    assert "read the code on the sidewall" in result.stderr


def test_the_unit_that_comes_first_does_so_in_what_json_says_too() -> None:
    words = ("--trousers", "60cm", "--json")
    inches, centimetres = (run(*words, *units).stdout for units in ((), ("--units", "cm")))
    assert re.search(r"\d in \(\d+\.\d cm\)", inches)
    assert not re.search(r"\d in \(\d", centimetres)
    one, other = json.loads(inches), json.loads(centimetres)
    # Numbers are millimetres in both.
    assert one["inseam_mm"] == other["inseam_mm"]
    assert [fit["clearance_mm"] for fit in one["fits"]] == [
        fit["clearance_mm"] for fit in other["fits"]
    ]
