"""Legs that no child alike has, one rule for the command line and the app."""

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.inseam.against_child import against_child
from pose_fit.inseam.from_tape import inseam_from_tape
from pose_fit.inseam.tape_questions import question_readings


@pytest.mark.parametrize(
    ("reading_mm", "child", "codes"),
    [
        (560, Child(age_y=7), []),
        (750, Child(), []),
        (750, Child(age_y=5), ["inseam_implausible"]),
        (750, Child(stature_mm=1100), ["inseam_implausible"]),
        (1100, Child(), ["tape_looks_like_stature"]),
        (1100, Child(age_y=5), ["tape_looks_like_stature", "inseam_implausible"]),
        (430, Child(age_y=7), []),
    ],
)
def test_only_what_no_child_has_speaks_against_a_reading(reading_mm, child, codes):
    inseam = inseam_from_tape([reading_mm])
    told = against_child(inseam.with_warnings(*question_readings([reading_mm], child)), child)
    assert [one.code for one in told] == codes
