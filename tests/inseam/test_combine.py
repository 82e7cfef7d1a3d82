import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2

from pose_fit.errors import PersonError
from pose_fit.inseam.combine import combine_inseams
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.from_tape import inseam_from_tape
from pose_fit.inseam.inseam import Inseam, Method
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.refusal import Notice


def reading(
    mean_mm: float,
    *lines: tuple[str, float, bool],
    method: Method = "photo",
    warnings: tuple[Notice, ...] = (),
) -> Inseam:
    budget = tuple(Contribution(source, sd_mm, shared) for source, sd_mm, shared in lines)
    return Inseam(UncertainLength(mean_mm, budget), method, warnings)


def photo(mean_mm: float, random_mm: float = 6.0, shared_mm: float = 8.0) -> Inseam:
    return reading(mean_mm, ("landmarks", random_mm, False), ("body proportions", shared_mm, True))


def test_two_independent_readings() -> None:
    # Inverse variance weights of 3 and 6 mm: 4 to 1.
    first = reading(600, ("tape", 3, False), method="tape")
    second = reading(605, ("lift", 6, False), method="lift")
    both = combine_inseams([first, second])
    assert both.weights == pytest.approx((0.8, 0.2))
    assert both.inseam.mean_mm == pytest.approx(601)
    assert both.inseam.sd_mm == pytest.approx(1 / math.sqrt(1 / 9 + 1 / 36))
    assert both.p_value == pytest.approx(chi2.sf(25 / 45, 1))
    assert both.inseam.method == "combined"


@pytest.mark.parametrize("count", [2, 4, 9])
def test_photos_average_only_what_is_random(count: int) -> None:
    # Four photos of one child: 6 mm of landmark scatter halves, 8 mm of proportions stays.
    both = combine_inseams([photo(620.0)] * count)
    lines = {line.source: line for line in both.inseam.length.budget}
    assert lines["landmarks"].sd_mm == pytest.approx(6 / math.sqrt(count))
    assert not lines["landmarks"].shared
    assert lines["body proportions"].sd_mm == pytest.approx(8)
    assert lines["body proportions"].shared
    assert both.p_value == pytest.approx(1)


def test_against_whitened_least_squares() -> None:
    # The same estimate by another way: ordinary least squares after a Cholesky whitening.
    readings = [
        reading(610, ("a", 5, False), ("s", 4, True), ("t", 2, True)),
        reading(618, ("b", 7, False), ("s", 5, True)),
        reading(604, ("c", 6, False), ("t", 3, True), ("u", 2, True)),
    ]
    covariance = np.array([[45.0, 20.0, 6.0], [20.0, 74.0, 0.0], [6.0, 0.0, 49.0]])
    factor = np.linalg.cholesky(covariance)
    design = np.linalg.solve(factor, np.ones((3, 1)))
    solution, squares, *_ = np.linalg.lstsq(
        design, np.linalg.solve(factor, np.array([610.0, 618.0, 604.0])), rcond=None
    )
    both = combine_inseams(readings)
    assert both.inseam.mean_mm == pytest.approx(solution[0])
    assert both.p_value == pytest.approx(chi2.sf(squares[0], 2))
    assert squares[0] < 2  # so nothing is added for disagreement
    assert both.inseam.sd_mm == pytest.approx(1 / np.sqrt((design.T @ design)[0, 0]))


def test_spread_is_that_of_simulated_readings() -> None:
    # Monte Carlo: three readings with a common error; stated and found spread agree.
    rng = np.random.default_rng(5)
    common = rng.normal(0, 6, 4000)
    draws = 600 + common[:, None] * [1, 1, 0] + rng.normal(size=(4000, 3)) * [4, 8, 9]
    readings = [
        reading(600, ("x", 4, False), ("common", 6, True)),
        reading(600, ("x", 8, False), ("common", 6, True)),
        reading(600, ("y", 9, False), method="tape"),
    ]
    both = combine_inseams(readings)
    found = draws @ np.array(both.weights)
    assert np.std(found) == pytest.approx(both.inseam.sd_mm, rel=0.04)


def test_a_worse_reading_of_the_same_error_gets_no_say() -> None:
    stature = inseam_from_stature(1280, sex="f")
    age = inseam_from_age(8, sex="f")
    both = combine_inseams([stature, age])
    assert both.weights[0] > 0.97
    assert both.inseam.sd_mm > 0.97 * stature.sd_mm
    lopsided = combine_inseams(
        [reading(600, ("s", 5, True), ("a", 1, False)), reading(610, ("s", 30, True))]
    )
    assert lopsided.weights == (1.0, 0.0)
    assert lopsided.inseam.mean_mm == 600


