"""Fusing and weighing: known answers, and what must not change the answer."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import trapezoid

from pose_fit.inseam.mixture import NormalMixture, best_weights, log_likelihoods, normalised


def independent(sds_mm: list[float]) -> np.ndarray:
    return np.diag(sds_mm)[None]


def test_independent_readings_weigh_by_their_precision() -> None:
    """Known answer; the millimetre that no two readings agree better than is part of it."""
    weights = best_weights(independent([3.0, 6.0]), np.ones((1, 2), bool))[0]
    assert weights[0] / weights[1] == pytest.approx((36 + 1) / (9 + 1))


def test_a_reading_that_is_not_there_changes_nothing() -> None:
    readings = np.random.default_rng(1).normal(0, 8, (1, 3, 5))
    there = np.array([[True, True, False]])
    weights = best_weights(readings, there)[0]
    assert weights[2] == 0
    assert weights[:2] == pytest.approx(best_weights(readings[:, :2], there[:, :2])[0])


def test_the_likelihood_is_that_of_the_differences() -> None:
    """Known answer: two readings with nothing known before agree as their difference is normal."""
    sd = np.hypot(np.hypot(3, 1), np.hypot(4, 1))
    (found,) = log_likelihoods(
        np.array([[500.0, 512.0]]), independent([3.0, 4.0]), np.ones((1, 2), bool)
    )
    assert found == pytest.approx(-0.5 * (12 / sd) ** 2 - np.log(sd * np.sqrt(2 * np.pi)))


def test_the_likelihood_of_three_is_one_integral_over_the_length() -> None:
    """Against numeric integration of the readings' density over the unknown length."""
    parts = np.random.default_rng(2).normal(0, 7, (1, 3, 4))
    values = np.array([[500.0, 509.0, 496.0]])
    covariance = parts[0] @ parts[0].T + np.eye(3)
    lengths = np.linspace(300, 700, 20001)
    off = values[0] - lengths[:, None]
    density = np.exp(-0.5 * np.einsum("ni,ij,nj->n", off, np.linalg.inv(covariance), off))
    density /= np.sqrt((2 * np.pi) ** 3 * np.linalg.det(covariance))
    expected = np.log(trapezoid(density, lengths))
    (found,) = log_likelihoods(values, parts, np.ones((1, 3), bool))
    assert found == pytest.approx(expected, abs=1e-6)


@given(st.floats(0.1, 10.0), st.integers(0, 2**31))
@settings(max_examples=25, deadline=None)
def test_the_order_of_the_readings_does_not_matter(scale: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    parts = rng.normal(0, 10 * scale, (1, 4, 6))
    values = rng.normal(500, 10, (1, 4))
    order = rng.permutation(4)
    there = np.ones((1, 4), bool)
    assert best_weights(parts[:, order], there)[0] == pytest.approx(
        best_weights(parts, there)[0][order], rel=1e-6, abs=1e-9
    )
    assert log_likelihoods(values[:, order], parts[:, order], there) == pytest.approx(
        log_likelihoods(values, parts, there), rel=1e-9
    )


@given(st.lists(st.floats(-800.0, 800.0), min_size=1, max_size=20))
def test_weights_add_up_to_one(logs: list[float]) -> None:
    assert normalised(np.array(logs)).sum() == pytest.approx(1)


def test_a_mixture_of_one_is_its_normal() -> None:
    one = NormalMixture(np.ones(1), np.array([500.0]), np.array([10.0]))
    assert (one.mean, one.sd, one.between) == (500.0, 10.0, 0.0)
    assert one.quantile(0.975) == pytest.approx(500 + 19.59964, abs=1e-3)
    assert one.honest_sd(factor=1.959964, tail=0.025) == pytest.approx(10.0, rel=1e-6)


@given(
    st.lists(
        st.tuples(st.floats(0.01, 1), st.floats(300, 900), st.floats(3, 40)),
        min_size=1,
        max_size=6,
    )
)
@settings(max_examples=50, deadline=None)
def test_the_normal_that_is_told_has_no_thinner_tails(parts: list[tuple[float, ...]]) -> None:
    weights, means, sds = np.array(parts).T
    mixture = NormalMixture(weights / weights.sum(), means, sds)
    half = 1.959964 * mixture.honest_sd(factor=1.959964, tail=0.025)
    assert mixture.mean - half <= mixture.quantile(0.025) + 1e-3
    assert mixture.mean + half >= mixture.quantile(0.975) - 1e-3
    assert np.hypot(mixture.within, mixture.between) == pytest.approx(mixture.sd)


def test_quantiles_agree_with_drawn_numbers() -> None:
    """JCGM 101: by Monte Carlo."""
    mixture = NormalMixture(np.array([0.7, 0.3]), np.array([500.0, 560.0]), np.array([8.0, 12.0]))
    rng = np.random.default_rng(5)
    which = rng.choice(2, 200_000, p=mixture.weights)
    drawn = rng.normal(mixture.means[which], mixture.sds[which])
    for share in (0.025, 0.5, 0.975):
        assert mixture.quantile(share) == pytest.approx(np.quantile(drawn, share), abs=0.6)
