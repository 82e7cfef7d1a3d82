import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calibration.score.metrics import Coverage, bootstrap_mae_mm, metrics_of

ERRORS = st.lists(st.floats(-100, 100), min_size=2, max_size=30)


def test_known_errors():
    metrics = metrics_of([-2.0, 0.0, 2.0, 4.0], [1.0, 1.0, 2.0, 3.0])
    assert metrics.count == 4
    assert metrics.bias_mm == 1.0
    assert metrics.mae_mm == 2.0
    assert metrics.sd_mm == pytest.approx(math.sqrt(20 / 3))
    # Between the third and the fourth of 0, 2, 2, 4: 85 % of the way.
    assert metrics.p95_mm == pytest.approx(3.7)
    assert metrics.half_width_mm == pytest.approx(1.96 * 1.5, abs=0.001)
    # In standard uncertainties: 2, 0, 1, 1.33, against 0.674, 1.282 and 1.960.
    assert [coverage.held for coverage in metrics.coverages] == [1, 2, 3]


def test_normal_sample_is_covered_as_it_says():
    rng = np.random.default_rng(5)
    sds = rng.uniform(3, 30, 20000)
    metrics = metrics_of(rng.normal(0, sds), sds)
    shares = [coverage.share for coverage in metrics.coverages]
    assert shares == pytest.approx([0.5, 0.8, 0.95], abs=0.01)
    # A normal's mean absolute value is sqrt(2 / pi) standard deviations.
    assert metrics.mae_mm == pytest.approx(math.sqrt(2 / math.pi) * sds.mean(), rel=0.02)


def test_without_uncertainty_nothing_is_said_of_coverage():
    metrics = metrics_of([1.0, 2.0])
    assert metrics.coverages == ()
    assert metrics.half_width_mm is None
    assert metrics.coverage(0.95) is None


@pytest.mark.parametrize(
    ("errors", "sds", "message"),
    [([], None, "at least one error"), ([1.0, 2.0], [1.0], "uncertainties")],
)
def test_wrong_calls(errors, sds, message):
    with pytest.raises(ValueError, match=message):
        metrics_of(errors, sds)


def test_exact_interval_of_a_share():
    # Clopper and Pearson for 9 of 10, from tables: 0.555 to 0.997.
    assert Coverage(0.95, 9, 10).interval95 == pytest.approx((0.5550, 0.9975), abs=1e-4)
    # All of n: the lower limit is 0.025^(1/n).
    assert Coverage(0.95, 20, 20).interval95 == pytest.approx((0.025 ** (1 / 20), 1.0))


@given(ERRORS)
def test_bootstrap_holds_the_mean_within_the_errors(errors):
    low, high = bootstrap_mae_mm(errors)
    size = np.abs(errors)
    assert size.min() - 1e-9 <= low <= high <= size.max() + 1e-9


def test_bootstrap_is_as_wide_as_the_standard_error():
    errors = np.random.default_rng(3).normal(0, 10, 400)
    low, high = bootstrap_mae_mm(errors)
    assert (high - low) / 2 == pytest.approx(1.96 * np.abs(errors).std() / 20, rel=0.1)
