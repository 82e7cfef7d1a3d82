"""Inseam by age and stature against published tables and children not used for the fit."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from pose_fit.anthropometry.inseam_norms import (
    inseam_at_age,
    inseam_at_stature,
    stature_at_z,
    stature_z,
)
from pose_fit.anthropometry.people import people
from pose_fit.errors import PersonError

DATA = Path(__file__).parents[2] / "calibration" / "data"


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_percentiles_are_the_cdcs() -> None:
    # CDC 2000 stature-for-age: the published p3 ... p97 columns, every half month of 2-18 y.
    worst_mm = 0.0
    for row in rows("cdc2000_stature_lms.csv"):
        age_y = float(row["age_y"])
        if age_y > 18:
            continue
        for percent in (3, 10, 25, 50, 75, 90, 97):
            z = float(norm.ppf(percent / 100))
            stature_mm = stature_at_z(z, age_y=age_y, sex=row["sex"].lower())  # type: ignore[arg-type]
            worst_mm = max(worst_mm, abs(stature_mm - 10 * float(row[f"p{percent}"])))
    assert worst_mm < 1.0


@given(
    z=st.floats(-3.5, 3.5),
    age_y=st.floats(2, 18),
    sex=st.sampled_from(["f", "m"]),
)
def test_z_score_and_stature_are_inverse(z: float, age_y: float, sex) -> None:  # type: ignore[no-untyped-def]
    stature_mm = stature_at_z(z, age_y=age_y, sex=sex)
    if 800 <= stature_mm <= 1900:
        assert stature_z(stature_mm, age_y=age_y, sex=sex) == pytest.approx(z, abs=1e-6)


@pytest.mark.parametrize("sex", ["f", "m"])
def test_where_the_cdcs_skewness_passes_zero_statures_are_log_normal(sex) -> None:  # type: ignore[no-untyped-def]
    table = people().by_age[sex]
    (crossings,) = np.nonzero(np.diff(np.sign(table.stature_l)))
    assert len(crossings) == 2
    for before in crossings:
        ends = slice(before, before + 2)
        rising = np.argsort(table.stature_l[ends])
        age_y = float(np.interp(0, table.stature_l[ends][rising], table.age_y[ends][rising]))
        median_mm = np.interp(age_y, table.age_y, table.stature_m_mm)
        spread = np.interp(age_y, table.age_y, table.stature_s)
        for near_y in (age_y - 1e-9, age_y, age_y + 1e-9):
            z = stature_z(1.1 * median_mm, age_y=near_y, sex=sex)
            assert z == pytest.approx(np.log(1.1) / spread, rel=1e-6)
            back_mm = stature_at_z(z, age_y=near_y, sex=sex)
            assert back_mm == pytest.approx(1.1 * median_mm, rel=1e-9)


@pytest.mark.parametrize(
    ("sex", "age_y", "share"),
    [
        ("m", 3, 0.422),
        ("m", 5, 0.444),
        ("m", 8, 0.467),
        ("m", 10, 0.480),
        ("m", 12, 0.490),
        ("f", 3, 0.429),
        ("f", 5, 0.450),
        ("f", 8, 0.469),
        ("f", 10, 0.483),
        ("f", 12, 0.490),
    ],
)
def test_share_of_stature_by_age(sex: str, age_y: float, share: float) -> None:
    # Derived crotch height over stature, figures noted with the data.
    group = inseam_at_age(age_y, sex=sex)
    median_mm = stature_at_z(0.0, age_y=age_y, sex=sex)  # type: ignore[arg-type]
    assert group.mean_mm / median_mm == pytest.approx(share, abs=0.006)
    alike = inseam_at_stature(median_mm, sex=sex)
    assert 0.012 <= alike.leg_sd_mm / median_mm <= 0.018


def test_means_are_those_of_the_derived_table() -> None:
    # A table computed elsewhere from the same surveys; its children are 0.1 SD shorter than the
    # CDC's, and its ages of 2 and 3 start at 2.0 and so average above the nearest year.
    spreads = []
    for row in rows("derived_child_crotch_height_cm.csv"):
        age_y = int(row["age_nearest_y"])
        if row["estimate"].endswith("stature") or not 4 <= age_y <= 15:
            continue
        group = inseam_at_age(age_y, sex=row["sex"].lower())
        assert group.mean_mm == pytest.approx(10 * float(row["mean"]), rel=0.025), row
        spreads.append(group.person_sd_mm / (10 * float(row["sd"])))
    assert len(spreads) == 24
    assert np.mean(spreads) == pytest.approx(1.0, abs=0.06)
    assert min(spreads) > 0.8
    assert max(spreads) < 1.3


def test_spread_from_stature_and_from_age() -> None:
    # "From stature alone an SD near 20 mm, from age alone 30-45 mm."
    for age_y, stature_mm in ((4, 1020.0), (7, 1220.0), (10, 1380.0), (12, 1490.0)):
        assert 14 < inseam_at_stature(stature_mm).sd_mm < 25
        assert 28 < inseam_at_age(age_y).sd_mm < 52


def unfitted() -> list[tuple[str, float, float, float]]:
    """Sex, age, stature and derived crotch height of children no line was fitted to."""
    share = {"M": 0.0046, "F": 0.0065}
    found = []
    for row in rows("children_1977.csv"):
        known = row["stature_cm"] and row["sitting_height_cm"]
        if int(row["person"]) % 3 == 0 and known and 2 <= float(row["age_y"]) < 15:
            stature = float(row["stature_cm"])
            crotch = stature * (1 + share[row["sex"]]) - float(row["sitting_height_cm"])
            found.append((row["sex"].lower(), float(row["age_y"]), 10 * stature, 10 * crotch))
    return found


@pytest.mark.parametrize("with_sex", [True, False])
def test_unfitted_children_are_covered(with_sex: bool) -> None:
    children = unfitted()
    assert len(children) > 900
    by_stature, by_age = [], []
    for sex, age_y, stature_mm, crotch_mm in children:
        told = sex if with_sex else None
        group = inseam_at_stature(stature_mm, sex=told)
        by_stature.append((crotch_mm - group.mean_mm) / group.person_sd_mm)
        group = inseam_at_age(age_y, sex=told)
        by_age.append((crotch_mm - group.mean_mm) / group.person_sd_mm)
    for z in (np.abs(by_stature), np.abs(by_age)):
        assert 0.92 < np.mean(z < 1.96) < 0.98
        assert 0.44 < np.mean(z < 0.6745) < 0.57


@given(age_y=st.floats(2, 18))
def test_unknown_sex_is_a_mixture(age_y: float) -> None:
    girl, boy = inseam_at_age(age_y, sex="f"), inseam_at_age(age_y, sex="m")
    either = inseam_at_age(age_y)
    low, high = sorted((girl.mean_mm, boy.mean_mm))
    assert low <= either.mean_mm <= high
    assert either.person_sd_mm >= min(girl.person_sd_mm, boy.person_sd_mm)


@given(stature_mm=st.floats(850, 1850), sex=st.sampled_from(["f", "m", None]))
def test_taller_children_have_longer_legs(stature_mm: float, sex: str | None) -> None:
    group = inseam_at_stature(stature_mm, sex=sex)
    taller = inseam_at_stature(stature_mm + 10, sex=sex)
    assert taller.mean_mm > group.mean_mm
    assert group.slope == pytest.approx((taller.mean_mm - group.mean_mm) / 10, abs=0.02)


def test_populations_differ_by_what_the_dutch_do() -> None:
    # Dutch children of 1997 have legs 30-35 mm longer at 5-9 y: inside two systematic SD.
    for age_y in (5, 7, 9):
        assert 30 < 2 * inseam_at_age(age_y).systematic_sd_mm < 55


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: inseam_at_age(1.5), "between 2 and 18 y, found 1.5"),
        (lambda: inseam_at_age(float("nan")), "found nan"),
        (lambda: inseam_at_age(7, sex="x"), "f, m or left out, found 'x'"),
        (
            lambda: inseam_at_stature(128.0),
            r"\(80.0 cm\) and .* \(190.0 cm\), found .* \(12.8 cm\)",
        ),
    ],
)
def test_outside_the_tables_is_refused(call, message: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(PersonError, match=message):
        call()
