"""Each fact is defined once: option, column and record all come from its line."""

import dataclasses
import datetime as dt
import json
import re
from pathlib import Path

import pytest
import typer.main

from pose_fit.anthropometry.child import Child
from pose_fit.batch.photo_list import COLUMNS
from pose_fit.cli.main import app
from pose_fit.errors import InputError
from pose_fit.fit.policy import Rider
from pose_fit.reference.request import REFERENCE_KINDS, ReferenceRequest
from pose_fit.refusal import Ask
from pose_fit.report.asks import TERMINAL_ASKS
from pose_fit.task.facts import (
    CHILD,
    PHOTO,
    REFERENCE,
    RIDER,
    STATED,
    FactError,
    fact_named,
    read_day,
    read_length_mm,
    read_years,
)
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from pose_fit.task.typed import overridden, task_of

#: Fields of the records that nobody types: they follow from another, or are moved by hand.
NOT_TYPED = {"width_mm", "size_sd_mm", "joints_px", "soles_sd_mm", "thigh_share", "shank_share"}
ROOT = Path(__file__).parents[2]
COMMANDS = typer.main.get_command(app).commands  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("facts", "record"),
    [(REFERENCE, ReferenceRequest), (STATED, Stated), (CHILD, Child), (RIDER, Rider)],
)
def test_facts_and_fields_of_the_record_are_the_same(facts, record):
    fields = [field.name for field in dataclasses.fields(record) if field.name not in NOT_TYPED]
    assert sorted(fact.field for fact in facts) == sorted(fields)


@pytest.mark.parametrize("fact", [*PHOTO, *RIDER], ids=lambda fact: fact.name)
def test_each_fact_is_an_option_and_a_column_of_one_meaning(fact):
    (option,) = (o for o in COMMANDS["measure"].params if o.name == fact.name)
    assert option.opts == [fact.option]
    assert option.help == fact.meaning
    (column,) = (column for column in COLUMNS if column.name == fact.name)
    assert column.meaning == fact.meaning


def test_advise_asks_for_child_and_rider_and_not_for_what_a_photo_shows():
    names = {option.name for option in COMMANDS["advise"].params}
    assert {fact.name for fact in (*CHILD, *RIDER)} <= names
    assert not {fact.name for fact in (*REFERENCE, *STATED)} & names


def test_each_kind_of_reference_is_named_where_it_is_asked_for():
    for kind in REFERENCE_KINDS:
        assert kind in fact_named("reference").meaning


def test_what_is_asked_back_is_a_fact_and_the_terminal_names_its_option():
    for ask in Ask.__args__:
        # That all photos show one child is said of a call, not of a photo.
        option = "--same-child" if ask == "same_child" else fact_named(ask).option
        assert option in TERMINAL_ASKS[ask]


@pytest.mark.parametrize(
    ("text", "length_mm"),
    [("50in", 1270), ("127cm", 1270), ("4ft 2in", 1270), ("12mm", 12), ("179.5", 179.5)],
)
def test_a_length_has_its_unit_or_is_millimetres(text, length_mm):
    assert read_length_mm(text) == pytest.approx(length_mm)


@pytest.mark.parametrize(
    ("text", "years"),
    [
        *(("7", 7), ("7.5", 7.5), ("7,5", 7.5), ("7y6m", 7.5), ("7 y 6 m", 7.5)),
        *(("90 months", 7.5), ("7 years", 7), ("7yr", 7)),
    ],
)
def test_an_age_is_read_as_people_write_it(text, years):
    assert read_years(text) == pytest.approx(years)


@pytest.mark.parametrize("text", ["", "seven", "7y13m", "-7", "7-8", "m", "1e3"])
def test_what_is_no_age_says_what_is_wanted(text):
    with pytest.raises(InputError, match="wanted an age such as"):
        read_years(text)


def test_a_day_is_year_month_day():
    assert read_day("2025-05-10") == dt.date(2025, 5, 10)
    with pytest.raises(InputError, match="2025-05-10"):
        read_day("10.5.2025")


