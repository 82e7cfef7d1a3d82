from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS
from pose_fit.checks.posture import check_posture, posture_warnings, stands_staggered

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


def test_a_slightly_bent_knee_warns(posed):
    _, straight = posed()
    assert posture_warnings(straight) == ()
    _, bent = posed({"left_knee": (0.27, 0.52)})
    assert "knees_bent" in [notice.code for notice in posture_warnings(bent)]


@pytest.mark.parametrize(
    ("moved", "is_staggered"),
    [
        ({"left_knee": (0.13, 0.55), "left_ankle": (0.14, 1.07)}, True),
        ({"left_knee": (0.13, 0.60), "left_ankle": (0.14, 1.07)}, False),
        ({"left_knee": (0.13, 0.55), "left_ankle": (0.14, 1.07), "left_heel": (0.14, 1.10)}, False),
    ],
    ids=["nearer the camera", "knee bent", "heel raised"],
)
def test_a_foot_that_is_only_nearer_the_camera_is_told_from_a_bent_leg(posed, moved, is_staggered):
    low = {"left_heel": (0.14, 1.15), "left_toe": (0.18, 1.20)}
    _, body = posed(low | moved)
    assert stands_staggered(body) == is_staggered


def bent_m(knees_deg):
    """(L, 3) metres of a body in space whose knees are bent by this angle, trunk and thighs upright."""
    away = np.radians(knees_deg)
    world_m = np.zeros((len(LANDMARKS), 3))
    for side, x in (("left", 0.1), ("right", -0.1)):
        knee = np.array([x, 0.4, 0.0])
        ankle = knee + 0.4 * np.array([0.0, np.cos(away), np.sin(away)])
        places = {"shoulder": (x, -0.4, 0.0), "hip": (x, 0.0, 0.0), "knee": knee, "ankle": ankle}
        for joint, place in places.items():
            world_m[LANDMARKS.index(f"{side}_{joint}")] = place
    return world_m


@pytest.mark.parametrize(("knees_deg", "code"), [(30, None), (110, "sitting")])
def test_short_shanks_are_a_view_from_above_unless_the_knees_are_bent(posed, knees_deg, code):
    photo, body = posed(
        {f"{side}_knee": (x, 0.65) for side, x in (("left", 0.13), ("right", -0.13))}
    )
    refusal = check_posture(photo, replace(body, world_m=bent_m(knees_deg)))
    assert (refusal.reasons[0].code if refusal is not None else None) == code
