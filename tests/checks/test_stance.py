"""Known heights of the ankles over the floor, in legs of half a metre."""

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Body
from pose_fit.checks.stance import (
    ASK_ODDS,
    RAISED_HEELS,
    USUALLY_HIGH,
    WARN_ODDS,
    check_stance,
    stance_warnings,
    with_raised_heels,
)
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.inseam.photo_reading import PhotoReading, Reading
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, Contribution, UncertainLength
from pose_fit.photogrammetry.plane import PlaneScale

THIGH_MM, SHANK_MM = 250.0, 250.0
INSEAM_MM = 520.0


def legs(*, thigh_mm: float = THIGH_MM, shank_mm: float = SHANK_MM) -> LegGeometry:
    sides = np.array([[-60.0, 0, 0], [60.0, 0, 0]])
    down = np.array([0.0, 1.0, 0.0])
    return LegGeometry(
        sides,
        sides + thigh_mm * down,
        sides + (thigh_mm + shank_mm) * down,
        thigh_mm + shank_mm,
        thigh_mm + shank_mm,
        down,
    )


def reading(*, sd_mm: float = 15.0, odds: float = 0.1, **high_mm: float) -> PhotoReading:
    """Floors so much lower than the ankles put it; a child on tiptoe so much likelier."""
    floors = {"ankles": 0.0} | {name.replace("_", " "): high for name, high in high_mm.items()}
    return PhotoReading(
        UncertainLength(INSEAM_MM, (Contribution("posture", sd_mm),)),
        tuple(
            Reading("legs", floor, INSEAM_MM + high, 20.0, 1 / len(floors))
            for floor, high in floors.items()
        ),
        hypotheses=(),
        interval95_mm=(INSEAM_MM - 30, INSEAM_MM + 30),
        disagreement=0.0,
        raised_odds=odds,
    )


def straight_view() -> PlaneScale:
    return PlaneScale(np.zeros(12), np.zeros((12, 0)), (), 1.0)


def codes(
    legs: LegGeometry, reading: PhotoReading, *, heels_down: bool = True
) -> tuple[list[str], list[str]]:
    """Why it is refused, and what is warned of."""
    body = Body(np.zeros((2, len(LANDMARKS), 2)), np.ones(len(LANDMARKS)), np.zeros((4, 4)))
    refusal = check_stance(body, straight_view(), legs, reading, heels_down=heels_down)
    asked = [notice.code for notice in stance_warnings(legs, reading)]
    return ([] if refusal is None else [reason.code for reason in refusal.reasons]), asked


@pytest.mark.parametrize(("high_mm", "refused"), [(0.0, []), (25.0, []), (48.0, ["on_tiptoe"])])
def test_ankles_high_above_the_wall_base_are_refused_whatever_is_said(high_mm, refused):
    assert codes(legs(), reading(wall_base=high_mm)) == (refused, [])


@pytest.mark.parametrize(
    ("odds", "refused", "asked"),
    [
        (0.1, [], []),
        (0.9 * ASK_ODDS, [], []),
        (1.1 * ASK_ODDS, ["heels_unseen"], []),
        (1.1 * WARN_ODDS, ["heels_unseen"], ["on_tiptoe"]),
    ],
)
def test_heels_that_the_picture_leaves_open_need_somebody_who_speaks_for_them(odds, refused, asked):
    seen = reading(wall_base=10.0, odds=odds)
    assert codes(legs(), seen, heels_down=False) == (refused, asked)
    assert codes(legs(), seen, heels_down=True) == ([], asked)


def test_the_wall_base_says_more_than_the_toes():
    assert codes(legs(), reading(wall_base=0.0, toes=60.0)) == ([], [])
    assert codes(legs(), reading(wall_base=50.0, toes=0.0))[0] == ["on_tiptoe"]


def test_toes_count_from_where_standing_children_have_them():
    usual_mm = USUALLY_HIGH["toes"] * 500
    assert codes(legs(), reading(toes=usual_mm + 33)) == ([], [])
    assert codes(legs(), reading(toes=usual_mm + 37))[0] == ["on_tiptoe"]


def test_long_thighs_with_high_ankles_are_bent_knees():
    assert codes(legs(thigh_mm=275, shank_mm=225), reading(wall_base=50.0))[0] == ["leg_bent"]


def test_an_unsure_photo_says_nothing_of_the_heels():
    unsure = reading(wall_base=50.0, sd_mm=40.0, odds=2.0)
    assert codes(legs(), unsure, heels_down=False) == ([], [])
    assert codes(legs(), reading(), heels_down=False) == ([], [])


def test_floors_that_contradict_the_ankles_are_asked_about_however_unsure_they_leave_it():
    torn = reading(wall_base=50.0, sd_mm=40.0, odds=2 * WARN_ODDS)
    assert codes(legs(), torn, heels_down=False) == (["heels_unseen"], [])


def test_heels_that_are_doubtful_widen_the_interval_by_what_they_may_add():
    """Feet bent by half a right angle lift the body by 0.12 of the leg."""
    length = with_raised_heels(legs(), reading(wall_base=25.0, odds=2 * WARN_ODDS))
    assert length.mean_mm == INSEAM_MM
    assert COVERAGE_FACTOR_95 * length.sd_mm > 0.12 * 500
    assert length.largest.source == RAISED_HEELS
    assert length.largest.shared


def test_heels_on_the_floor_leave_the_interval_alone():
    level = reading(wall_base=10.0)
    assert with_raised_heels(legs(), level) is level.length


def staggered(*, foot_down: float) -> tuple[Body, LegGeometry]:
    """One foot a step nearer the camera: that leg looks longer, all of it, or only its shank."""
    places = {f"{side}_hip": (x, 0.0) for side, x in (("left", 60.0), ("right", -60.0))}
    for side, x, longer in (("left", 60.0, 1.09), ("right", -60.0, 1.0)):
        places[f"{side}_knee"] = (x, 250.0 * longer)
        places[f"{side}_ankle"] = (x, 500.0 * longer)
        places[f"{side}_heel"] = (x, 530.0 * longer)
        slope = foot_down if side == "left" else 40.0
        places[f"{side}_toe"] = (x, 530.0 * longer + slope)
    points = np.array([places.get(mark, (0.0, -300.0)) for mark in LANDMARKS])
    body = Body(np.stack([points, points]), np.ones(len(LANDMARKS)), np.zeros((4, 4)))
    sides = np.array([[60.0, 0, 0], [-60.0, 0, 0]])
    down = np.array([0.0, 1.0, 0.0])
    ankles = sides + np.outer([545.0, 500.0], down)
    return body, LegGeometry(sides, sides + 250 * down, ankles, 500.0, 500.0, down)


@pytest.mark.parametrize(("foot_down", "code"), [(42.0, None), (90.0, "leg_bent")])
def test_one_foot_nearer_the_camera_is_no_bent_leg_but_is_told(foot_down, code):
    body, uneven = staggered(foot_down=foot_down)
    seen = reading(wall_foot=0.0)
    refusal = check_stance(body, straight_view(), uneven, seen, heels_down=True)
    assert (None if refusal is None else refusal.reasons[0].code) == code
    assert [notice.code for notice in stance_warnings(uneven, seen)] == ["feet_staggered"]
