from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS
from pose_fit.checks.posture import check_posture, posture_warnings
from pose_fit.inseam.photo_equation import LegGeometry

SIZE_PX = (900, 1200)
HIPS_PX, LEG_PX = (450.0, 640.0), 400.0


@pytest.fixture
def posed(photo_of, standing):
    """A photo and a child whose landmarks lie elsewhere than when standing, in leg lengths."""

    def make(moved=None, **options):
        photo = photo_of(np.zeros(SIZE_PX[::-1], np.uint8))
        settings = {"hips_px": HIPS_PX, "leg_px": LEG_PX, "scatter_px": 1e-3} | options
        return photo, standing(photo, moved=moved, **settings)

    return make


@pytest.mark.parametrize(
    "moved",
    [
        {},
        {"left_ankle": (0.3, 0.98), "right_ankle": (-0.3, 0.98)}
        | {"left_knee": (0.21, 0.5), "right_knee": (-0.21, 0.5)},
        {"left_knee": (0.17, 0.52)},
    ],
    ids=["feet a hand apart", "feet wide", "a knee slightly out"],
)
def test_a_standing_child_is_measured(posed, moved):
    photo, body = posed(moved)
    assert check_posture(photo, body) is None


SITTING = {"left_knee": (0.25, 0.2), "right_knee": (-0.25, 0.2)} | {
    "left_ankle": (0.25, 0.75),
    "right_ankle": (-0.25, 0.75),
}
SIDEWAYS = {"left_shoulder": (0.05, -0.75), "right_shoulder": (-0.05, -0.75)}
FROM_BEHIND = {
    "left_shoulder": (-0.22, -0.75),
    "right_shoulder": (0.22, -0.75),
    "left_hip": (-0.12, 0.0),
    "right_hip": (0.12, 0.0),
    "left_knee": (-0.13, 0.52),
    "right_knee": (0.13, 0.52),
    "left_ankle": (-0.14, 1.0),
    "right_ankle": (0.14, 1.0),
}
KNEE_OUT = {"left_knee": (0.36, 0.45)}
RAISED = {"left_knee": (0.3, 0.35), "left_ankle": (0.14, 0.62)}
#: Walking towards the camera: the shank behind points at it, and looks short.
FOOT_IN_THE_AIR = {"left_knee": (0.12, 0.54), "left_ankle": (0.11, 0.90), "left_toe": (0.11, 1.08)}
STRIDE = {"left_ankle": (0.62, 0.8), "right_ankle": (-0.62, 0.8)} | {
    "left_knee": (0.37, 0.4),
    "right_knee": (-0.37, 0.4),
}
LYING = {
    mark: (y, x) for mark, (x, y) in {"left_ankle": (0.1, 1.0), "right_ankle": (-0.1, 1.0)}.items()
}


@pytest.mark.parametrize(
    ("moved", "code"),
    [
        (SITTING, "sitting"),
        (SIDEWAYS, "side_view"),
        (FROM_BEHIND, "back_view"),
        (KNEE_OUT, "leg_bent"),
        (RAISED, "leg_raised"),
        (FOOT_IN_THE_AIR, "leg_raised"),
        (STRIDE, "stride"),
        (LYING, "not_upright"),
    ],
)
def test_a_posture_that_cannot_be_measured_is_told(posed, moved, code):
    photo, body = posed(moved)
    refusal = check_posture(photo, body)
    assert refusal is not None
    assert [reason.code for reason in refusal.reasons] == [code]
    assert refusal.remedies


@pytest.mark.parametrize(
    ("options", "code"),
    [
        ({"hips_px": (450.0, 780.0)}, "feet_out_of_frame"),
        ({"hips_px": (880.0, 640.0)}, "hips_out_of_frame"),
        ({"leg_px": 90.0}, "child_too_small"),
        ({"visibility": 0.3}, "legs_hidden"),
    ],
)
def test_a_child_that_is_not_all_there_is_told(posed, options, code):
    photo, body = posed(**options)
    refusal = check_posture(photo, body)
    assert refusal is not None
    assert code in [reason.code for reason in refusal.reasons]


def test_pixels_that_the_file_made_up_do_not_make_a_child_larger(photo_of, standing):
    """A working pixel counts, of which a large file has no more."""
    photo = photo_of(np.zeros(SIZE_PX[::-1], np.uint8), scale=4.0)
    body = standing(photo, hips_px=(1800.0, 2000.0), leg_px=4 * 90.0)
    refusal = check_posture(photo, body)
    assert refusal is not None
    assert refusal.reasons[0].code == "child_too_small"


def legs(thigh_over_shank: float = 1.06) -> LegGeometry:
    sides = np.array([[-60.0, 0, 0], [60.0, 0, 0]])
    down = np.array([0.0, 1.0, 0.0])
    thigh_mm = 500 * thigh_over_shank / (1 + thigh_over_shank)
    return LegGeometry(sides, sides + thigh_mm * down, sides + 500.0 * down, 500.0, 500.0, down)


def test_a_slightly_bent_knee_warns(posed):
    _, straight = posed()
    assert posture_warnings(straight, legs()) == ()
    _, bent = posed({"left_knee": (0.27, 0.52)})
    assert [notice.code for notice in posture_warnings(bent, legs())] == ["knees_bent"]


@pytest.mark.parametrize(
    ("thigh_over_shank", "bend_deg", "told"),
    [(1.06, 24, False), (1.06, 45, True), (1.15, 20, False), (1.15, 33, True), (1.3, 26, True)],
)
def test_knees_that_come_forward_show_in_the_picture_and_in_space(
    posed, thigh_over_shank, bend_deg, told
):
    """Neither long thighs nor the pose model's guess in space says it alone."""
    _, body = posed()
    world_m = np.zeros((len(LANDMARKS), 3))
    half = np.radians(bend_deg / 2)
    for x, side in ((0.1, "left"), (-0.1, "right")):
        hip, knee, ankle = (
            LANDMARKS.index(f"{side}_{joint}") for joint in ("hip", "knee", "ankle")
        )
        world_m[knee] = x, 0.25 * np.cos(half), -0.25 * np.sin(half)
        world_m[hip], world_m[ankle] = (x, 0, 0), (x, 0.5 * np.cos(half), 0)
    warnings = posture_warnings(replace(body, world_m=world_m), legs(thigh_over_shank))
    assert [notice.code for notice in warnings] == ["knees_bent"] * told
