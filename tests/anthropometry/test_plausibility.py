import csv
from pathlib import Path

import pytest

from pose_fit.anthropometry.plausibility import (
    Plausibility,
    plausibility_at_age,
    plausibility_at_stature,
    stature_is_plausible,
)

DATA = Path(__file__).parents[2] / "calibration" / "data" / "children_1977.csv"


@pytest.mark.parametrize(
    ("z", "band"),
    [
        (0, "usual"),
        (-1.99, "usual"),
        (2.01, "unusual"),
        (-2.99, "unusual"),
        (3.01, "rare"),
        (-3.99, "rare"),
        (4.01, "implausible"),
        (-9, "implausible"),
    ],
)
def test_bands(z: float, band: str) -> None:
    judged = Plausibility(600 + 20 * z, 600.0, 20.0, "children of 8 years")
    assert judged.band == band
    assert (judged.notice is None) == (band == "usual")
    if judged.notice is not None:
        assert judged.notice.code == f"inseam_{band}"
        assert ("longer" if z > 0 else "shorter") in judged.notice.message


def test_hardly_a_measured_child_is_implausible() -> None:
    share = {"M": 0.0046, "F": 0.0065}
    refused = judged = 0
    with DATA.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            age_y = float(row["age_y"])
            if not (row["sitting_height_cm"] and 2 <= age_y < 15):
                continue
            stature = float(row["stature_cm"])
            inseam_mm = 10 * (stature * (1 + share[row["sex"]]) - float(row["sitting_height_cm"]))
            for found in (
                plausibility_at_age(inseam_mm, sd_mm=6, age_y=age_y, sex=row["sex"].lower()),
                plausibility_at_stature(inseam_mm, sd_mm=6, stature_mm=10 * stature),
            ):
                judged += 1
                refused += found.band == "implausible"
    assert judged > 6000
    assert refused / judged < 0.0005


@pytest.mark.parametrize("factor", [0.80, 1.25])
def test_a_reference_of_the_wrong_size_is_found_by_stature(factor: float) -> None:
    # Letter taken for the wrong side, or an 80 in door taken for another: a fifth off.
    found = plausibility_at_stature(factor * 605, sd_mm=8, stature_mm=1280, sex="f")
    assert found.band == "implausible"
    assert "50.4 in (128.0 cm) tall" in found.notice.message  # type: ignore[union-attr]


def test_an_unsure_reading_is_judged_milder() -> None:
    sure = plausibility_at_age(700, sd_mm=5, age_y=7, sex="m")
    unsure = plausibility_at_age(700, sd_mm=40, age_y=7, sex="m")
    assert abs(unsure.z) < abs(sure.z)


def test_stature_in_the_wrong_unit() -> None:
    assert stature_is_plausible(1280, age_y=8, sex="f")
    assert not stature_is_plausible(1280, age_y=3)
