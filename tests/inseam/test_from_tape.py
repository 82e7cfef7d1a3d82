import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.errors import PersonError
from pose_fit.inseam.from_tape import inseam_from_tape, repeatability_sd_mm

readings = st.lists(st.floats(300, 900), min_size=1, max_size=6)


def test_equal_readings_prove_no_perfection() -> None:
    repeated = inseam_from_tape([650.0, 650.0, 650.0])
    assert repeated.mean_mm == 650.0
    assert repeated.sd_mm > 5
    assert repeated.warnings == ()


@given(readings)
def test_uncertainty_is_never_zero(values: list[float]) -> None:
    inseam = inseam_from_tape(values)
    assert all(line.sd_mm > 0 for line in inseam.length.budget)
    assert repeatability_sd_mm(values, care="hasty") > repeatability_sd_mm(values) / 3


@given(readings, st.randoms())
def test_order_does_not_matter(values: list[float], random) -> None:  # type: ignore[no-untyped-def]
    shuffled = [*values]
    random.shuffle(shuffled)
    first, second = inseam_from_tape(values), inseam_from_tape(shuffled)
    assert first.mean_mm == pytest.approx(second.mean_mm)
    assert first.sd_mm == pytest.approx(second.sd_mm)


@pytest.mark.parametrize("count", [1, 2, 3, 5])
@pytest.mark.parametrize("true_sd_mm", [3.0, 5.0, 7.0])
def test_repeatability_covers_the_mean_of_many(count: int, true_sd_mm: float) -> None:
    # Monte Carlo: people whose scatter is not the expected one are covered all the same.
    rng = np.random.default_rng(count)
    drawn = rng.normal(650.0, true_sd_mm, size=(1500, count))
    sd_mm = np.array([repeatability_sd_mm(row) for row in drawn])
    covered = np.mean(np.abs(drawn.mean(axis=1) - 650) < 1.96 * sd_mm)
    assert covered > (0.93 if true_sd_mm <= 5 else 0.88)


def test_many_readings_outweigh_the_prior() -> None:
    # The classical standard error of a mean is the limit.
    drawn = np.random.default_rng(3).normal(650.0, 9.0, size=400)
    classical = drawn.std(ddof=1) / np.sqrt(400)
    assert repeatability_sd_mm(drawn) == pytest.approx(classical, rel=0.02)


def test_technique_does_not_average() -> None:
    inseam = inseam_from_tape([650.0] * 50)
    shared = [line for line in inseam.length.budget if line.shared]
    assert [line.sd_mm for line in shared] == [5.0]
    assert inseam.sd_mm > 5


def test_hasty_is_wider() -> None:
    assert inseam_from_tape([650.0], care="hasty").sd_mm > 15


@pytest.mark.parametrize(
    ("values", "odd"),
    [([640, 642, 740], 3), ([744, 640, 642], 1), ([640, 560, 642, 645], 2)],
)
def test_the_odd_reading_is_named(values: list[float], odd: int) -> None:
    inseam = inseam_from_tape(values)
    assert [notice.code for notice in inseam.warnings] == ["tape_odd_reading"]
    assert inseam.warnings[0].message.startswith(f"Reading {odd}, ")
    assert inseam.sd_mm > 3 * inseam_from_tape([640, 642, 645]).sd_mm / 2


def test_of_two_neither_is_named() -> None:
    (notice,) = inseam_from_tape([640, 690]).warnings
    assert notice.code == "tape_readings_disagree"
    assert "2.0 in (5.0 cm) apart" in notice.message


@pytest.mark.parametrize("values", [[640], [640, 652], [640, 646, 651, 655]])
def test_ordinary_scatter_is_not_questioned(values: list[float]) -> None:
    assert inseam_from_tape(values).warnings == ()


@pytest.mark.parametrize(
    ("values", "care", "message"),
    [
        ([], "careful", "at least one reading, found none"),
        ([650], "sloppy", "careful, hasty, found 'sloppy'"),
        ([65.0], "careful", r"found 2.6 in \(6.5 cm\)$"),
        ([1280.0], "careful", "whole height"),
        ([float("nan")], "careful", "found nan"),
    ],
)
def test_what_is_no_reading(values, care, message: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(PersonError, match=message):
        inseam_from_tape(values, care=care)
