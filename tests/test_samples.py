"""The sample photos, whose true inseams are known from the rendered bodies."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from typer.testing import CliRunner

from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.cli.main import app
from pose_fit.photo.photo import read_photo
from pose_fit.privacy.hide_faces import with_face_hidden

SAMPLES = Path(__file__).parents[1] / "sample_images"
NAMES = sorted(path.stem for path in SAMPLES.glob("*.json"))


@cache
def truth_and_told(name: str) -> tuple[dict[str, Any], dict[str, Any]]:
    truth = json.loads((SAMPLES / f"{name}.json").read_text("utf-8"))
    photo = str(SAMPLES / f"{name}.jpg")
    result = CliRunner().invoke(app, ["measure", photo, *truth["arguments"], "--json"])
    assert result.exit_code == 0, result.output
    return truth, json.loads(result.stdout)


def test_there_are_samples_of_each_kind() -> None:
    kinds = [name.split("_")[0] for name in NAMES]
    assert len(NAMES) >= 8
    assert {"sheet", "letter", "door", "wheel"} <= set(kinds)
    assert sum(path.stat().st_size for path in SAMPLES.iterdir()) < 4e6


@pytest.mark.parametrize("name", NAMES)
def test_the_true_inseam_lies_in_the_interval(name: str) -> None:
    truth, told = truth_and_told(name)
    low_mm, high_mm = told["interval95_mm"]
    assert low_mm <= truth["inseam_mm"] <= high_mm


def test_samples_err_no_more_than_photos_of_worlds_left_out() -> None:
    """Their renderer is one more world that nothing was fitted on: 13 mm by the bench's report."""
    pairs = [truth_and_told(name) for name in NAMES]
    errors_mm = [abs(told["inseam_mm"] - truth["inseam_mm"]) for truth, told in pairs]
    assert np.mean(errors_mm) <= 13.0


def test_the_face_is_hidden_and_the_legs_are_not() -> None:
    photo = read_photo(SAMPLES / "sheet_3.jpg")
    body = pose_model().find(photo)
    assert body is not None
    hidden = with_face_hidden(photo, body)
    changed = (hidden != photo.pixels).any(axis=2)
    nose_x, nose_y = (round(value) for value in photo.working_px(body.point_px("nose")))
    head = changed[nose_y - 20 : nose_y + 20, nose_x - 20 : nose_x + 20]
    assert head.mean() > 0.9
    # Large blocks of one colour are left: no eye or mouth.
    assert (
        len(
            np.unique(
                hidden[nose_y - 20 : nose_y + 20, nose_x - 20 : nose_x + 20].reshape(-1, 3), axis=0
            )
        )
        <= 9
    )
    assert not changed[round(photo.working_px(body.hips_px)[1]) :].any()
