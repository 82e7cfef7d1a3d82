"""Two heads at one trunk, made from sample pictures by copying one child's head beside another's."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from pose_fit.checks.second_head import (
    check_one_head,
    other_heads,
    smaller_heads_warnings,
)
from tests import samples


@pytest.fixture(scope="module")
def child():
    return samples.photo("sheet_1"), samples.body("sheet_1")


def with_second_head(photo, body, *, aside, size):
    """The head once more, so many legs to the right and of this size."""
    x_px, y_px = body.point_px("nose")
    reach = round(0.22 * body.leg_px)
    head = photo.pixels[
        round(y_px) - reach : round(y_px) + reach, round(x_px) - reach : round(x_px) + reach
    ]
    head = cv2.resize(head, None, fx=size, fy=size, interpolation=cv2.INTER_AREA)
    left = round(x_px + aside * body.leg_px - head.shape[1] / 2)
    top = round(y_px - head.shape[0] / 2)
    pixels = photo.pixels.copy()
    pixels[top : top + head.shape[0], left : left + head.shape[1]] = head
    return replace(photo, pixels=pixels)


def test_a_child_alone_has_one_head(child):
    heads = other_heads(*child)
    assert check_one_head(heads) is None
    assert smaller_heads_warnings(heads) == ()


def test_a_second_head_beside_the_first_is_somebody_elses(child):
    photo, body = child
    refusal = check_one_head(other_heads(with_second_head(photo, body, aside=0.42, size=1.0), body))
    assert refusal is not None
    assert refusal.reasons[0].code == "several_people"
    assert refusal.remedies


@pytest.mark.parametrize(
    ("aside", "size", "told"),
    [(0.42, 0.5, ["others_in_picture"]), (0.42, 0.2, []), (0.95, 1.0, [])],
    ids=["small", "tiny", "far aside"],
)
def test_a_picture_on_the_wall_is_no_second_child(child, aside, size, told):
    photo, body = child
    heads = other_heads(with_second_head(photo, body, aside=aside, size=size), body)
    assert check_one_head(heads) is None
    assert [notice.code for notice in smaller_heads_warnings(heads)] == told


def test_without_a_body_to_speak_of_nothing_is_said(photo_of, standing):
    photo = photo_of(np.full((600, 400), 120, np.uint8))
    heads = other_heads(photo, standing(photo, hips_px=(200.0, 300.0), leg_px=150.0))
    assert check_one_head(heads) is None
