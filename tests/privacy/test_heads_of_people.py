"""Heads found by their bodies, where no face is to be seen."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.photo.photo import Photo
from pose_fit.privacy.heads_of_people import heads_of_people
from pose_fit.privacy.hide_faces import faces_seen, shows_others, with_face_hidden
from tests import samples

#: Around the head that is painted over as under a helmet, in legs.
_HELMET = 0.22


@pytest.fixture(scope="module")
def child():
    return samples.photo("letter_1"), samples.body("letter_1")


def in_helmet(photo: Photo, body) -> tuple[np.ndarray, tuple[int, int], int]:
    """The pixels with a dark ball over the face, its middle and its radius."""
    pixels = photo.pixels.copy()
    x_px, y_px = (round(float(value)) for value in photo.working_px(body.point_px("nose")))
    radius_px = round(_HELMET * body.leg_px / photo.working_scale)
    rows, columns = np.ogrid[: pixels.shape[0], : pixels.shape[1]]
    pixels[np.hypot(columns - x_px, rows - y_px) < radius_px] = (60, 60, 70)
    return pixels, (x_px, y_px), radius_px


@pytest.mark.parametrize("nearer", [False, True])
def test_a_head_is_found_by_its_body_where_a_helmet_hides_the_face(child, nearer):
    photo, body = child
    pixels, middle_px, radius_px = in_helmet(photo, body)
    heads = heads_of_people(nearer=nearer).find(pixels)
    assert heads
    for head in heads:
        assert np.hypot(*np.subtract(head.centre_px, middle_px)) < radius_px


def test_a_second_child_in_a_helmet_is_hidden_by_its_body_alone(child):
    photo, body = child
    pixels, (x_px, y_px), _ = in_helmet(photo, body)
    width_px = pixels.shape[1]
    pair = replace(photo, pixels=np.ascontiguousarray(np.hstack([photo.pixels, pixels])))
    alone = replace(body, mask=np.hstack([body.mask, np.zeros_like(body.mask)]), bystanders=())
    heads = faces_seen(pair, alone, detectors=[heads_of_people(nearer=True)])
    hidden = with_face_hidden(pair, alone, faces=heads)
    around = np.s_[y_px - 6 : y_px + 7, width_px + x_px - 6 : width_px + x_px + 7]
    assert (hidden[around] != pair.pixels[around]).any(axis=2).all()


def test_a_body_beside_the_child_is_company_and_the_childs_own_is_none(child):
    photo, body = child
    pixels, _, _ = in_helmet(photo, body)
    pair = replace(photo, pixels=np.ascontiguousarray(np.hstack([photo.pixels, pixels])))
    beside = replace(body, mask=np.hstack([body.mask, np.zeros_like(body.mask)]), bystanders=())
    bodies = heads_of_people(nearer=True)
    alone = faces_seen(photo, body, detectors=(), bodies=bodies)
    assert alone == ()
    assert not shows_others(photo, body, alone)
    assert shows_others(pair, beside, faces_seen(pair, beside, detectors=(), bodies=bodies))
