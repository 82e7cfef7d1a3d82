"""What programs read: every line that ``--json`` prints is what its schema says, and carries units."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]
from PIL import Image
from typer.testing import CliRunner

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE
from pose_fit.cli.main import app

SAMPLE = Path(__file__).parents[2] / "sample_images" / "sheet_2.jpg"
BIKES = ("--bikes", str(DEMO_CATALOGUE))


def run(*words: object) -> str:
    return CliRunner().invoke(app, [str(word) for word in words]).stdout


@pytest.fixture(scope="module")
def schema() -> dict[str, Any]:
    told: dict[str, Any] = json.loads(run("schema"))
    Draft202012Validator.check_schema(told)
    return told


@pytest.mark.parametrize(
    "words",
    [
        ("--inseam", "25.5in", *BIKES),
        ("--inseam", "25.5in", "--age", "8", *BIKES),
        ("--inseam", "11in", *BIKES),
        ("--inseam", "36in", "--age", "17", *BIKES),
        ("--age", "8", "--units", "cm", *BIKES),
        ("--stature", "50in", "--stretch", *BIKES),
        ("--inseam", "25.5in"),
        ("--inseam", "25.5in", "--age", "2", *BIKES),
        ("--inseam", "25.5in", "--inseam", "22in", *BIKES),
        ("--lift", "5in", "--lift-bike", "Brambit 20", *BIKES),
    ],
)
def test_every_answer_is_what_the_schema_says(
    schema: dict[str, Any], words: tuple[str, ...]
) -> None:
    Draft202012Validator(schema).validate(json.loads(run("advise", *words, "--json")))


def test_photos_measured_and_refused_are_what_the_schema_says(
    schema: dict[str, Any], tmp_path: Path
) -> None:
    wall = tmp_path / "wall.png"
    Image.fromarray(np.full((400, 300, 3), 180, np.uint8)).save(wall)
    words = ("--ruler", "174.5", "--heels-down", "--same-child", *BIKES, "--json")
    lines = run("measure", SAMPLE, wall, *words).splitlines()
    assert [json.loads(line)["status"] for line in lines] == ["measured", "refused", "measured"]
    for line in lines:
        Draft202012Validator(schema).validate(json.loads(line))


#: Numbers that are no lengths: chances, months, and what is said to be inches.
NO_LENGTHS = {
    "probabilities",
    *("contact", "tight", "good", "roomy", "cramped"),
    *("until_recommended", "until_outgrown", "outgrown_window80"),
}


def test_every_number_says_its_unit(schema: dict[str, Any]) -> None:
    def numbers(holds: dict[str, Any], name: str) -> Iterator[str]:
        if holds.get("type") == "number":
            yield name
        for key, inner in holds.get("properties", {}).items():
            yield from numbers(inner, key)
        for inner in (
            *holds.get("anyOf", ()),
            holds.get("items"),
            holds.get("additionalProperties"),
        ):
            if isinstance(inner, dict):
                yield from numbers(inner, name)

    found = set(numbers(schema, ""))
    assert {"inseam_mm", "points_px", "landmarks_px", "wanted_standover_mm"} <= found
    assert all(name in NO_LENGTHS or name.endswith(("_mm", "_px", "_in")) for name in found)


def test_names_and_words_of_the_choice_say_the_same() -> None:
    told = json.loads(run("advise", "--inseam", "25.5in", *BIKES, "--json"))
    chosen = told["chosen"]
    assert told["choice"].startswith(f"{chosen['best']}: ")
    assert f"Runner-up: {chosen['runner_up']}," in told["choice"]
    assert f"Next size up: {chosen['next_size']}," in told["choice"]
    assert chosen["best"] == told["fits"][0]["name"]
    assert chosen["settle_first"] is None
    none = json.loads(run("advise", "--age", "8", *BIKES, "--json"))["chosen"]
    assert none["best"] is None
    assert none["settle_first"]


def test_what_a_step_through_or_an_outgrown_bicycle_does_not_have_is_null() -> None:
    told = json.loads(run("advise", "--inseam", "25.5in", "--age", "8", *BIKES, "--json"))
    fits = {fit["name"]: fit for fit in told["fits"]}
    # No top tube, no clearance over it; no day will come on which an outgrown one is right.
    assert fits["Heathwin 24 Step"]["clearance_mm"] is None
    assert fits["Brambit 20"]["months"]["until_recommended"] is None
    assert fits["Larkum 24"]["months"]["until_recommended"] == 0
    assert 0 < fits["Fernock 26 XS"]["months"]["until_recommended"] < 36