TYPED = {
    "reference": "Wheel",
    "size": "47-406",
    "points": "1,1 2,1 3,2 4,4 5,6",
    "soles": "0.5in",
    "legwear": "snug",
    "heels_down": "yes",
    "crotch": "5,6",
    "person": "7,8",
    "taken": "2025-05-10",
    "age": "7y6m",
    "sex": "F",
    "stature": "50in",
}


def test_everything_typed_comes_back_from_the_record():
    task = task_of(TYPED)
    assert task.reference.kind == "wheel"
    # ISO 5775: 406 mm rim, 47 mm tyre.
    assert (task.reference.size_mm, task.reference.width_mm) == (500.0, 47.0)
    assert task.stated == Stated(
        soles_mm=12.7,
        legwear="snug",
        heels_down=True,
        crotch_px=(5.0, 6.0),
        person_px=(7.0, 8.0),
        taken_on=dt.date(2025, 5, 10),
    )
    assert task.child == Child(age_y=7.5, sex="f", stature_mm=1270.0)
    assert PhotoTask.from_record(json.loads(json.dumps(task.record()))) == task


@pytest.mark.parametrize(
    ("typed", "fact"),
    [
        ({"reference": "ladder"}, "reference"),
        ({"reference": "wheel"}, "size"),
        ({"reference": "wheel", "size": "round"}, "size"),
        ({"reference": "length", "size": "1m"}, "points"),
        ({"reference": "door", "points": "1,1 9;1"}, "points"),
        ({"reference": "sheet", "ruler": "18"}, "ruler"),
        ({"reference": "sheet", "placement": "floor"}, "placement"),
        ({"reference": "sheet", "soles": "1ft"}, "soles"),
        ({"reference": "sheet", "legwear": "kilt"}, "legwear"),
        ({"reference": "sheet", "heels_down": "perhaps"}, "heels_down"),
        ({"reference": "sheet", "crotch": "nan,1"}, "crotch"),
        ({"reference": "sheet", "taken": "yesterday"}, "taken"),
        ({"reference": "sheet", "age": "99"}, "age"),
        ({"reference": "sheet", "sex": "x"}, "sex"),
        ({"reference": "sheet", "stature": "10cm"}, "stature"),
    ],
)
def test_a_fault_names_its_fact(typed, fact):
    with pytest.raises(FactError) as caught:
        task_of(typed)
    assert caught.value.fact == fact


def test_what_is_known_of_the_child_takes_part_unless_somebody_says_no():
    assert task_of({}).use_child
    assert task_of({"use_child": "yes"}).use_child
    assert not task_of({"use_child": "no", "age": "7"}).use_child


def test_only_a_tyre_has_a_code():
    assert task_of({"size": "47-406"}) == task_of({"reference": "wheel", "size": "47-406"})


def test_a_length_without_its_unit_is_suspected_where_it_cannot_be():
    with pytest.raises(FactError, match="50 without a unit is millimetres; write 50in"):
        task_of({"stature": "50"})
    with pytest.raises(FactError, match=r"17.5 without a unit is millimetres; write 17.5in"):
        task_of({"ruler": "17.5"})
    with pytest.raises(FactError, match="door, wheel or length"):
        task_of({"size": "80in"})


def test_another_reference_takes_nothing_of_the_common_one_over():
    common = {"reference": "sheet", "ruler": "179", "age": "7"}
    assert overridden(common, {"reference": "door", "size": "80in"}) == {
        "reference": "door",
        "size": "80in",
        "age": "7",
    }
    assert overridden(common, {"ruler": "178"})["ruler"] == "178"


def test_no_text_of_the_library_names_an_option_or_a_button():
    """What one surface says is in ``report`` or in ``app``: the rest is for both."""
    spoken = re.compile(
        r'"[^"]*(?:--[a-z]{3}|\b[Cc]lick (?:on|where|the|it)\b|\b[Tt]ick it\b|\b[Pp]ress the\b)[^"]*"'
    )
    found = [
        f"{path.relative_to(ROOT)}: {text}"
        for path in sorted((ROOT / "pose_fit").rglob("*.py"))
        if path.relative_to(ROOT).parts[1] not in ("app", "cli", "report")
        and path.name != "facts.py"
        for text in spoken.findall(path.read_text("utf-8"))
    ]
    assert found == []
