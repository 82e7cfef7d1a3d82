"""``import pose_fit``: a dozen names that a notebook needs, each loaded when it is first used."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

import pose_fit

ROOT = Path(__file__).parents[1]


def test_the_names_are_sorted_and_all_there() -> None:
    assert pose_fit.__all__ == sorted(pose_fit.__all__)
    for name in pose_fit.__all__:
        assert getattr(pose_fit, name).__name__ == name
    assert set(pose_fit.__all__) <= set(dir(pose_fit))


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'measure_foto'"):
        _ = pose_fit.measure_foto


def test_nothing_heavy_is_loaded_before_it_is_needed() -> None:
    code = (
        "import sys, pose_fit; from pose_fit.cli.main import app;"
        "print([m for m in ('numpy', 'cv2', 'scipy', 'PIL', 'mediapipe') if m in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert told.stdout.strip() == "[]"


def test_the_module_is_the_command_line() -> None:
    told = subprocess.run(
        [sys.executable, "-m", "pose_fit", "--version"],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    assert re.fullmatch(r"pose-fit \d+\.\d+\.\d+\n", told.stdout)


def test_the_example_runs(capsys: pytest.CaptureFixture[str], monkeypatch) -> None:
    blocks = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    monkeypatch.chdir(ROOT)
    for example in blocks:
        exec(example, {})
    told = capsys.readouterr().out
    assert "mm, standard uncertainty" in told
