"""What pools errors over worlds, by known answers and another library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from calibration.fit.pooled import core, pooled, rising, spread
from calibration.fit.true_errors import Seen


@given(
    st.lists(
        st.tuples(st.floats(-100, 100), st.floats(0.5, 50)),
        min_size=1,
        max_size=8,
    )
)
def test_rising_values_are_those_of_isotonic_regression(pairs: list[tuple[float, float]]) -> None:
    values, counts = np.array(pairs).T
    wanted = isotonic_regression(values, weights=counts).x
    assert rising(values, counts) == pytest.approx(wanted, abs=1e-6)


def test_the_spread_of_a_normal_is_its_own_and_blunders_do_not_blow_it_up() -> None:
    rng = np.random.default_rng(5)
    values = rng.normal(0, 12, 20_000)
    assert spread(values) == pytest.approx(12, rel=0.03)
    values[:400] += 1000
    assert spread(values) == pytest.approx(12, rel=0.10)


def test_right_ends_are_told_from_clutter_and_worlds_count_alike() -> None:
    """Two worlds, one with ten times the photos: their mean lies half way between."""
    rng = np.random.default_rng(6)
    many, few = rng.normal(10, 8, 2000), rng.normal(20, 8, 200)
    wrong = rng.uniform(-120, 180, 400)
    worlds = np.repeat(["many", "few", "many"], [2000, 200, 400])
    mean, sd = core(np.concatenate([many, few, wrong]), worlds)
    assert mean == pytest.approx(15, abs=1)
    # 8 mm within, 5 mm to either side between.
    assert sd == pytest.approx(np.hypot(8, 5), rel=0.15)


def test_a_pooled_error_is_the_mean_of_the_worlds_and_holds_what_they_differ_by() -> None:
    seen = [
        Seen({"world": world, "error": offset + step}, None)  # type: ignore[arg-type]
        for world, offset in (("sewn", 0.0), ("baggy", 6.0))
        for step in np.linspace(-1, 1, 51)
    ]
    found = pooled(seen, lambda item: float(item.truth["error"]))
    assert found.mean == pytest.approx(3)
    within = spread(np.linspace(-1, 1, 51))
    # Variance of the two worlds' medians, 0 and 6: 18.
    assert found.sd == pytest.approx(np.sqrt(within**2 + 18))
    with pytest.raises(ValueError, match="eight photos"):
        pooled(seen[:7], lambda item: float(item.truth["error"]))
