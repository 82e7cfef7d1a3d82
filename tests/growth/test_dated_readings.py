"""The day of a picture counts: carried forward with growth, refused where that says nothing."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.body.looks import PersonLooks
from pose_fit.errors import InputError, PersonError
from pose_fit.growth.curve import inseam_curve
from pose_fit.growth.dated_readings import Dated, child_on, combined, picture_day
from pose_fit.inseam.from_tape import inseam_from_tape
from pose_fit.inseam.inseam import Inseam
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Refusal
from pose_fit.task.stated import Stated

TODAY = dt.date(2026, 11, 26)
MAY = dt.date(2026, 5, 26)
GIRL = Child(age_y=7.5, sex="f", stature_mm=1250)
PHOTO = Photo("a.jpg", np.zeros((4, 3, 3), np.uint8), 3, 4, None, False, MAY)


def test_what_is_stated_goes_before_the_file_and_that_before_today() -> None:
    stated = Stated(taken_on=dt.date(2026, 1, 2))
    assert picture_day(PHOTO, stated, today=TODAY) == (dt.date(2026, 1, 2), ())
    assert picture_day(PHOTO, Stated(), today=TODAY) == (MAY, ())
    assert picture_day(replace(PHOTO, taken_on=None), Stated(), today=TODAY) == (TODAY, ())


def test_a_day_to_come_is_a_wrong_call_or_a_wrong_clock() -> None:
    with pytest.raises(InputError, match="up to 2026-11-26, found 2027-01-01"):
        picture_day(PHOTO, Stated(taken_on=dt.date(2027, 1, 1)), today=TODAY)
    day, (notice,) = picture_day(
        replace(PHOTO, taken_on=dt.date(2031, 1, 1)), Stated(), today=TODAY
    )
    assert (day, notice.code) == (TODAY, "picture_day_to_come")


def test_a_picture_of_today_is_left_as_it_is() -> None:
    measured = Dated(Inseam.stated(600, 15), TODAY, GIRL)
    assert measured.carried_to(TODAY) is measured


def test_half_a_year_of_growth_is_that_of_the_curve_and_widens() -> None:
    measured = Dated(Inseam.stated(600, 15), MAY, GIRL)
    carried = measured.carried_to(TODAY)
    assert isinstance(carried, Dated)
    curve = inseam_curve("f")
    years = (TODAY - MAY).days / 365.2425
    # 7.5 years: the mean of the same share of the curve's mean, from 7.45 to 7.55.
    expected_mm = 600 * float(curve.mean_at(7.5 + years) / curve.mean_at(7.5))
    assert carried.inseam.mean_mm == pytest.approx(expected_mm, abs=0.5)
    assert 612 < carried.inseam.mean_mm < 622
    assert carried.inseam.sd_mm > 15.5
    assert carried.child.age_y == pytest.approx(7.5 + years)
    assert carried.child.stature_mm is None
    (notice,) = carried.inseam.warnings
    assert notice.code == "grown_since"
    assert "6 months ago" in notice.message


def test_an_unknown_age_is_said_and_widens() -> None:
    known = Dated(Inseam.stated(600, 15), MAY, GIRL).carried_to(TODAY)
    unknown = Dated(Inseam.stated(600, 15), MAY).carried_to(TODAY)
    assert isinstance(known, Dated)
    assert isinstance(unknown, Dated)
    assert unknown.inseam.sd_mm > known.inseam.sd_mm
    assert "with the age this would be surer" in unknown.inseam.warnings[-1].message


def test_a_few_weeks_are_counted_without_a_word() -> None:
    carried = Dated(Inseam.stated(600, 15), TODAY - dt.timedelta(days=30), GIRL).carried_to(TODAY)
    assert isinstance(carried, Dated)
    assert 600 < carried.inseam.mean_mm < 605
    assert carried.inseam.warnings == ()
    assert carried.child.stature_mm == 1250


def test_a_picture_of_long_ago_says_nothing_of_today() -> None:
    old = Dated(Inseam.stated(450, 15), dt.date(2022, 1, 1), Child(age_y=4.0))
    refusal = old.carried_to(TODAY)
    assert isinstance(refusal, Refusal)
    assert [reason.code for reason in refusal.reasons] == ["picture_too_old"]
    with pytest.raises(PersonError, match="must not lie before"):
        Dated(Inseam.stated(600, 15), TODAY).carried_to(MAY)


def test_a_child_of_another_day_has_another_age_and_no_known_height() -> None:
    then = child_on(GIRL, stated_on=TODAY, on=MAY)
    assert then.age_y == pytest.approx(7.0, abs=0.01)
    assert (then.sex, then.stature_mm) == ("f", None)
    assert child_on(Child(age_y=2.2), stated_on=TODAY, on=MAY - dt.timedelta(days=200)) == Child()
    assert child_on(Child(), stated_on=TODAY, on=MAY) == Child()


def test_readings_of_different_days_are_combined_on_the_latest() -> None:
    photo = Dated(Inseam.stated(585, 18), MAY, GIRL)
    tape = Dated(inseam_from_tape([602, 604]), TODAY, Child(age_y=8.0, sex="f"))
    together = combined([photo, tape])
    assert isinstance(together, Dated)
    assert together.on == TODAY
    assert together.child == tape.child
    carried = photo.carried_to(TODAY)
    assert isinstance(carried, Dated)
    low_mm, high_mm = sorted((carried.inseam.mean_mm, tape.inseam.mean_mm))
    assert low_mm <= together.inseam.mean_mm <= high_mm
    assert together.inseam.sd_mm < tape.inseam.sd_mm


def test_two_children_give_no_number() -> None:
    refusal = combined([Dated(Inseam.stated(534, 15), TODAY), Dated(Inseam.stated(673, 18), TODAY)])
    assert isinstance(refusal, Refusal)
    assert [reason.code for reason in refusal.reasons] == ["not_one_child"]
    assert "53.4 cm" in refusal.reasons[0].message
    assert isinstance(
        combined([Dated(Inseam.stated(534, 15), TODAY), Dated(Inseam.stated(560, 15), TODAY)]),
        Dated,
    )


def test_one_reading_is_itself() -> None:
    only = Dated(Inseam.stated(534, 15), MAY, GIRL)
    assert combined([only]) is only


def test_one_child_is_seldom_taken_for_two() -> None:
    """Photos whose errors are as stated, half of the variance shared: refused less than 1 in 100."""
    rng = np.random.default_rng(5)
    refused = 0
    for _ in range(1000):
        shared_mm = rng.normal(0, 13)
        readings = [
            Dated(Inseam.stated(600 + shared_mm + rng.normal(0, 13), 18), TODAY) for _ in range(3)
        ]
        refused += isinstance(combined(readings), Refusal)
    assert refused < 10


def _looks(trunk_log: float = 0.0, shirt: float = 0.0) -> PersonLooks:
    return PersonLooks(
        -0.3 + trunk_log, 0.5 + trunk_log / 2, ((60.0, shirt, 0.0), (40.0, 5.0, 5.0))
    )


@pytest.mark.parametrize(
    ("other", "is_asked"),
    [
        ({"looks": _looks(0.05, 8.0)}, False),
        ({"looks": _looks(0.0, 40.0)}, True),
        ({"looks": _looks(0.4)}, True),
        ({"child": Child(age_y=7.5, sex="m")}, True),
        ({"child": Child(age_y=11.0, sex="f")}, True),
        ({"child": Child(age_y=8.0, sex="f")}, False),
        ({}, False),
    ],
    ids=[
        "alike",
        "another shirt",
        "another body",
        "another sex",
        "years apart",
        "a birthday",
        "as said",
    ],
)
def test_pictures_of_two_children_are_a_question_until_somebody_says_they_are_one(
    other, is_asked
) -> None:
    inseam = inseam_from_tape([580.0])
    one = Dated(inseam, TODAY, GIRL, _looks())
    two = replace(one, **other)
    together = combined([one, two], is_one_child=False)
    assert isinstance(together, Refusal) == is_asked
    if isinstance(together, Refusal):
        assert together.asks == ("same_child",)
    said = combined([one, two], is_one_child=True)
    assert isinstance(said, Dated)
    codes = [notice.code for notice in said.inseam.warnings]
    assert ("children_unlike" in codes) == is_asked


def test_clothes_of_another_day_and_a_body_of_another_year_say_nothing() -> None:
    inseam = inseam_from_tape([580.0])
    now = Dated(inseam, TODAY, GIRL, _looks())
    may = Dated(inseam, MAY, Child(age_y=7.0, sex="f"), _looks(shirt=40.0))
    assert isinstance(combined([now, may], is_one_child=False), Dated)
    old = Dated(inseam_from_tape([545.0]), dt.date(2025, 5, 26), looks=_looks(0.4))
    assert isinstance(combined([replace(now, child=Child()), old], is_one_child=False), Dated)
