"""Two limits at once: against the integral, and what must hold of any two events."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal, norm

from pose_fit.fit.both_met import chance_of_both

LIMITS = st.one_of(st.floats(-8, 8), st.sampled_from([0.0, -0.0, 1e-200]))
CORRELATIONS = st.floats(0, 0.999)


def both(first, second, correlation):
    return float(chance_of_both(*(np.array([value]) for value in (first, second, correlation)))[0])


@pytest.mark.parametrize("correlation", [0.0, 0.3, 0.8, 0.99])
@pytest.mark.parametrize("first", [-2.5, -0.4, 0.0, 1.1, 3.0])
@pytest.mark.parametrize("second", [-1.7, 0.0, 0.4, 2.2])
def test_against_the_integral_of_the_density(first, second, correlation):
    covariance = [[1.0, correlation], [correlation, 1.0]]
    expected = multivariate_normal([0, 0], covariance).cdf([first, second])
    assert both(first, second, correlation) == pytest.approx(expected, abs=2e-6)


@given(LIMITS, LIMITS, CORRELATIONS)
def test_within_the_bounds_of_any_two_events(first, second, correlation):
    """Frechet's; and never less likely than were they independent, since they help each other."""
    one, other, found = norm.cdf(first), norm.cdf(second), both(first, second, correlation)
    assert max(one + other - 1, one * other) - 1e-9 <= found <= min(one, other) + 1e-9
    assert found == pytest.approx(both(second, first, correlation), abs=1e-9)


@given(LIMITS, LIMITS, st.floats(0, 4), CORRELATIONS)
def test_a_wider_limit_is_never_met_less(first, second, wider, correlation):
    assert both(first, second + wider, correlation) >= both(first, second, correlation) - 1e-9


@given(LIMITS, CORRELATIONS)
def test_no_limit_is_no_limit(first, correlation):
    assert both(first, np.inf, correlation) == pytest.approx(norm.cdf(first), abs=1e-12)
    assert both(first, -np.inf, correlation) == 0
