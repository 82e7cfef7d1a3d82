import math

import pytest

from calibration.score.bodies import differences_of
from calibration.score.sources import straight_leg_mm
from pose_fit.anthropometry.inseam_norms import inseam_at_stature
from pose_fit.anthropometry.people import people
from tests.calibration.seen_child import child_truth

BY_HIP = people().inseam_from_hip_height


def _body(index, *, age_years, **changes):
    """A body that is just as the people's relations have it, except for the changes."""
    body = child_truth(index=index, age_years=age_years)
    ankle_mm = people().ankle_height_from_hip_to_ankle.mean_mm(straight_leg_mm(body))
    inseam_mm = BY_HIP.mean_mm(520.0)
    heights = {"hip": 520.0, "knee": 300.0, "ankle": ankle_mm}
    return body | {"inseam_mm": inseam_mm, "erect_joint_heights_mm": heights} | changes


def test_bodies_like_people_do_not_differ():
    ankle, hip, _ = differences_of([_body(1, age_years=4.0), _body(2, age_years=9.0)])
    assert ankle.mean_mm == pytest.approx(0.0, abs=1e-9)
    assert hip.mean_mm == pytest.approx(0.0, abs=1e-9)
    assert hip.person_sd_mm == pytest.approx(BY_HIP.person_sd_at_mm(520.0))
    assert hip.systematic_sd_mm == pytest.approx(BY_HIP.systematic_sd_at_mm(520.0))


def test_differences_by_age():
    usual = BY_HIP.mean_mm(520.0)
    bodies = [
        _body(1, age_years=4.0, inseam_mm=usual - 10),
        _body(2, age_years=12.0, inseam_mm=usual - 30),
        _body(3, age_years=13.0, inseam_mm=usual - 20),
    ]
    _, hip, stature = differences_of(bodies)
    assert (hip.young_mm, hip.old_mm) == pytest.approx((-10.0, -25.0))
    assert math.isnan(hip.middle_mm)
    assert hip.mean_mm == pytest.approx(-20.0)
    assert hip.sd_mm == pytest.approx(10.0)
    expected = usual - 20 - inseam_at_stature(1150.0, sex="f").mean_mm
    assert stature.mean_mm == pytest.approx(expected)


def test_a_body_in_several_photos_counts_once():
    body = _body(1, age_years=4.0)
    ankle, *_ = differences_of([body, body | {"photo_of_child": 1}])
    assert ankle.count == 1


def test_no_bodies():
    with pytest.raises(ValueError, match="at least one truth"):
        differences_of([])
