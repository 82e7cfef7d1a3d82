"""Faces by several detectors: tiles that miss none, opinions that add up, and who is painted over."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pose_fit.body.body import LANDMARKS, Bystander
from pose_fit.privacy.faces import Face, find_faces, tiles
from pose_fit.privacy.hide_faces import (
    company_detectors,
    face_detectors,
    faces_seen,
    with_face_hidden,
)


class Says:
    """A detector that says this of any picture."""

    def __init__(self, *faces: Face) -> None:
        self._faces = list(faces)

    def find(self, pixels: np.ndarray) -> list[Face]:
        return self._faces


@given(
    height=st.integers(240, 700),
    width=st.integers(240, 700),
    part=st.sampled_from([1.0, 0.5, 0.25]),
    overlap=st.sampled_from([0.0, 0.3, 0.5]),
    place=st.tuples(st.floats(0, 1), st.floats(0, 1)),
)
def test_a_face_as_large_as_the_overlap_lies_whole_in_a_tile(height, width, part, overlap, place):
    pixels = np.zeros((height, width, 3), np.uint8)
    face_px = 0.9 * overlap * part * max(height, width)
    left, top = (place[0] * (width - face_px), place[1] * (height - face_px))
    assume(face_px <= min(height, width))
    assert any(
        tile.left_px <= left + 1
        and tile.top_px <= top + 1
        and left + face_px <= tile.left_px + tile.side_px + 1
        and top + face_px <= tile.top_px + tile.side_px + 1
        for tile in tiles(pixels, part=part, overlap=overlap, resized_px=16)
    )


def test_a_tile_shows_its_part_of_the_picture():
    pixels = np.zeros((400, 300, 3), np.uint8)
    pixels[100:200, 0:100] = 255
    shown = {
        (tile.left_px, tile.top_px): tile.pixels.mean()
        for tile in tiles(pixels, part=0.25, overlap=0.0, resized_px=50)
    }
    assert shown[0, 100] == 255
    assert shown[0, 200] == 0
    assert len(shown) == 12


def test_what_two_detectors_see_is_one_face_and_surer_than_what_one_sees_twice():
    near = Face((104.0, 98.0), 44.0, 0.7)
    once = find_faces(np.zeros((9, 9, 3), np.uint8), [Says(Face((100.0, 100.0), 40.0, 0.8), near)])
    both = find_faces(
        np.zeros((9, 9, 3), np.uint8), [Says(Face((100.0, 100.0), 40.0, 0.8)), Says(near)]
    )
    assert [face.score for face in once] == [0.8]
    assert [face.score for face in both] == pytest.approx([1 - 0.2 * 0.3])


def test_faces_side_by_side_stay_two():
    pair = Face((100.0, 100.0), 40.0, 0.8), Face((145.0, 100.0), 40.0, 0.8)
    assert len(find_faces(np.zeros((9, 9, 3), np.uint8), [Says(*pair)])) == 2


@pytest.fixture
def noise(photo_of):
    rng = np.random.default_rng(1)
    return photo_of(rng.integers(0, 255, (1200, 900, 3), np.uint8), scale=1.5)


@pytest.fixture
def body(noise, standing):
    return standing(noise, hips_px=(675.0, 900.0), leg_px=400.0)


def hidden_by(photo, body, *detectors, in_company=(), keep_px=None):
    faces = faces_seen(photo, body, detectors=detectors, in_company=in_company)
    return with_face_hidden(photo, body, keep_px=keep_px, faces=faces)


def is_hidden(photo, pixels, x_px, y_px):
    part = np.s_[y_px - 4 : y_px + 5, x_px - 4 : x_px + 5]
    return bool((pixels[part] != photo.pixels[part]).any(axis=2).mean() > 0.9)


def test_a_spectators_face_is_hidden_though_no_body_was_found(noise, body):
    hidden = hidden_by(noise, body, Says(Face((150.0, 200.0), 40.0, 0.7)))
    assert is_hidden(noise, hidden, 150, 200)
    # The hair too.
    assert is_hidden(noise, hidden, 150, 176)
    assert not is_hidden(noise, hidden, 220, 200)


@pytest.mark.parametrize("where", ["shin", "reference"])
def test_what_is_hardly_a_face_hides_nothing_that_is_measured(noise, body, where):
    reference_px = np.array([[1000.0, 800.0], [1150.0, 800.0], [1150.0, 1000.0], [1000.0, 1000.0]])
    place_px = body.point_px("left_knee") if where == "shin" else reference_px.mean(axis=0)
    x_px, y_px = (round(float(value)) for value in noise.working_px(place_px))
    for score, hides in ((0.7, False), (0.97, True)):
        face = Face((float(x_px), float(y_px)), 40.0, score)
        hidden = hidden_by(noise, body, Says(face), keep_px=reference_px)
        assert is_hidden(noise, hidden, x_px, y_px) == hides


def test_a_doubtful_find_counts_in_company_only(noise, body, standing):
    face = Face((150.0, 200.0), 40.0, 0.55)
    assert not is_hidden(noise, hidden_by(noise, body, Says(face)), 150, 200)
    other = standing(noise, hips_px=(1150.0, 900.0), leg_px=400.0)
    company = replace(body, bystanders=(Bystander(other.points_px(LANDMARKS)),))
    assert is_hidden(noise, hidden_by(noise, company, Says(face)), 150, 200)


def test_one_face_beside_the_childs_is_company_and_the_childs_own_found_twice_is_none(noise, body):
    x_px, y_px = (float(value) for value in noise.working_px(body.point_px("nose")))
    doubtful = Face((150.0, 200.0), 40.0, 0.55)
    own = Face((x_px, y_px), 30.0, 0.85), Face((x_px, y_px - 4.0), 90.0, 0.85)
    alone = hidden_by(noise, body, Says(*own, doubtful))
    assert not is_hidden(noise, alone, 150, 200)
    beside = Face((800.0, 200.0), 40.0, 0.85)
    company = hidden_by(noise, body, Says(beside, doubtful))
    assert is_hidden(noise, company, 150, 200)


def test_in_company_others_are_asked_too_and_a_child_alone_does_not_wait_for_them(noise, body):
    class Counts(Says):
        asked = 0

        def find(self, pixels):
            self.asked += 1
            return super().find(pixels)

    more = Counts(Face((150.0, 200.0), 40.0, 0.55))
    hidden_by(noise, body, Says(), in_company=[more])
    assert more.asked == 0
    beside = Says(Face((800.0, 200.0), 40.0, 0.85))
    hidden = hidden_by(noise, body, beside, in_company=[more])
    assert more.asked == 1
    assert is_hidden(noise, hidden, 150, 200)


def test_faces_that_are_known_are_hidden_without_a_look(noise, body, monkeypatch):
    faces = Face((150.0, 200.0), 40.0, 0.99), Face((800.0, 200.0), 40.0, 0.7)
    monkeypatch.setattr("pose_fit.privacy.hide_faces.find_faces", None)
    hidden = with_face_hidden(noise, body, faces=faces)
    assert is_hidden(noise, hidden, 150, 200)
    assert is_hidden(noise, hidden, 800, 200)


def test_the_detectors_find_nothing_on_a_plain_wall_and_are_shared():
    assert find_faces(np.full((480, 640, 3), 150, np.uint8), face_detectors()) == ()
    assert find_faces(np.full((480, 640, 3), 150, np.uint8), company_detectors()) == ()
    assert face_detectors() is face_detectors()
