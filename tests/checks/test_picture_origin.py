import cv2
import numpy as np
import pytest

from pose_fit.checks.picture_origin import origin_of


def room(seed: int, width: int = 600, height: int = 800) -> np.ndarray:
    """A wall that is lit unevenly, a floor, and something on the wall."""
    rng = np.random.default_rng(seed)
    rows, columns = np.indices((height, width))
    light = 150 + 40 * rng.random() + 0.05 * columns + 0.03 * rows
    light[int(0.7 * height) :] -= 60
    light[200:400, 150:300] -= 50
    return np.clip(light + rng.normal(0, 2, light.shape), 0, 255).astype(np.uint8)


def codes(photo) -> list[str]:
    return [notice.code for notice in origin_of(photo).notices]


def test_a_picture_of_a_room_is_taken_for_one(photo_of):
    assert codes(photo_of(room(1))) == []


def test_a_wall_that_meets_the_floor_level_is_no_seam(photo_of):
    level = room(2)
    level[560:] = 90
    assert codes(photo_of(level)) == []


def test_a_door_frame_down_to_the_floor_is_no_seam(photo_of):
    doored = room(3)
    doored[: int(0.7 * 800), 400:] -= 30
    assert codes(photo_of(doored)) == []


@pytest.mark.parametrize("level", [0, 255])
def test_bars_above_and_below_are_told(photo_of, level):
    framed = cv2.copyMakeBorder(room(4), 60, 60, 0, 0, cv2.BORDER_CONSTANT, value=(level,))
    assert codes(photo_of(framed)) == ["picture_screenshot"]


def test_the_shape_of_a_screen_without_a_lens_is_told(photo_of):
    assert codes(photo_of(room(5, 400, 860), focal_35mm=None)) == ["picture_screenshot"]
    assert codes(photo_of(room(5, 400, 860))) == []


def test_the_seam_between_two_pictures_is_found_where_it_is(photo_of):
    darker = (room(7) * 0.7).astype(np.uint8)
    origin = origin_of(photo_of(np.hstack([room(6), darker])))
    assert origin.seams == pytest.approx([0.5], abs=0.005)
    assert [notice.code for notice in origin.notices] == ["picture_collage"]
