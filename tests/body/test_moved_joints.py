import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Body
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.photo.photo import Photo


class Found:
    """A pose model that always answers the same."""

    def __init__(self, body: Body | None) -> None:
        self._body = body

    def find(self, photo: Photo) -> Body | None:
        return self._body


@pytest.fixture
def photo(photo_of):
    return photo_of(np.zeros((900, 700), np.uint8))


def test_a_moved_joint_is_where_it_was_put_and_scatters_as_before(photo, standing):
    body = standing(photo, hips_px=(350.0, 400.0), leg_px=300.0, scatter_px=2.0)
    moved = MovedJoints(Found(body), {"left_knee": (401.0, 555.5)}).find(photo)
    np.testing.assert_allclose(moved.point_px("left_knee"), [401.0, 555.5])
    np.testing.assert_allclose(moved.scatter_px("left_knee"), body.scatter_px("left_knee"))
    others = [mark for mark in LANDMARKS if mark != "left_knee"]
    np.testing.assert_array_equal(moved.points_px(tuple(others)), body.points_px(tuple(others)))


def test_what_the_model_found_stays_as_it_was(photo, standing):
    body = standing(photo, hips_px=(350.0, 400.0), leg_px=300.0)
    before = body.passes_px.copy()
    MovedJoints(Found(body), {"right_ankle": (10.0, 20.0)}).find(photo)
    np.testing.assert_array_equal(body.passes_px, before)


def test_nobody_stays_nobody(photo):
    assert MovedJoints(Found(None), {"left_knee": (1.0, 2.0)}).find(photo) is None
