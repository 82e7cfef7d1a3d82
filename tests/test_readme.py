"""The README does not lie: its tables and options are those of the code."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from pose_fit.cli.main import app
from pose_fit.fit.verdicts import VERDICTS
from pose_fit.reference.request import REFERENCE_KINDS

README = (Path(__file__).parents[1] / "README.md").read_text("utf-8")


@pytest.mark.parametrize("kind", REFERENCE_KINDS)
def test_each_reference_is_documented(kind: str) -> None:
    assert f"`{kind}`" in README


@pytest.mark.parametrize("verdict", VERDICTS)
def test_each_verdict_is_documented(verdict: str) -> None:
    assert f"| `{verdict}` |" in README


@pytest.mark.parametrize("command", ["measure", "advise", "batch", "sheet", "app"])
def test_each_command_is_documented_and_its_documented_options_exist(command: str) -> None:
    assert f"pose-fit {command}" in README
    told = CliRunner().invoke(app, [command, "--help"], env={"COLUMNS": "200"}).stdout
    for line in README.splitlines():
        if line.startswith(f"pose-fit {command} "):
            options = [word for word in line.split() if word.startswith("--")]
            assert all(option in told for option in options)
