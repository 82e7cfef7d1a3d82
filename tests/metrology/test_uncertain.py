"""Budgets, refusals and propagation on cases whose answers are known."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.metrology.propagation import independent, propagate
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.refusal import Notice, Refusal
from tests.monte_carlo import simulate


def test_contributions_add_by_their_squares() -> None:
    length = UncertainLength(500.0, (Contribution("a", 3.0), Contribution("b", 4.0, shared=True)))
    assert length.sd_mm == 5.0
    assert length.interval95_mm == pytest.approx((490.2, 509.8), abs=0.01)
    assert length.largest.source == "b"


@pytest.mark.parametrize("budget", [(), (Contribution("a", 0.0),)])
def test_unknown_is_never_no_uncertainty(budget: tuple[Contribution, ...]) -> None:
    with pytest.raises(ValueError, match="above 0 mm"):
        UncertainLength(500.0, budget)


@pytest.mark.parametrize("sd_mm", [-1.0, math.nan, math.inf])
def test_a_contribution_is_finite_and_not_negative(sd_mm: float) -> None:
    with pytest.raises(ValueError, match="finite and >= 0"):
        Contribution("a", sd_mm)


def test_a_refusal_is_falsy_and_has_a_reason() -> None:
    refusal = Refusal((Notice("nobody", "Nobody is there."),))
    assert not refusal
    assert str(refusal) == "Nobody is there."
    with pytest.raises(ValueError, match="at least one reason"):
        Refusal(())


def test_the_end_gauge_of_the_guide() -> None:
    """JCGM 100:2008, H.1: length of an end gauge; uncertainty 32 nm to first order.

    l = l_S + d - l_S (da * th + a_S * dth), with u(l_S) = 25 nm, u(d) = 9.7 nm,
    u(da) = 0.58e-6 / K, u(th) = 0.41 K at th = -0.1 K, u(dth) = 0.029 K,
    a_S = 11.5e-6 / K, l_S = 50.000623 mm.
    """
    quantities = [
        independent("standard", [50.000623e6], [25.0], shared=False),
        independent("comparison", [215.0], [9.7], shared=False),
        independent("difference of expansion", [0.0], [0.58e-6], shared=False),
        independent("expansion", [11.5e-6], [1.2e-6], shared=False),
        independent("temperature", [-0.1], [0.41], shared=False),
        independent("difference of temperature", [0.0], [0.029], shared=False),
    ]

    def length_nm(inputs: object) -> np.ndarray:
        standard, comparison, d_alpha, alpha, theta, d_theta = inputs  # type: ignore[misc]
        return standard + comparison - standard * (d_alpha * theta + alpha * d_theta)

    result = propagate(length_nm, quantities)
    assert result.values[0] == pytest.approx(50.000838e6, abs=1)
    assert math.sqrt(result.covariance[0, 0]) == pytest.approx(32, abs=0.5)
    # JCGM 101's method finds the second-order terms too: 34 nm (H.1.7).
    rng = np.random.default_rng(1)
    drawn = simulate(length_nm, quantities, draws=20_000, rng=rng)
    assert drawn.std() == pytest.approx(34, abs=1)


@given(st.lists(st.floats(0.1, 10), min_size=2, max_size=5), st.floats(-3, 3))
def test_a_sum_is_propagated_exactly(sds: list[float], factor: float) -> None:
    quantities = [independent("part", [1.0], [sd], shared=False) for sd in sds]
    result = propagate(lambda inputs: factor * sum(inputs), quantities)  # type: ignore[arg-type, return-value]
    expected = factor**2 * sum(sd**2 for sd in sds)
    assert result.covariance[0, 0] == pytest.approx(expected, rel=1e-9, abs=1e-12)
