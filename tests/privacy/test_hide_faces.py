from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Bystander
from pose_fit.privacy.hide_faces import with_face_hidden


@pytest.fixture
def noise(photo_of):
    rng = np.random.default_rng(1)
    return photo_of(rng.integers(0, 255, (1200, 900, 3), np.uint8), scale=1.5)


def hidden_part(noise, body):
    """What is painted over because of the bodies; that detectors are asked too is another test's."""
    return (with_face_hidden(noise, body, faces=()) != noise.pixels).any(axis=2)


def test_the_head_is_hidden_and_the_legs_are_not(noise, standing):
    body = standing(noise, hips_px=(675.0, 900.0), leg_px=400.0)
    changed = hidden_part(noise, body)
    for landmark in ("nose", "left_eye", "right_eye", "left_ear", "right_ear"):
        x_px, y_px = np.round(noise.working_px(body.point_px(landmark))).astype(int)
        assert changed[y_px - 3 : y_px + 4, x_px - 3 : x_px + 4].mean() > 0.9
    hips_row = round(float(noise.working_px(body.hips_px)[1]))
    assert not changed[hips_row:].any()
    # An adult's head is about a quarter of the trunk and head; a child's is larger.
    assert changed.mean() > 0.01


def test_what_is_left_of_the_face_tells_nobody_from_another(noise, standing):
    body = standing(noise, hips_px=(675.0, 900.0), leg_px=400.0)
    hidden = with_face_hidden(noise, body, faces=())
    changed = (hidden != noise.pixels).any(axis=2)
    # One colour and its rim.
    assert len(np.unique(hidden[changed], axis=0)) == 2


def test_the_photo_itself_stays_as_it_is(noise, standing):
    before = noise.pixels.copy()
    with_face_hidden(noise, standing(noise, hips_px=(675.0, 900.0), leg_px=400.0), faces=())
    np.testing.assert_array_equal(noise.pixels, before)


@pytest.mark.parametrize("hips_px", [(675.0, 430.0), (20.0, 900.0), (1340.0, 900.0)])
def test_a_head_at_the_edge_is_hidden_as_far_as_it_is_there(noise, standing, hips_px):
    changed = hidden_part(noise, standing(noise, hips_px=hips_px, leg_px=400.0))
    assert changed.any()


def test_a_head_outside_the_picture_changes_nothing(noise, standing):
    body = standing(noise, hips_px=(675.0, -900.0), leg_px=400.0)
    assert not hidden_part(noise, body).any()


def test_a_face_turned_away_is_hidden_by_the_width_of_the_shoulders(noise, standing):
    together = dict.fromkeys(("nose", "left_eye", "right_eye", "left_ear", "right_ear"), (0, -1.07))
    body = standing(noise, hips_px=(675.0, 900.0), leg_px=400.0, moved=together)
    changed = hidden_part(noise, body)
    # At least a disc of half the shoulders' width to each side.
    assert changed.sum() > np.pi * (0.5 * 0.44 * 400 / 1.5) ** 2


def test_bystanders_lose_their_heads_too_but_not_what_of_the_child_is_before_them(noise, standing):
    body = standing(noise, hips_px=(675.0, 900.0), leg_px=400.0)
    aside = standing(noise, hips_px=(1150.0, 900.0), leg_px=400.0)
    behind = standing(noise, hips_px=(675.0, 1300.0), leg_px=400.0)
    others = tuple(Bystander(other.points_px(LANDMARKS)) for other in (aside, behind))
    changed = hidden_part(noise, replace(body, bystanders=others))
    x_px, y_px = np.round(noise.working_px(aside.point_px("nose"))).astype(int)
    assert changed[y_px - 20 : y_px + 20, x_px - 20 : x_px + 20].mean() > 0.9
    x_px, y_px = np.round(noise.working_px(behind.point_px("nose"))).astype(int)
    assert body.mask[y_px, x_px] > 0.5
    assert not changed[y_px, x_px]
