import datetime as dt

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.inseam_norms import stature_at_z
from pose_fit.anthropometry.stature_since import stature_since

THEN, NOW = dt.date(2025, 5, 1), dt.date(2026, 5, 1)


def test_on_the_same_day_nothing_changes():
    for child in (Child(), Child(age_y=7.0)):
        found = stature_since(1200.0, measured_on=NOW, seen_on=NOW, child=child)
        assert found == pytest.approx((1200.0, 0.0))


@pytest.mark.parametrize("sex", ["f", "m"])
def test_a_median_child_follows_the_median(sex):
    """The CDC's medians of 7 and 8 years."""
    grown_mm, sd_mm = stature_since(
        stature_at_z(0, age_y=7, sex=sex),
        measured_on=THEN,
        seen_on=NOW,
        child=Child(age_y=8.0, sex=sex),
    )
    assert grown_mm == pytest.approx(stature_at_z(0, age_y=8, sex=sex), abs=0.5)
    assert 5 < sd_mm < 12


def test_without_an_age_it_is_less_sure():
    known = stature_since(1200.0, measured_on=THEN, seen_on=NOW, child=Child(age_y=8.0, sex="f"))
    unknown = stature_since(1200.0, measured_on=THEN, seen_on=NOW, child=Child())
    assert unknown[0] == pytest.approx(1260, abs=1)
    assert unknown[1] > known[1]


def test_a_height_taken_after_the_picture_is_taken_back():
    child = Child(age_y=7.0, sex="m")
    back_mm, _ = stature_since(1250.0, measured_on=NOW, seen_on=THEN, child=child)
    again_mm, _ = stature_since(
        back_mm, measured_on=THEN, seen_on=NOW, child=Child(age_y=8.0, sex="m")
    )
    assert back_mm < 1200
    assert again_mm == pytest.approx(1250, abs=0.5)
