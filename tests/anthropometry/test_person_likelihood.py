"""People who can exist, from the measured children; and some who cannot."""

import numpy as np
import pytest

from calibration.people.measured import children
from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.inseam_norms import inseam_at_stature, stature_at_z
from pose_fit.anthropometry.person_likelihood import (
    SeenPerson,
    is_nobody,
    person_log_likelihood,
    pupils_apart_mm,
)

UNKNOWN = Child()


def child_of(age_y: float, *, sex: str = "f", z: float = 0.0) -> SeenPerson:
    stature_mm = stature_at_z(z, age_y=age_y, sex=sex)
    legs = inseam_at_stature(stature_mm, sex=sex)
    return SeenPerson(legs.mean_mm, 0.02, stature_mm, 0.02, pupils_apart_mm(age_y, sex) * 0.95)


@pytest.mark.parametrize("age_y", [3, 6, 9, 12, 17])
@pytest.mark.parametrize("z", [-2, 0, 2])
def test_usual_children_exist(age_y, z):
    assert not is_nobody(child_of(age_y, z=z), UNKNOWN)


@pytest.mark.parametrize(
    ("age_y", "measured_mm"), [(2.5, 47.5), (3.5, 49.5), (4.5, 51.0), (5.5, 51.0), (18.0, 63.0)]
)
def test_pupils_are_as_far_apart_as_other_people_have_them(age_y, measured_mm):
    """220 children of 2 to 6 years, looking 3 m away (Pacific University norms, 1993), and adults
    (Dodgson 2004), of both sexes."""
    mean_mm = np.mean([pupils_apart_mm(age_y, sex) for sex in ("f", "m")])
    assert mean_mm == pytest.approx(measured_mm, rel=0.04)


def test_no_measured_child_is_taken_for_nobody():
    people = children().dropna(subset=["stature", "inseam"])
    people = people[people.stature.between(820, 1880)]
    # A photo errs too: 2 % in each length, by the same die for every child.
    rng = np.random.default_rng(1)
    nobodies = 0
    for person in people.itertuples():
        stature_mm, inseam_mm = np.array([person.stature, person.inseam]) * np.exp(
            0.02 * rng.standard_normal(2)
        )
        nobodies += is_nobody(SeenPerson(inseam_mm, 0.025, stature_mm, 0.025), UNKNOWN)
    assert len(people) > 2000
    assert nobodies <= len(people) // 1000


@pytest.mark.parametrize("factor", [0.4, 0.5, 1.6, 2.0])
def test_a_wrong_object_makes_nobody(factor):
    grown = child_of(18, sex="m") if factor < 1 else child_of(9)
    assert is_nobody(grown.scaled(factor), UNKNOWN)


def test_a_grown_person_read_as_a_toddler_is_nobody():
    """An inseam of 323 mm of somebody with a grown person's proportions."""
    grown = child_of(18, sex="m")
    assert is_nobody(grown.scaled(323 / grown.inseam_mm), UNKNOWN)


@pytest.mark.parametrize("known", [Child(age_y=8.0, sex="f"), Child(stature_mm=1280.0)])
def test_what_is_stated_tells_a_wheel_class(known):
    """24 in taken for 26 in: 8.6 % larger."""
    seen = child_of(8)
    right, wrong = (person_log_likelihood(seen.scaled(part), known) for part in (1, 653 / 601))
    assert right - wrong > 0.9
    unknown = [person_log_likelihood(seen.scaled(part), UNKNOWN) for part in (1, 653 / 601)]
    assert abs(unknown[0] - unknown[1]) < right - wrong


def test_an_odd_person_does_not_decide_alone():
    seen = child_of(8)
    far, further = (person_log_likelihood(seen.scaled(part), UNKNOWN) for part in (2.4, 2.5))
    assert abs(far - further) < 1
