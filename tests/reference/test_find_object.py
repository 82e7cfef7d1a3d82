"""What hangs beside the child need not be named: the samples, with nothing said of the object."""

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.errors import ReferenceObjectError
from pose_fit.measure import measure_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests import samples


def measured(name, *, child=None, request=None):
    truth = samples.facts(name)
    task = PhotoTask(
        request or ReferenceRequest(),
        Stated(soles_mm=truth["soles_mm"], heels_down=True),
        child or Child(),
    )
    return truth, measure_photo(samples.photo(name), task, pose=samples.pose())


def codes(refusal):
    assert isinstance(refusal, Refusal)
    return [one.code for one in refusal.reasons]


@pytest.mark.parametrize("name", ["sheet_1", "sheet_2", "letter_1", "letter_2", "a4_1"])
def test_sheet_and_paper_are_found_and_measured_as_if_named(name):
    truth, result = measured(name)
    assert not isinstance(result, Refusal), str(result)
    assert result.sights.reference.kind == truth["reference"]
    named = ReferenceRequest(truth["reference"], placement=truth["placement"])
    _, as_named = measured(name, request=named)
    assert result.inseam.mean_mm == pytest.approx(as_named.inseam.mean_mm, abs=3)
    low_mm, high_mm = result.inseam.interval95_mm
    assert low_mm <= truth["inseam_mm"] <= high_mm


@pytest.mark.parametrize("name", ["wheel_1", "wheel_2"])
def test_a_wheel_alone_is_a_question_for_its_code(name):
    _, refusal = measured(name)
    assert codes(refusal) == ["tyre_code_wanted"]
    assert "tyre" in refusal.remedies[0]


def test_nothing_found_is_a_question_that_names_what_would_do():
    _, refusal = measured("length_1")
    assert codes(refusal) == ["reference_none"]
    for word in ("sheet", "paper", "wheel", "height"):
        assert word in " ".join(refusal.remedies)


def test_with_a_known_height_no_object_is_an_answer_too():
    child = Child(stature_mm=samples.facts("length_1")["stature_mm"])
    _, result = measured("length_1", child=child)
    assert not isinstance(result, Refusal), str(result)
    assert result.sights.reference.kind == "height"


def test_points_belong_to_a_named_object():
    with pytest.raises(ReferenceObjectError, match="wanted the object whose points these are"):
        ReferenceRequest(points_px=((1, 2), (3, 4)))


def test_a_ruler_is_the_sheets():
    unnamed, named = (ReferenceRequest(kind, ruler_mm=178.0) for kind in ("auto", "sheet"))
    found, told = (measured("sheet_2", request=request)[1] for request in (unnamed, named))
    assert found.inseam.mean_mm == pytest.approx(told.inseam.mean_mm)
    _, on_paper = measured("letter_1", request=unnamed)
    assert on_paper.sights.reference.kind == "letter"
