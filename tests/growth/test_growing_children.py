"""What must hold of any growing child, and the forecast against children grown one by one (JCGM 101)."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.anthropometry.people import people
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.fit.judge import judge
from pose_fit.growth.forecast import forecast_inseam
from pose_fit.growth.inseam_on_day import inseam_on
from pose_fit.growth.lasting import lasting
from pose_fit.growth.runway import months_until
from pose_fit.inseam.inseam import Inseam

AGES = st.floats(2.5, 13)
SEXES = st.sampled_from(["f", "m", None])
INSEAMS = st.floats(330, 800)
SDS = st.floats(2, 40)
START = dt.date(2026, 3, 14)
DEMO = read_catalogue(DEMO_CATALOGUE)


def runway(inseam_mm, sd_mm, age_y, sex, threshold_mm):
    forecast = forecast_inseam(inseam_mm, sd_mm=sd_mm, age_range_y=(age_y, age_y), sex=sex)
    return months_until(forecast, [threshold_mm])


@given(INSEAMS, st.floats(0, 60), SDS, AGES, SEXES, st.floats(340, 950))
def test_longer_legs_pass_a_length_no_later(inseam_mm, more_mm, sd_mm, age_y, sex, threshold_mm):
    short, long = (
        runway(mean_mm, sd_mm, age_y, sex, threshold_mm)
        for mean_mm in (inseam_mm, inseam_mm + more_mm)
    )
    assert long.median_months[0] <= short.median_months[0]


@given(INSEAMS, SDS, AGES, SEXES, st.floats(340, 950), st.floats(0, 60))
def test_a_longer_length_is_passed_no_sooner(inseam_mm, sd_mm, age_y, sex, threshold_mm, more_mm):
    near, far = (
        runway(inseam_mm, sd_mm, age_y, sex, length_mm)
        for length_mm in (threshold_mm, threshold_mm + more_mm)
    )
    for near_months, far_months in (
        (near.median_months, far.median_months),
        *zip(near.window80_months, far.window80_months, strict=True),
    ):
        assert near_months[0] <= far_months[0]


@given(INSEAMS, SDS, st.floats(0, 30), AGES, SEXES)
def test_a_worse_measurement_never_makes_a_surer_forecast(inseam_mm, sd_mm, wider_mm, age_y, sex):
    sharp, wide = (
        forecast_inseam(inseam_mm, sd_mm=sd, age_range_y=(age_y, age_y), sex=sex).sd_mm
        for sd in (sd_mm, sd_mm + wider_mm)
    )
    assert (wide >= sharp - 1e-9).all()


@given(INSEAMS, SDS, AGES, st.sampled_from(["f", "m"]), st.integers(1, 500), st.integers(1, 500))
def test_by_way_of_another_day_legs_are_as_long(inseam_mm, sd_mm, age_y, sex, first, second):
    """Of known age and sex; and no day makes the inseam surer than it was."""
    measured = Inseam.stated(inseam_mm, sd_mm)
    between, end = START + dt.timedelta(first), START + dt.timedelta(first + second)
    then_y = age_y + first / 365.2425
    at_once = inseam_on(measured, measured_on=START, on=end, age_range_y=(age_y, age_y), sex=sex)
    half = inseam_on(measured, measured_on=START, on=between, age_range_y=(age_y, age_y), sex=sex)
    twice = inseam_on(half, measured_on=between, on=end, age_range_y=(then_y, then_y), sex=sex)
    assert twice.mean_mm == pytest.approx(at_once.mean_mm, abs=0.01)
    assert measured.mean_mm <= half.mean_mm <= twice.mean_mm
    assert measured.sd_mm <= half.sd_mm <= twice.sd_mm


@given(st.floats(320, 800), st.floats(2, 20), AGES, SEXES)
def test_a_bicycle_is_ready_before_it_is_outgrown(inseam_mm, sd_mm, age_y, sex):
    forecast = forecast_inseam(inseam_mm, sd_mm=sd_mm, age_range_y=(age_y, age_y), sex=sex)
    fits = judge(Inseam.stated(inseam_mm, sd_mm), DEMO)
    for fit, line in zip(fits, lasting(fits, forecast), strict=True):
        low, high = line.window80_months
        assert low <= line.outgrown_months <= high
        if fit.recommended:
            assert line.ready_months == 0
            assert line.outgrown_months > 0
        elif fit.recommended_from_mm < line.until_mm:
            assert line.ready_months <= line.outgrown_months


def test_a_forecast_of_a_child_of_seven_is_that_of_children_grown_one_by_one():
    """Boys and girls between the birthdays, each measured with an error and drifting on its own way."""
    rng = np.random.default_rng(9)
    count, months, sd_mm, inseam_mm = 40_000, 18.0, 7.0, 580.0
    tracking = people().tracking
    years = months / 12
    grown_mm = np.empty(count)
    for sex, place in (("f", slice(0, count // 2)), ("m", slice(count // 2, count))):
        table = people().by_age[sex]
        age_y = rng.uniform(7, 8, count // 2)
        true_mm = inseam_mm + sd_mm * rng.standard_normal(count // 2)
        mean_now, mean_then = (
            np.interp(age, table.age_y, table.inseam_mm) for age in (age_y, age_y + years)
        )
        drift_z = tracking.leg_factor * np.interp(
            age_y + years / 2, tracking.age_y, tracking.drift_z[sex]
        )
        own_z = drift_z * years**tracking.exponent * rng.standard_normal(count // 2)
        spread_mm = np.interp(
            age_y + years, table.age_y, table.inseam_relative_sd * table.inseam_mm
        )
        country_mm = tracking.population_rate_sd_mm_per_y * years * rng.standard_normal(count // 2)
        grown_mm[place] = true_mm * mean_then / mean_now + own_z * spread_mm + country_mm
    forecast = forecast_inseam(inseam_mm, sd_mm=sd_mm, age_range_y=(7, 8), months=[months])
    assert forecast.mean_mm[0] == pytest.approx(grown_mm.mean(), abs=0.5)
    assert forecast.sd_mm[0] == pytest.approx(grown_mm.std(), rel=0.03)
    low_mm, high_mm = forecast.interval95_mm
    assert np.quantile(grown_mm, (0.025, 0.975)) == pytest.approx([low_mm[0], high_mm[0]], abs=1.5)
