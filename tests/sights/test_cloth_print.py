"""One line between the legs, or one of many: told apart in pictures drawn by numbers."""

import cv2
import numpy as np
import pytest

from pose_fit.sights.candidates import CrotchCandidate
from pose_fit.sights.cloth_print import is_one_of_many, may_be_before_both_legs

HIPS_PX, LEG_PX = (450.0, 400.0), 500.0


def trousers(rng):
    """Plain cloth with one dark crease."""
    pixels = np.full((1200, 900, 3), 150, np.uint8)
    pixels[:, 444:456] = 40
    return pixels


def pleats(rng):
    """A crease as dark as that every 40 pixels."""
    pixels = np.full((1200, 900, 3), 150, np.uint8)
    for column in range(10, 900, 40):
        pixels[:, column - 6 : column + 6] = 40
    return pixels


def spots(rng):
    noise = cv2.GaussianBlur(rng.normal(size=(1200, 900, 3)), (0, 0), 5)
    return np.clip(128 + 60 * noise / noise.std(), 0, 255).astype(np.uint8)


def check(rng):
    """A faint check behind a dark crease."""
    pixels = trousers(rng)
    pixels[:, 5::40] -= 12
    pixels[5::40] -= 12
    return pixels


@pytest.mark.parametrize(
    ("cloth", "is_print"),
    [(trousers, False), (check, False), (pleats, True), (spots, True)],
    ids=["trousers", "faint check", "pleats", "spots"],
)
def test_a_line_that_has_its_like_on_both_sides_is_none(photo_of, standing, cloth, is_print):
    photo = photo_of(cloth(np.random.default_rng(1)))
    body = standing(photo, hips_px=HIPS_PX, leg_px=LEG_PX)
    body.mask[:] = 1
    assert is_one_of_many(photo, body, np.array([450.0, 440.0])) == is_print


def test_a_gap_through_which_the_wall_is_seen_is_a_line(photo_of, standing):
    photo = photo_of(spots(np.random.default_rng(2)))
    body = standing(photo, hips_px=HIPS_PX, leg_px=LEG_PX)
    body.mask[:] = 1
    body.mask[:, 440:460] = 0
    assert not is_one_of_many(photo, body, np.array([450.0, 440.0]))


@pytest.mark.parametrize(
    ("kinds", "gap_from_px", "hides"),
    [
        (("hem",), None, True),
        (("hem",), 560.0, False),
        (("hem", "line"), None, False),
        ((), None, False),
    ],
    ids=["one shape to the shanks", "a gap from the thighs down", "a line ends below", "no line"],
)
def test_a_line_up_to_a_hem_says_nothing_where_legs_are_one_shape(
    photo_of, standing, kinds, gap_from_px, hides
):
    photo = photo_of(trousers(np.random.default_rng(1)))
    body = standing(photo, hips_px=HIPS_PX, leg_px=LEG_PX)
    body.mask[:] = 1
    if gap_from_px is not None:
        body.mask[round(gap_from_px) :, 440:460] = 0
    ends = tuple(CrotchCandidate(np.array([450.0, 440.0]), 3.0, 0.5, kind) for kind in kinds)
    assert may_be_before_both_legs(photo, body, ends) == hides
