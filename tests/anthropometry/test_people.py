"""The shipped numbers against the data they come from and against other sources."""

import csv
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from pose_fit.anthropometry.people import people
from pose_fit.anthropometry.proportions import (
    HIP_TO_ANKLE_RANGE_MM,
    PROPORTIONS_SOURCE,
    ankle_height,
    foot_length,
    inseam_from_hip_height,
    shank_length,
    stature_from_inseam,
    thigh_length,
)
from pose_fit.errors import PersonError

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
    predicted = np.array([ankle_height(length).mean_mm for length in lengths])
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
    ankle, inseam = ankle_height(hip_mm - ankle_mm), inseam_from_hip_height(hip_mm)
    assert abs(ankle.mean_mm - ankle_mm) < 2 * ankle.systematic_sd_mm
    assert abs(inseam.mean_mm - mean["crotch_height_cm"]) < 2 * inseam.systematic_sd_mm
    # Tibiale lies 2-3 cm below the knee joint centre.
    knee_mm = ankle_mm + shank_length(hip_mm - ankle_mm).mean_mm
    assert 10 < knee_mm - mean["tibiale_height_cm"] < 40


def test_crotch_is_nine_tenths_of_hip_height() -> None:
    # .916-.923 by one derivation of the hip joint centre, .944 by trochanterion alone.
    ratios = [inseam_from_hip_height(h).mean_mm / h for h in (450.0, 600.0, 750.0)]
    assert min(ratios) > 0.916
    assert max(ratios) < 0.944
    for height_mm in (450.0, 600.0, 750.0):
        predicted = inseam_from_hip_height(height_mm)
        assert 12 < predicted.person_sd_mm < 18  # "about 1.5 cm"
        low, high = 0.916 * height_mm, 0.944 * height_mm
        assert predicted.mean_mm - 2 * predicted.systematic_sd_mm < low
        assert predicted.mean_mm + 2 * predicted.systematic_sd_mm > high


def test_unfitted_children_scatter_as_stated() -> None:
    children = scored_children()
    z = []
    for child in children:
        foot = foot_length(child["trochanteric_height"] * 0.94)
        z.append((child["foot_length"] - foot.mean_mm) / foot.sd_mm)
    assert np.mean(np.abs(z) < 1.96) == pytest.approx(0.95, abs=0.04)


@pytest.mark.parametrize("length_mm", [300.0, 550.0, 900.0])
def test_thigh_and_shank_make_the_leg(length_mm: float) -> None:
    thigh, shank = thigh_length(length_mm), shank_length(length_mm)
    assert thigh.mean_mm + shank.mean_mm == pytest.approx(length_mm)
    assert thigh.slope + shank.slope == pytest.approx(1)
    assert 0.47 < shank.mean_mm / length_mm < 0.53


@pytest.mark.parametrize("function", [ankle_height, shank_length, stature_from_inseam])
def test_slope_is_the_derivative(function) -> None:  # type: ignore[no-untyped-def]
    step = 0.5
    numeric = (function(600 + step).mean_mm - function(600 - step).mean_mm) / (2 * step)
    assert function(600.0).slope == pytest.approx(numeric, rel=1e-9)


def test_beyond_the_measured_people_is_less_sure() -> None:
    assert inseam_from_hip_height(260.0).sd_mm > inseam_from_hip_height(380.0).sd_mm + 1
    assert inseam_from_hip_height(1150.0).sd_mm > inseam_from_hip_height(1000.0).sd_mm + 4


@pytest.mark.parametrize("length_mm", [float("nan"), -1.0, HIP_TO_ANKLE_RANGE_MM[1] + 1])
def test_lengths_no_leg_has_are_refused(length_mm: float) -> None:
    with pytest.raises(PersonError, match="250 to 1050 mm in people, found"):
        ankle_height(length_mm)


def test_budget_lines_return_in_every_photo() -> None:
    person, proportions = inseam_from_hip_height(600.0).contributions("hip joint to crotch")
    assert person.shared
    assert proportions.shared
    assert proportions.source == PROPORTIONS_SOURCE
    assert person.source == "hip joint to crotch differs between children"
