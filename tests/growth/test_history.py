"""A child's own growth line: one inseam as before, several sharper, covered on measured children."""

import datetime as dt

import numpy as np
import pytest

from calibration.people.child_history import scores
from pose_fit.errors import PersonError
from pose_fit.growth.curve import inseam_curve
from pose_fit.growth.forecast import forecast_inseam
from pose_fit.growth.history import (
    DatedInseam,
    History,
    forecast_from_history,
    history_on_curve,
)
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength

TODAY = dt.date(2026, 3, 2)
MONTHS = np.array([0.0, 6.0, 12.0, 24.0, 36.0])


def dated(days_ago: int, mean_mm: float, sd_mm: float = 10.0, *, shared: bool = False):
    length = UncertainLength(mean_mm, (Contribution("posture", sd_mm, shared),))
    return DatedInseam(TODAY - dt.timedelta(days=days_ago), Inseam(length, "photo"))


def test_a_single_inseam_of_today_is_forecast_as_ever():
    line = forecast_from_history(
        [dated(0, 560.0)], on=TODAY, age_range_y=(7.5, 7.5), sex="f", months=MONTHS
    )
    plain = forecast_inseam(560.0, sd_mm=10.0, age_range_y=(7.5, 7.5), sex="f", months=MONTHS)
    np.testing.assert_allclose(line.mean_mm, plain.mean_mm, rtol=2e-3)
    np.testing.assert_allclose(line.measured_sd_mm, plain.measured_sd_mm, rtol=0.02)
    np.testing.assert_allclose(line.sd_mm, plain.sd_mm, rtol=0.05)


def test_earlier_inseams_sharpen_today_and_shared_errors_do_not_average():
    def today_sd(*measured) -> float:
        line = forecast_from_history(measured, on=TODAY, age_range_y=(7.5, 7.5), sex="f")
        return float(line.sd_mm[0])

    alone = today_sd(dated(0, 560.0))
    own = today_sd(dated(0, 560.0), dated(120, 548.0), dated(240, 538.0))
    shared = today_sd(
        dated(0, 560.0, shared=True), dated(120, 548.0, shared=True), dated(240, 538.0, shared=True)
    )
    assert own < 0.75 * alone
    assert 0.95 * alone < shared <= 1.01 * alone


def test_a_child_that_gained_its_share_lately_is_expected_to_gain_further():
    """Above one half, the exponent says that changes of successive years are alike."""
    curve = inseam_curve("m")
    assert curve.exponent > 0.5
    years = np.array([2.0, 1.0, 0.0])
    usual = curve.mean_at(9.0 - years)

    def in_two_years(shares) -> float:
        history = History(years, usual * np.array(shares), np.eye(3))
        _, line = history_on_curve(curve, history, age_y=9.0, months=np.array([0.0, 24.0]))
        return float(line.mean_mm[1])

    assert in_two_years([0.96, 0.98, 1.0]) > in_two_years([1.0, 1.0, 1.0])


def test_simulated_children_are_covered():
    """Children drawn from the curve's own drift, exponent one half for the drawing's sake."""
    from dataclasses import replace

    curve = replace(inseam_curve("f"), exponent=0.5)
    rng = np.random.default_rng(8)
    ages = np.array([5.0, 6.0, 7.0, 9.0])
    hits, count = 0, 600
    for _ in range(count):
        spread = float(curve.sd_at(7.0) / curve.mean_at(7.0))
        share = 1 + spread * rng.normal()
        shares = [share]
        for start, end in zip(ages[:-1], ages[1:], strict=True):
            drift = float(np.interp((start + end) / 2, curve.drift_age_y, curve.drift_z))
            share += spread * drift * np.sqrt(end - start) * rng.normal()
            shares.append(share)
        lengths = np.array(shares) * curve.mean_at(ages)
        seen = lengths[:3] + rng.normal(0, 10, 3)
        history = History(np.array([2.0, 1.0, 0.0]), seen, np.eye(3) * 100.0)
        _, line = history_on_curve(curve, history, age_y=7.0, months=np.array([24.0]))
        sd_mm = np.hypot(line.measured_sd_mm[0], line.children_sd_mm[0])
        hits += abs(line.mean_mm[0] - lengths[3]) < 1.96 * sd_mm
    assert 0.92 < hits / count < 0.98


def test_measured_children_are_covered_and_a_second_birthday_helps_today():
    """Even-numbered children of the Berkeley study; the drift was fitted on the others."""
    found = scores()
    for (_, ahead), rows in found.items():
        covered = np.mean(abs(rows[:, 1] - rows[:, 0]) <= 1.96 * rows[:, 2])
        assert 0.93 < covered < 0.99, ahead

    def error(key) -> float:
        return float(np.sqrt(((found[key][:, 1] - found[key][:, 0]) ** 2).mean()))

    assert error((2, 0)) < 0.9 * error((1, 0))


@pytest.mark.parametrize(
    ("measured", "message"), [([], "at least one"), ([dated(-3, 560.0)], "wanted inseams up to")]
)
def test_a_line_without_a_past_is_refused(measured, message):
    with pytest.raises(PersonError, match=message):
        forecast_from_history(measured, on=TODAY)


def test_unknown_age_and_sex_widen_the_line():
    measured = [dated(0, 560.0), dated(200, 545.0)]
    known = forecast_from_history(measured, on=TODAY, age_range_y=(7.5, 7.5), sex="f")
    unknown = forecast_from_history(measured, on=TODAY)
    assert unknown.sd_mm[24] > known.sd_mm[24]
