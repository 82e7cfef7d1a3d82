import datetime as dt

import pytest

from pose_fit.errors import PersonError
from pose_fit.growth.age import age_range, shifted_age
from pose_fit.growth.forecast import forecast_inseam
from pose_fit.growth.inseam_on_day import inseam_on, months_between
from pose_fit.inseam.from_tape import inseam_from_tape

MARCH, DECEMBER = dt.date(2026, 3, 14), dt.date(2026, 12, 24)


def test_a_photo_from_march_for_december() -> None:
    measured = inseam_from_tape([600, 602, 601])
    then = inseam_on(measured, measured_on=MARCH, on=DECEMBER, age_range_y=(7, 8), sex="f")
    # 9.4 months at 3.4-3.8 cm a year.
    assert 24 < then.mean_mm - measured.mean_mm < 33
    assert then.sd_mm > measured.sd_mm
    assert then.method == "tape"
    sources = [line.source for line in then.length.budget]
    assert "children grow unlike each other" in sources
    assert "tape technique (book, posture, shoes)" in sources


def test_the_budget_adds_up_to_the_forecast() -> None:
    measured = inseam_from_tape([600])
    then = inseam_on(measured, measured_on=MARCH, on=DECEMBER)
    forecast = forecast_inseam(600, sd_mm=measured.sd_mm, months=[months_between(MARCH, DECEMBER)])
    assert then.sd_mm == pytest.approx(forecast.sd_mm[0])
    assert "age or sex not known" in [line.source for line in then.length.budget]


def test_the_same_day_changes_nothing() -> None:
    measured = inseam_from_tape([600])
    assert inseam_on(measured, measured_on=MARCH, on=MARCH) is measured


def test_a_day_before_the_photo_is_no_forecast() -> None:
    with pytest.raises(PersonError, match="before the measurement of 2026-12-24, found 2026-03-14"):
        inseam_on(inseam_from_tape([600]), measured_on=DECEMBER, on=MARCH)


def test_months_over_a_leap_year() -> None:
    assert months_between(dt.date(2023, 1, 1), dt.date(2027, 1, 1)) == pytest.approx(48, abs=0.02)


def test_what_a_stated_age_may_mean() -> None:
    assert age_range(7) == (7, 8)
    assert age_range(7.5) == pytest.approx((7.45, 7.55))
    assert age_range(2) == (2, 3)
    with pytest.raises(PersonError, match="found 1"):
        age_range(1)


def test_age_at_an_older_photo() -> None:
    assert shifted_age((7, 8), stated_on=DECEMBER, on=MARCH) == pytest.approx(
        (6.22, 7.22), abs=0.01
    )
    with pytest.raises(PersonError, match="youngest age must come first"):
        shifted_age((8, 7), stated_on=DECEMBER, on=MARCH)
