import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.growth.forecast import GrowthForecast, forecast_inseam
from pose_fit.growth.runway import months_until


def straight(rate_mm: float = 3.0, sd_mm: float = 10.0) -> GrowthForecast:
    """Grows at a steady rate from 600 mm with a constant uncertainty."""
    months = np.arange(37.0)
    none = np.zeros(37)
    return GrowthForecast(months, 600 + rate_mm * months, np.full(37, sd_mm), none, none, none)


def test_steady_growth_by_hand() -> None:
    # 630 mm at 3 mm a month: 10 months, and 1.2816 x 10 mm / 3 to either side for 80 %.
    runway = months_until(straight(), [630.0])
    assert runway.median_months[0] == pytest.approx(10.0, abs=0.05)
    assert runway.window80_months[0][0] == pytest.approx(10 - 4.272, abs=0.05)
    assert runway.window80_months[1][0] == pytest.approx(10 + 4.272, abs=0.05)


def test_already_and_not_within_the_forecast() -> None:
    runway = months_until(straight(), [550.0, 900.0])
    assert runway.median_months.tolist() == [0.0, np.inf]
    assert runway.window80_months[1].tolist() == [0.0, np.inf]


def test_windows_are_those_of_simulated_children() -> None:
    # Monte Carlo: a child's place at the start and its pace are drawn, then it is followed.
    rng = np.random.default_rng(4)
    months = np.arange(49.0)
    start = 600 + 8 * rng.normal(size=6000)
    pace = 3 + 0.5 * rng.normal(size=6000)
    paths = start[:, None] + np.clip(pace, 0.01, None)[:, None] * months
    none = np.zeros(49)
    forecast = GrowthForecast(months, 600 + 3 * months, np.full(49, 8.0), 0.5 * months, none, none)
    runway = months_until(forecast, [640.0])
    passed = np.where(paths[:, -1] > 640, (paths > 640).argmax(axis=1), np.inf)
    assert runway.median_months[0] == pytest.approx(np.median(passed) - 0.5, abs=0.4)
    low, high = runway.window80_months
    assert low[0] == pytest.approx(np.quantile(passed, 0.1) - 0.5, abs=0.7)
    assert high[0] == pytest.approx(np.quantile(passed, 0.9) - 0.5, abs=0.7)


@given(
    threshold_mm=st.floats(500, 800),
    age_y=st.floats(3, 12),
    sd_mm=st.floats(2, 40),
    inseam_mm=st.floats(400, 750),
)
def test_the_median_lies_within_its_window(threshold_mm, age_y, sd_mm, inseam_mm) -> None:  # type: ignore[no-untyped-def]
    forecast = forecast_inseam(inseam_mm, sd_mm=sd_mm, age_range_y=(age_y, age_y))
    runway = months_until(forecast, [threshold_mm])
    order = [
        runway.window80_months[0][0],
        runway.median_months[0],
        runway.window80_months[1][0],
    ]
    assert order == sorted(order)


def test_higher_thresholds_are_passed_later() -> None:
    thresholds_mm = np.linspace(560, 760, 40)
    runway = months_until(forecast_inseam(600, sd_mm=8, age_range_y=(8, 9)), thresholds_mm)
    assert (np.diff(runway.median_months[np.isfinite(runway.median_months)]) >= 0).all()
    assert np.isinf(runway.median_months[-1])
