"""The shipped numbers against the data they come from and against other sources."""

import csv
import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from pose_fit.anthropometry.people import people

ROOT = Path(__file__).parents[2]
DATA = ROOT / "calibration" / "data"


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_shipped_file_is_what_the_data_give() -> None:
    check = subprocess.run(
        [sys.executable, "-m", "calibration.people", "--check"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert check.returncode == 0, check.stdout + check.stderr


def test_the_shipped_numbers_cannot_be_changed() -> None:
    table = people().by_age["f"]
    with pytest.raises(ValueError, match="read-only"):
        table.inseam_mm[0] = 0.0
    with pytest.raises(AttributeError):
        people().version = "2"  # type: ignore[misc]


def scored_children() -> list[dict[str, float]]:
    """Children that no relation was fitted to, with all heights known, millimetres."""
    kept = []
    for row in rows("children_1977.csv"):
        heights = {key: value for key, value in row.items() if key.endswith("_cm")}
        if int(row["person"]) % 3 == 0 and all(heights.values()) and 2 <= float(row["age_y"]) < 15:
            kept.append({k.removesuffix("_cm"): 10 * float(v) for k, v in heights.items()})
    return kept


def test_medial_malleolus_is_four_percent_of_stature() -> None:
    # Children of 1977, persons not fitted; the 4.0 % of stature is a figure of the data's notes.
    children = scored_children()
    lengths = [c["trochanteric_height"] - c["sphyrion_height"] for c in children]
    predicted = np.array(
        [people().ankle_height_from_hip_to_ankle.mean_mm(length) for length in lengths]
    )
    stature = np.array([c["stature"] for c in children])
    assert np.mean(predicted / stature) == pytest.approx(0.040, abs=0.001)
    measured = np.array([c["sphyrion_height"] for c in children])
    assert abs(np.mean(measured - predicted)) < 1.5


@pytest.mark.parametrize("sex", ["M", "F"])
def test_relations_reach_the_measured_adults(sex: str) -> None:
    # Adults of 2012, in whom the crotch height was measured and none of the relations fitted;
    # trochanterion stands for the hip joint, the lateral malleolus for the ankle joint.
    adults = [row for row in rows("adults_2012.csv") if row["sex"] == sex]
    mean = {
        key: 10 * float(np.mean([float(row[key]) for row in adults]))
        for key in adults[0]
        if key.endswith("_cm")
    }
    ankle_mm = mean["lateral_malleolus_height_cm"]
    hip_mm = mean["trochanterion_height_cm"]
    leg_mm = hip_mm - ankle_mm
    ankle, inseam = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    assert abs(ankle.mean_mm(leg_mm) - ankle_mm) < 2 * ankle.systematic_sd_at_mm(leg_mm)
    off_mm = inseam.mean_mm(hip_mm) - mean["crotch_height_cm"]
    assert abs(off_mm) < 2 * inseam.systematic_sd_at_mm(hip_mm)


def test_crotch_is_nine_tenths_of_hip_height() -> None:
    # .916-.923 by one derivation of the hip joint centre, .944 by trochanterion alone.
    inseam = people().inseam_from_hip_height
    for height_mm in (450.0, 600.0, 750.0):
        assert 0.916 < inseam.mean_mm(height_mm) / height_mm < 0.944
        assert 12 < inseam.person_sd_at_mm(height_mm) < 18  # "about 1.5 cm"
        unknown_mm = 2 * inseam.systematic_sd_at_mm(height_mm)
        assert inseam.mean_mm(height_mm) - unknown_mm < 0.916 * height_mm
        assert inseam.mean_mm(height_mm) + unknown_mm > 0.944 * height_mm


def test_unfitted_children_scatter_as_stated() -> None:
    foot = people().foot_length_from_inseam
    z = []
    for child in scored_children():
        inseam_mm = child["trochanteric_height"] * 0.94
        sd_mm = math.hypot(foot.person_sd_at_mm(inseam_mm), foot.systematic_sd_at_mm(inseam_mm))
        z.append((child["foot_length"] - foot.mean_mm(inseam_mm)) / sd_mm)
    assert np.mean(np.abs(z) < 1.96) == pytest.approx(0.95, abs=0.04)
