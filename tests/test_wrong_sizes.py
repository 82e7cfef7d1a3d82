"""The sample photos measured by a neighbour of the object that really hangs there."""

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.measure import measure_photo
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from pose_fit.task.typed import task_of
from tests import samples

AGED = [False, True]


def measured(name, kind, size, *, aged=False, points=None):
    truth, photo = samples.facts(name), samples.photo(name)
    if points is None and kind in ("door", "length"):
        points = truth["points"]
    child = Child(age_y=truth["age_years"], sex=truth["sex"]) if aged else Child()
    typed = {"reference": kind, "size": size, "points": points, "placement": truth["placement"]}
    task = PhotoTask(
        task_of({name: text for name, text in typed.items() if text is not None}).reference,
        Stated(soles_mm=truth["soles_mm"], heels_down=True),
        child,
    )
    return measure_photo(photo, task, pose=samples.pose())


def codes(result):
    return [
        one.code
        for one in (result.reasons if isinstance(result, Refusal) else result.inseam.warnings)
    ]


@pytest.mark.parametrize("aged", AGED)
@pytest.mark.parametrize(
    ("name", "taken_for", "truly"),
    [("letter_1", "a4", "Letter"), ("letter_2", "a4", "Letter"), ("a4_1", "letter", "A4")],
)
def test_paper_taken_for_the_other_is_a_question_that_names_both(name, taken_for, truly, aged):
    refusal = measured(name, taken_for, None, aged=aged)
    assert codes(refusal) == ["size_unsure"]
    assert f"looks like {truly}" in str(refusal)
    assert "21.6 cm" in refusal.remedies[0]
    assert "21.0 cm" in refusal.remedies[0]


@pytest.mark.parametrize("aged", AGED)
@pytest.mark.parametrize(
    ("name", "kind", "size"),
    [
        *(("door_1", "door", size) for size in ("1981mm", "2040mm", "2134mm")),
        *(("door_2", "door", size) for size in ("1981mm", "2032mm", "2134mm")),
        *(("wheel_1", "wheel", size) for size in ("50-507", "50-584", "40-559", "60-559")),
        *(("wheel_2", "wheel", size) for size in ("50-406", "50-559", "40-507", "60-507")),
    ],
)
def test_no_neighbour_misses_the_truth_in_silence(name, kind, size, aged):
    result = measured(name, kind, size, aged=aged)
    if isinstance(result, Refusal):
        assert codes(result) == ["size_unsure"]
        return
    low_mm, high_mm = result.inseam.interval95_mm
    assert low_mm <= samples.facts(name)["inseam_mm"] <= high_mm or "size_on_trust" in codes(result)


@pytest.mark.parametrize("aged", AGED)
def test_the_right_size_is_measured_and_the_rest_stands_in_the_budget(aged):
    for name in ("letter_1", "a4_1", "door_1", "wheel_1"):
        truth = samples.facts(name)
        result = measured(name, truth["reference"], truth["size"], aged=aged)
        assert not isinstance(result, Refusal), (name, str(result))
        sources = [line.source for line in result.inseam.length.budget]
        assert "which object it is" in sources


@pytest.mark.parametrize("name", ["letter_1", "sheet_1", "wheel_1"])
def test_the_pictures_own_corners_are_no_door(name):
    photo = samples.photo(name)
    right, low = photo.width_px - 1, photo.height_px - 1
    points = f"0,0 {right},0 {right},{low} 0,{low}"
    assert codes(measured(name, "door", None, points=points)) == ["points_on_border"]


def test_paper_clicked_on_the_shirt_is_a_question():
    body = samples.body("letter_1")
    x_px, y_px = body.points_px(("left_shoulder", "right_hip")).mean(axis=0)
    points = " ".join(
        f"{x_px + x:.0f},{y_px + y:.0f}" for x, y in ((-25, -32), (25, -32), (25, 32), (-25, 32))
    )
    assert codes(measured("letter_1", "letter", None, points=points)) == ["points_on_person"]
