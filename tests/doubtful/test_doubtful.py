"""Every doubtful picture gets its code, and no hopeless one a number."""

import pytest

from calibration.doubtful.cases import PICTURES, Case, look_at
from calibration.doubtful.every_case import BODIES, CASES, CONTROLS, FLAT, FRESH, HEELS
from calibration.doubtful.look_alikes.garments import GARMENTS
from calibration.doubtful.look_alikes.look_alike import LookAlike
from calibration.doubtful.look_alikes.papers import PAPERS
from calibration.doubtful.look_alikes.report import told_of
from pose_fit.body.mediapipe_pose import pose_model

PRINTS = [case for case in GARMENTS if "dress" in case.name]


@pytest.mark.parametrize("case", [*CASES, *FRESH, *HEELS, *BODIES], ids=lambda case: case.name)
def test_a_doubtful_picture_is_told_and_a_hopeless_one_gets_no_number(case: Case) -> None:
    told = look_at(case, pose_model())
    assert case.expected & set(told.codes)
    assert not (case.hopeless and told.inseam_mm is not None)


@pytest.mark.parametrize("case", [*CONTROLS, *FLAT], ids=lambda case: case.name)
def test_a_good_picture_is_measured(case: Case) -> None:
    told = look_at(case, pose_model())
    assert told.inseam_mm is not None
    assert not {"several_people", "picture_collage", "picture_screenshot"} & set(told.codes)


@pytest.mark.parametrize("case", PRINTS, ids=lambda case: case.name)
def test_a_print_on_a_dress_is_no_line_between_the_legs(case: LookAlike) -> None:
    codes, _ = told_of(case, pose_model())
    assert {"crotch_hidden", "two_answers"} & set(codes)


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("trousers that hide the shoes", "legs_hidden"),
        ("blanket held before the legs", "crotch_hidden"),
        ("letter on a stool", "paper_unsure"),
    ],
)
def test_hidden_feet_hidden_legs_and_a_stool_s_legs_are_told_of(name: str, code: str) -> None:
    case = next(case for case in (*GARMENTS, *PAPERS) if case.name == name)
    codes, _ = told_of(case, pose_model())
    assert code in codes


def test_there_are_as_many_as_promised() -> None:
    assert len(CASES) >= 60
    assert len({case.name for case in CASES}) == len(CASES)
    assert sum(file.stat().st_size for file in PICTURES.iterdir()) < 5.3e6
