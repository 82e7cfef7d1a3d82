"""DEVELOPERS.md does not lie: each rule lives where it says, and the catalogue's columns are the code's."""

import re
from importlib import import_module
from pathlib import Path

import pytest

from pose_fit.bicycle.columns import COLUMNS

ROOT = Path(__file__).parents[1]
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
RULES = re.findall(r"^\| [^|`]+ \| `([\w.]+)` \| `(\w+)` \|$", DEVELOPERS, re.MULTILINE)


def test_the_list_of_rules_is_read() -> None:
    assert len(RULES) >= 30


@pytest.mark.parametrize(("module", "name"), RULES, ids=".".join)
def test_each_rule_lives_where_the_list_says(module: str, name: str) -> None:
    assert hasattr(import_module(f"pose_fit.{module}"), name)


@pytest.mark.parametrize("column", COLUMNS, ids=lambda column: column.name)
def test_each_column_of_the_catalogue_is_documented(column: object) -> None:
    assert f"`{column.headers[0]}`" in DEVELOPERS
    assert column.meaning in DEVELOPERS


def test_no_text_names_a_module_that_is_gone() -> None:
    ours = {
        path.name
        for folder in ("pose_fit", "calibration", "tests")
        for path in (ROOT / folder).rglob("*.py")
    }
    texts = [
        *(ROOT / "pose_fit").rglob("*.py"),
        *(ROOT / "calibration").rglob("*.py"),
        ROOT / "DEVELOPERS.md",
    ]
    gone = {
        (path.name, found)
        for path in texts
        for found in re.findall(r"(\w+\.py)\b", path.read_text("utf-8"))
        if found not in ours | {"app.py"}
    }
    assert gone == set()