def test_tape_beside_a_photo_takes_the_lead() -> None:
    both = combine_inseams([photo(640.0), inseam_from_tape([633, 635, 631])])
    assert both.weights[1] > both.weights[0]
    assert 633 < both.inseam.mean_mm < 637
    assert [notice.code for notice in both.inseam.warnings] == []


def test_contradiction_is_told_in_numbers_and_widens() -> None:
    tape = reading(650, ("tape", 5, False), method="tape")
    both = combine_inseams([reading(610, ("landmarks", 5, False)), tape])
    # Birge ratio 40 / sqrt(50), times 5 mm / sqrt(2).
    assert both.inseam.sd_mm == pytest.approx(20.0)
    assert "disagreement of the readings" in {line.source for line in both.inseam.length.budget}
    notice = both.inseam.warnings[0]
    assert notice.code == "readings_disagree"
    assert "The photo says 24.0 in (61.0 cm) and the tape 25.6 in (65.0 cm)" in notice.message
    assert "1.6 in (4.0 cm) apart, 5.7 times" in notice.message


def test_of_several_photos_the_odd_one_is_numbered() -> None:
    both = combine_inseams([photo(620), photo(622), photo(560), photo(619)])
    assert "hoto 2 says" in both.inseam.warnings[0].message
    assert "photo 3" in both.inseam.warnings[0].message


def test_warnings_and_advice_are_kept_once() -> None:
    notice = Notice("soles-guessed", "Soles were guessed.")
    both = combine_inseams(
        [
            reading(620, ("a", 5, False), warnings=(notice,)),
            reading(621, ("a", 5, False), warnings=(notice,)),
        ]
    )
    assert both.inseam.warnings == (notice,)


lines = st.lists(
    st.tuples(st.sampled_from("abcd"), st.floats(0.5, 40), st.booleans()), min_size=1, max_size=4
)
several = st.lists(
    st.builds(lambda mean, budget: reading(mean, *budget), st.floats(400, 800), lines),
    min_size=2,
    max_size=5,
)


@given(several)
def test_combining_is_a_weighted_mean_never_surer_than_its_shared_parts(
    readings: list[Inseam],
) -> None:
    both = combine_inseams(readings)
    assert sum(both.weights) == pytest.approx(1)
    assert min(both.weights) >= 0
    means = [r.mean_mm for r in readings]
    assert min(means) - 1e-6 <= both.inseam.mean_mm <= max(means) + 1e-6
    assert 0 <= both.p_value <= 1
    # Where the readings agree nothing is added, and none alone is surer than all together.
    if both.p_value > 0.5:
        assert both.inseam.sd_mm <= math.hypot(min(r.sd_mm for r in readings), 0.3) + 1e-9
    for name in {line.source for r in readings for line in r.length.budget if line.shared}:
        least = min(
            math.hypot(*(s.sd_mm for s in r.length.budget if s.shared and s.source == name), 0.0)
            for r in readings
        )
        assert both.inseam.sd_mm >= least - 1e-9


@given(several, st.randoms())
def test_order_does_not_matter(readings: list[Inseam], random) -> None:  # type: ignore[no-untyped-def]
    shuffled = [*readings]
    random.shuffle(shuffled)
    one, other = combine_inseams(readings), combine_inseams(shuffled)
    assert one.inseam.mean_mm == pytest.approx(other.inseam.mean_mm, abs=1e-4)
    assert one.inseam.sd_mm == pytest.approx(other.inseam.sd_mm, rel=1e-4)


def test_readings_of_one_shared_error_alone() -> None:
    # Fully correlated, so nothing averages but the last digit.
    both = combine_inseams([Inseam.stated(600, 5), Inseam.stated(600, 5)])
    assert both.inseam.mean_mm == pytest.approx(600)
    assert both.inseam.sd_mm == pytest.approx(5, rel=0.01)


def test_contradiction_within_a_shared_error_stays_within_reason() -> None:
    both = combine_inseams([Inseam.stated(600, 5), Inseam.stated(640, 5)])
    assert both.inseam.sd_mm == pytest.approx(math.hypot(5, 20), rel=0.01)
    assert both.inseam.warnings[0].code == "readings_disagree"


def test_one_reading_is_nothing_to_combine() -> None:
    with pytest.raises(PersonError, match="at least two inseams, found 1"):
        combine_inseams([photo(600)])
