import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Body


def test_points_are_means_and_scatter_is_of_one_look():
    passes_px = np.zeros((4, len(LANDMARKS), 2))
    passes_px[:, LANDMARKS.index("left_knee"), 0] = [1.0, 2.0, 3.0, 6.0]
    body = Body(passes_px, np.ones(len(LANDMARKS)), np.zeros((2, 2), np.float32))
    np.testing.assert_allclose(body.point_px("left_knee"), [3.0, 0.0])
    # Sample standard deviation of 1, 2, 3, 6: root of 14 / 3.
    np.testing.assert_allclose(body.scatter_px("left_knee"), [np.sqrt(14 / 3), 0.0])


def test_the_leg_runs_from_between_the_hips_to_between_the_ankles(photo_of, standing):
    photo = photo_of(np.zeros((900, 700), np.uint8))
    body = standing(photo, hips_px=(350.0, 400.0), leg_px=300.0)
    np.testing.assert_allclose(body.hips_px, [350.0, 400.0])
    np.testing.assert_allclose(body.ankles_px, [350.0, 700.0])
    assert body.leg_px == pytest.approx(300.0)
    assert body.seen("nose") == pytest.approx(0.98)


def test_landmarks_of_another_shape_are_refused():
    with pytest.raises(ValueError, match="wanted passes of shape"):
        Body(np.zeros((3, 5, 2)), np.ones(5), np.zeros((2, 2), np.float32))
