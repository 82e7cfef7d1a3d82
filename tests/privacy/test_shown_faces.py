"""Faces of a picture shown small: the same ones as in full, wherever anybody could know them."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Bystander
from pose_fit.photo.photo import Photo
from pose_fit.privacy.faces import Face, find_faces
from pose_fit.privacy.hide_faces import face_detectors
from pose_fit.privacy.shown_faces import SHOWN_SIDE_PX, shown_faces
from tests import samples


def nearest(faces: tuple[Face, ...], wanted: Face) -> Face:
    return min(faces, key=lambda face: np.hypot(*np.subtract(face.centre_px, wanted.centre_px)))


@pytest.mark.parametrize("name", samples.NAMES[:4])
def test_the_childs_face_is_found_where_it_is_in_full(name):
    photo = samples.photo(name)
    in_full = max(find_faces(photo.pixels, face_detectors()), key=lambda face: face.score)
    shown = nearest(shown_faces(photo, samples.body(name)), in_full)
    assert shown.is_same(in_full)
    assert shown.score > 0.9
    assert np.hypot(*np.subtract(shown.centre_px, in_full.centre_px)) < 0.1 * in_full.width_px


def test_a_face_of_thirty_shown_pixels_is_found():
    """A spectator's: a tenth of what a child's face has beside a sheet."""
    photo = samples.photo(samples.NAMES[0])
    face = max(find_faces(photo.pixels, face_detectors()), key=lambda face: face.score)
    half = round(1.1 * face.width_px)
    x, y = (round(value) for value in face.centre_px)
    head = photo.pixels[max(y - half, 0) : y + half, max(x - half, 0) : x + half]
    height, width = photo.pixels.shape[:2]
    small_px = 30.0 * max(height, width) / SHOWN_SIDE_PX
    shrink = small_px / face.width_px
    small = cv2.resize(head, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
    wall = np.full_like(photo.pixels, 190)
    top, left = height // 3, width // 4
    wall[top : top + small.shape[0], left : left + small.shape[1]] = small
    found = shown_faces(replace(photo, pixels=wall), samples.body(samples.NAMES[0]))
    wanted = Face((left + small.shape[1] / 2, top + small.shape[0] / 2), small_px, 1.0)
    assert nearest(found, wanted).is_same(wanted)


def test_a_small_picture_is_looked_at_as_it_is(standing):
    class Seen:
        def find(self, pixels: np.ndarray) -> list[Face]:
            self.shape = pixels.shape
            return [Face((10.0, 20.0), 15.0, 0.8)]

    seen = Seen()
    small = Photo("small", np.zeros((400, 300, 3), np.uint8), 300, 400, None, False, None)
    body = standing(small, hips_px=(200.0, 200.0), leg_px=150.0)
    assert shown_faces(small, body, detectors=[seen]) == (Face((10.0, 20.0), 15.0, 0.8),)
    assert seen.shape == (400, 300, 3)


def test_in_company_small_pictures_are_looked_at_a_second_time_too(photo_of, standing, monkeypatch):
    photo = photo_of(np.zeros((1200, 900, 3), np.uint8), scale=1.5)

    class Says:
        def find(self, pixels: np.ndarray) -> list[Face]:
            return [Face((15.0, 20.0), 12.0, 0.55)]

    alone = standing(photo, hips_px=(675.0, 900.0), leg_px=400.0)
    other = standing(photo, hips_px=(1150.0, 900.0), leg_px=400.0)
    company = replace(alone, bystanders=(Bystander(other.points_px(LANDMARKS)),))
    for name, said in (("face_detectors", ()), ("company_detectors", (Says(),))):
        monkeypatch.setattr(f"pose_fit.privacy.hide_faces.{name}", lambda said=said: said)
    assert shown_faces(photo, alone) == ()
    (face,) = shown_faces(photo, company)
    shrink = max(photo.pixels.shape[:2]) / 767
    assert face.centre_px == pytest.approx((15.0 * shrink, 20.0 * shrink))
