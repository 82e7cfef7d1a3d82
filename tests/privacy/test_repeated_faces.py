"""Faces that no single look is sure of: known sums, and a child's face dimmed, blurred and turned."""

import cv2
import numpy as np
import pytest

from pose_fit.privacy.faces import Face, find_faces
from pose_fit.privacy.hide_faces import face_detectors
from pose_fit.privacy.mediapipe_faces import MediaPipeFaces, mediapipe_faces
from pose_fit.privacy.repeated_faces import repeated_faces, seen_repeatedly
from tests import samples


def test_looks_add_up_by_their_surest_find_each():
    face = Face((100.0, 100.0), 40.0, 0.4)
    near = Face((104.0, 98.0), 44.0, 0.3)
    # Four looks of 0.4: 1.6.
    (found,) = seen_repeatedly([[face, near]] * 4)
    assert (found.centre_px, found.width_px) == (face.centre_px, face.width_px)
    # What one look sees twice counts once: 1.2.
    assert seen_repeatedly([[face, near]] * 3) == []
    assert seen_repeatedly([[face, near, face, near]]) == []


def test_finds_at_different_places_or_of_different_sizes_do_not_add_up():
    looks = [[Face((100.0 + 60.0 * place, 100.0), 40.0, 0.4)] for place in range(8)]
    assert seen_repeatedly(looks) == []
    sizes = [[Face((100.0, 100.0), 20.0 * 3.0**step, 0.45)] for step in range(4)]
    assert seen_repeatedly(sizes) == []


def test_a_repeated_find_is_never_sure_enough_to_hide_what_is_measured():
    face = Face((100.0, 100.0), 40.0, 0.9)
    (found,) = seen_repeatedly([[face]] * 18)
    assert found.score < 0.95


@pytest.fixture(scope="module")
def head():
    """A sample's head and shoulders, its middle, and the width of its face."""
    photo, body = samples.photo("letter_1"), samples.body("letter_1")
    x_px, y_px = (round(float(value)) for value in photo.working_px(body.point_px("nose")))
    half_px = round(0.35 * body.leg_px / photo.working_scale)
    top, left = max(y_px - half_px, 0), x_px - half_px
    part = photo.pixels[top : y_px + half_px, left : x_px + half_px]
    return part, (x_px - left, y_px - top), half_px


def on_a_wall(head: np.ndarray, *, left: int, top: int, width: int, bright: float) -> np.ndarray:
    """The head, so wide, on a wall of 900 x 1200 pixels."""
    shrink = width / head.shape[1]
    small = cv2.resize(head, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
    wall = np.full((1200, 900, 3), 170, np.uint8)
    wall[top : top + small.shape[0], left : left + small.shape[1]] = small
    return np.asarray(np.clip(bright * wall, 0, 255), np.uint8)


def test_a_face_found_in_the_mirror_is_told_where_it_is(head):
    part, middle_px, _ = head
    pixels = on_a_wall(part, left=80, top=500, width=part.shape[1], bright=1.0)
    wanted = np.add(middle_px, (80, 500))
    mirrored = repeated_faces()._in_mirror(pixels)
    surest = max((face for look in mirrored for face in look), key=lambda face: face.score)
    assert np.hypot(*np.subtract(surest.centre_px, wanted)) < surest.width_px


def test_a_spectators_face_in_the_dark_that_single_looks_miss_is_found_by_many(head):
    part, middle_px, _ = head
    turned = cv2.warpAffine(
        part,
        cv2.getRotationMatrix2D((part.shape[1] / 2, part.shape[0] / 2), 35.0, 1.0),
        (part.shape[1], part.shape[0]),
        borderMode=cv2.BORDER_REPLICATE,
    )
    pixels = on_a_wall(
        cv2.GaussianBlur(turned, (0, 0), 6.0), left=600, top=300, width=70, bright=0.08
    )
    shrink = 70 / part.shape[1]
    wanted = Face((600 + shrink * middle_px[0], 300 + shrink * middle_px[1]), 0.4 * 70, 1.0)
    assert not any(face.is_same(wanted) for face in find_faces(pixels, face_detectors()))
    assert any(face.is_same(wanted) for face in repeated_faces().find(pixels))


def test_nothing_is_found_on_a_wall_and_hardly_anything_in_noise():
    assert repeated_faces().find(np.full((480, 640, 3), 150, np.uint8)) == []
    noise = np.random.default_rng(3).integers(0, 255, (480, 640, 3), np.uint8)
    assert len(repeated_faces().find(noise)) <= 1


def test_a_lower_score_finds_more_and_the_usual_one_is_kept(head):
    """The vendor's own way of asking for another score is ignored by its library."""
    part, _, _ = head
    pixels = on_a_wall(part, left=80, top=500, width=part.shape[1], bright=1.0)
    usual = mediapipe_faces("full").find(pixels)
    grids = [(1.0, 0.0), (0.5, 0.3), (0.25, 0.3), (0.125, 0.2)]
    low = MediaPipeFaces("full", grids, least_score=0.2).find(pixels)
    assert all(face.score >= 0.6 for face in usual)
    assert all(any(face.is_same(one) for one in low) for face in usual)
    assert any(face.score < 0.5 for face in low)
