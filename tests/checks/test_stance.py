"""Known heights of the ankles over the floor, in legs of half a metre."""

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Body
from pose_fit.checks.stance import (
    RAISED_HEELS,
    USUALLY_HIGH,
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


def reading(*, sd_mm: float = 15.0, apart: float = 0.0, **high_mm: float) -> PhotoReading:
    """Floors so much lower than the ankles put it."""
    floors = {"ankles": 0.0} | {name.replace("_", " "): high for name, high in high_mm.items()}
    return PhotoReading(
        UncertainLength(INSEAM_MM, (Contribution("posture", sd_mm),)),
        tuple(
            Reading("legs", floor, INSEAM_MM + high, 20.0, 1 / len(floors))
            for floor, high in floors.items()
        ),
        disagreement=0.0,
        floors_apart=apart,
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


@pytest.mark.parametrize(
    ("high_mm", "refused", "asked"),
    [
        (0.0, [], []),
        (15.0, [], []),
        (25.0, [], ["on_tiptoe"]),
        (40.0, ["on_tiptoe"], ["on_tiptoe"]),
    ],
)
def test_ankles_high_above_the_foot_of_the_wall(high_mm, refused, asked):
    assert codes(legs(), reading(wall_foot=high_mm)) == (refused, asked)


@pytest.mark.parametrize(
    ("floor", "high_mm", "refused"),
    [
        ("wall_foot", 5.0, []),
        ("wall_foot", 15.0, ["heels_unseen"]),
        # The toes say less, so that they have to say it more plainly.
        ("toes", USUALLY_HIGH["toes"] * 500 - 5, []),
        ("toes", USUALLY_HIGH["toes"] * 500 + 5, ["heels_unseen"]),
    ],
)
def test_heels_that_the_picture_leaves_open_need_somebody_who_speaks_for_them(
    floor, high_mm, refused
):
    seen = reading(**{floor: high_mm})
    assert codes(legs(), seen, heels_down=False) == (refused, [])
    assert codes(legs(), seen, heels_down=True) == ([], [])


def test_the_foot_of_the_wall_says_more_than_the_toes():
    assert codes(legs(), reading(wall_foot=0.0, toes=60.0)) == ([], [])
    assert codes(legs(), reading(wall_foot=40.0, toes=0.0))[0] == ["on_tiptoe"]


def test_a_foot_of_the_wall_far_above_the_toes_does_not_speak_for_the_heels():
    """It is that of heels off the wall, or the upper edge of a skirting board."""
    usual_mm = USUALLY_HIGH["toes"] * 500
    seen = {"wall_foot": -30.0, "toes": usual_mm + 5}
    assert codes(legs(), reading(**seen), heels_down=False)[0] == []
    assert codes(legs(), reading(apart=-3.0, **seen), heels_down=False)[0] == ["heels_unseen"]


def test_toes_count_from_where_standing_children_have_them():
    usual_mm = USUALLY_HIGH["toes"] * 500
    assert codes(legs(), reading(toes=usual_mm + 15)) == ([], [])
    assert codes(legs(), reading(toes=usual_mm + 25)) == ([], ["on_tiptoe"])


def test_long_thighs_with_high_ankles_are_bent_knees():
    assert codes(legs(thigh_mm=275, shank_mm=225), reading(wall_foot=45.0))[0] == ["leg_bent"]


def test_an_unsure_photo_says_nothing_of_the_heels():
    assert codes(legs(), reading(wall_foot=45.0, sd_mm=40.0)) == ([], [])
    assert codes(legs(), reading()) == ([], [])


def test_heels_that_are_asked_about_widen_the_interval_by_what_they_may_add():
    """Feet bent by half a right angle lift the body by 0.12 of the leg."""
    length = with_raised_heels(legs(), reading(wall_foot=25.0))
    assert length.mean_mm == INSEAM_MM
    assert COVERAGE_FACTOR_95 * length.sd_mm > 0.12 * 500
    assert length.largest.source == RAISED_HEELS
    assert length.largest.shared


def test_heels_on_the_floor_leave_the_interval_alone():
    level = reading(wall_foot=10.0)
    assert with_raised_heels(legs(), level) is level.length
