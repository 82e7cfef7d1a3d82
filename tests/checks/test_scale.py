"""People whose proportions are those of somebody of another size."""

import numpy as np
import pytest

from pose_fit.anthropometry.inseam_norms import inseam_at_stature, stature_at_z
from pose_fit.anthropometry.person_likelihood import SeenPerson, pupils_apart_mm
from pose_fit.checks.scale import check_person, person_warnings
from pose_fit.reference.reference import PointReference

SHEET = PointReference(
    kind="a4",
    placement="wall",
    object_mm=np.array([[0.0, 0], [210, 297]]),
    image_px=np.array([[0.0, 0], [100, 141]]),
    point_sd_px=1.0,
    log_size_sd=0.002,
    log_aspect_sd=0.003,
)


def usual(age_y: float, factor: float) -> SeenPerson:
    """The usual girl of this age by an object that makes everything larger by the factor."""
    stature_mm = stature_at_z(0, age_y=age_y, sex="f")
    legs = inseam_at_stature(stature_mm, sex="f")
    return SeenPerson(
        factor * legs.mean_mm,
        0.03,
        factor * stature_mm,
        0.025,
        factor * pupils_apart_mm(age_y, "f") * 0.95,
        0.06,
    )


@pytest.mark.parametrize("age_y", [3, 5, 7, 9, 11, 13])
def test_children_of_their_own_size_are_no_matter(age_y):
    assert check_person(usual(age_y, 1.0), SHEET) is None
    assert person_warnings(usual(age_y, 1.0), SHEET) == ()


@pytest.mark.parametrize(("age_y", "factor"), [(9, 0.5), (11, 0.55), (4, 1.6), (5, 1.8)])
def test_dolls_and_giants_are_told_of_or_refused(age_y, factor):
    seen = usual(age_y, factor)
    refusal = check_person(seen, SHEET)
    codes = [one.code for one in (refusal.reasons if refusal else person_warnings(seen, SHEET))]
    assert codes == ["person_unlikely"]


def test_what_is_told_says_which_way():
    assert "taller" in person_warnings(usual(9, 0.62), SHEET)[0].message
