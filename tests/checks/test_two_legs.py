import numpy as np
import pytest

from pose_fit.checks.two_legs import two_legs_warnings

SIZE_PX = (900, 1200)
HIPS_PX, LEG_PX = (450.0, 640.0), 400.0


@pytest.fixture
def posed(photo_of, standing):
    """A photo and a child whose landmarks lie elsewhere than when standing, in leg lengths."""

    def make(moved=None):
        photo = photo_of(np.zeros(SIZE_PX[::-1], np.uint8))
        body = standing(photo, moved=moved, hips_px=HIPS_PX, leg_px=LEG_PX, scatter_px=1e-3)
        body.mask[:] = 0
        return photo, body

    return make


@pytest.mark.parametrize(
    ("moved", "code"),
    [
        ({}, None),
        ({"left_ankle": (0.3, 0.98), "left_knee": (0.21, 0.5)}, None),
        # The shank of a foot in the air is seen from its end.
        ({"left_knee": (0.13, 0.56), "left_ankle": (0.14, 0.97)}, "legs_unlike"),
        ({"left_knee": (0.13, 0.57), "left_ankle": (0.14, 1.16)}, "legs_unlike"),
        (
            {"left_ankle": (0.05, 1.02), "right_ankle": (-0.05, 0.98)}
            | {"left_knee": (0.08, 0.53), "right_knee": (-0.08, 0.51)},
            "feet_staggered",
        ),
        ({"left_ankle": (0.05, 1.0), "right_ankle": (-0.05, 1.0)}, None),
        # A soft knee turns out of the line from hip to ankle; bow legs do so alike.
        ({"left_knee": (0.17, 0.52)}, "legs_unlike"),
        ({"left_knee": (0.17, 0.52), "right_knee": (-0.17, 0.52)}, None),
    ],
    ids=[
        "standing",
        "a step aside",
        "shank short",
        "leg long",
        "on a line",
        "feet together",
        "one knee out",
        "bow legs",
    ],
)
def test_legs_that_do_not_stand_alike_are_told(posed, moved, code):
    told = [notice.code for notice in two_legs_warnings(*posed(moved))]
    assert told == ([] if code is None else [code])


def test_a_third_lower_leg_is_told(posed):
    photo, body = posed()
    for x in (0.14, -0.14, 0.45):
        column = round(HIPS_PX[0] + x * LEG_PX)
        body.mask[:, column - 15 : column + 15] = 1
    assert [notice.code for notice in two_legs_warnings(photo, body)] == ["others_in_picture"]
    body.mask[:, round(HIPS_PX[0] + 0.3 * LEG_PX) :] = 0
    assert two_legs_warnings(photo, body) == ()
