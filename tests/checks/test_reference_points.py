"""Points that make no sense, on made-up pictures of one standing child."""

import cv2
import numpy as np
import pytest

from pose_fit.checks.reference_points import check_places, check_points
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photogrammetry.plane import solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.reference.from_points import (
    door_reference,
    length_reference,
    paper_reference,
    wheel_reference,
)

WIDTH_PX, HEIGHT_PX = 900, 1200


@pytest.fixture
def seen(photo_of, standing):
    """A photo and a child whose mask covers head to feet in the middle."""
    photo = photo_of(np.zeros((HEIGHT_PX, WIDTH_PX), np.uint8))
    body = standing(photo, hips_px=(450.0, 640.0), leg_px=400.0, scatter_px=1e-3)
    body.mask[150:1080, 360:540] = 1.0
    return photo, body


def corners(left, top, right, bottom):
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]], float)


@pytest.mark.parametrize(
    ("place", "code"),
    [
        (corners(560, 40, 880, 1090), None),
        (corners(0, 0, WIDTH_PX - 1, HEIGHT_PX - 1), "points_on_border"),
        (corners(600, 2, 800, 1000), "points_on_border"),
        (corners(600, 300, WIDTH_PX - 2, 1000), "points_on_border"),
        (corners(420, 420, 500, 520), "points_on_person"),
        (corners(450, 300, 800, 1000), "points_on_person"),
    ],
    ids=["beside", "the picture itself", "cut above", "cut aside", "on the shirt", "one corner"],
)
def test_points_are_where_such_an_object_can_be(photo_of, seen, place, code):
    _, body = seen
    drawn = np.full((HEIGHT_PX, WIDTH_PX), 150, np.uint8)
    cv2.fillConvexPoly(drawn, place.astype(np.int32), (120,))
    photo = photo_of(drawn)
    door = door_reference(photo, place, height_mm=None, placement="wall")
    refusal = check_points(photo, body, door)
    assert [one.code for one in refusal.reasons] == [code] if code else refusal is None


@pytest.mark.parametrize("loose", [0.0, 0.02, 0.05])
def test_the_outline_of_the_child_is_no_door(seen, loose):
    photo, body = seen
    dx, dy = 180 * loose, 930 * loose
    place = corners(360 - dx, 150 - dy, 540 + dx, 1080 + dy)
    door = door_reference(photo, place, height_mm=2032, placement="wall")
    refusal = check_points(photo, body, door)
    assert [one.code for one in refusal.reasons] == ["points_on_person"]


@pytest.mark.parametrize("loose", [0.04, 0.10, 0.14])
@pytest.mark.parametrize("texture", [0.0, 6.0, 20.0])
def test_a_loose_outline_of_the_child_is_no_door(photo_of, seen, loose, texture):
    """The child would be of a height that there is, but a door has sides."""
    _, body = seen
    wall = 150 + np.random.default_rng(3).normal(0, texture, (HEIGHT_PX, WIDTH_PX))
    dx, top, bottom = 180 * loose, 150 - 930 * loose, 1080 + 930 * loose
    place = corners(360 - dx, max(top, 20), 540 + dx, min(bottom, HEIGHT_PX - 20))
    photo = photo_of(np.clip(wall, 0, 255).astype(np.uint8))
    refusal = check_points(
        photo, body, door_reference(photo, place, height_mm=2032, placement="wall")
    )
    assert refusal is not None
    assert [one.code for one in refusal.reasons] == ["points_on_person"]


def test_a_loose_outline_on_a_striped_wall_is_no_door(photo_of, seen):
    """Stripes are edges along the sides; but no door behind the child reaches below its toes."""
    _, body = seen
    wall = np.where((np.arange(WIDTH_PX) // 12) % 2, 150, 120)[None].repeat(HEIGHT_PX, axis=0)
    photo = photo_of(wall.astype(np.uint8))
    place = corners(336, 60, 564, 1160)
    refusal = check_points(
        photo, body, door_reference(photo, place, height_mm=2032, placement="wall")
    )
    assert refusal is not None
    assert "toes" in refusal.reasons[0].message


@pytest.mark.parametrize("stature_mm", [900, 1200, 1500, 1800])
@pytest.mark.parametrize("shift_px", [0, 240], ids=["behind", "beside"])
def test_a_door_behind_a_child_of_any_height_is_a_door(photo_of, seen, stature_mm, shift_px):
    _, body = seen
    body.mask[:] = 0
    body.mask[1080 - round(930 * stature_mm / 2032) : 1080, 380:520] = 1.0
    # The wall stands behind the child, so that its foot is above the toes in the picture.
    place = corners(280 + shift_px, 110, 620 + shift_px, 1040)
    drawn = np.full((HEIGHT_PX, WIDTH_PX), 150, np.uint8)
    cv2.fillConvexPoly(drawn, place.astype(np.int32), (120,))
    photo = photo_of(drawn)
    door = door_reference(photo, place, height_mm=2032, placement="wall")
    assert check_points(photo, body, door) is None


def test_what_stands_beside_the_child_may_be_held_by_it(seen):
    photo, body = seen
    ends_px = np.array([[450.0, 300], [450, 900]])
    on_wall, beside = (
        length_reference(photo, ends_px, length_mm=900, placement=placement)
        for placement in ("wall", "beside")
    )
    assert check_points(photo, body, on_wall) is not None
    assert check_points(photo, body, beside) is None


@pytest.mark.parametrize(
    ("place", "is_refused"),
    [
        (corners(620, 700, 620 + 76, 700 + 98), False),
        (corners(560, 300, 560 + 300, 300 + 388), True),
        (corners(620, 700, 620 + 12, 700 + 15), True),
    ],
    ids=["from 2.5 m", "from 0.6 m", "from 16 m"],
)
def test_the_camera_is_where_somebody_can_hold_it(seen, place, is_refused):
    photo, body = seen
    paper = paper_reference(photo, place, paper="letter", placement="wall", found=False)
    stance = Stance(body.hips_px, body.ankles_px)
    plane = solve_plane(paper, camera_prior(photo), stance=stance)
    refusal = check_places(paper, plane, stance)
    assert (refusal is not None) == is_refused


def drawn_at(photo_of, place):
    drawn = np.full((HEIGHT_PX, WIDTH_PX), 150, np.uint8)
    cv2.fillConvexPoly(drawn, place.astype(np.int32), (120,))
    return photo_of(drawn)


@pytest.mark.parametrize(
    ("place", "code"),
    [
        (corners(560, 40, 880, 1090), None),
        (corners(600, 250, 800, 640), "reference_mismatch"),
        (corners(560, 150, 880, 600), "reference_mismatch"),
        (corners(560, 500, 885, 1090), "points_on_person"),
    ],
    ids=["door", "window", "wide window", "cupboard"],
)
def test_a_door_stands_on_the_floor_and_is_as_wide_as_doors_are(photo_of, seen, place, code):
    door = door_reference(drawn_at(photo_of, place), place, height_mm=2032, placement="wall")
    refusal = check_points(drawn_at(photo_of, place), seen[1], door)
    assert [one.code for one in refusal.reasons] == [code] if code else refusal is None


@pytest.mark.parametrize("kind", ["letter", "a4"])
def test_a_sheet_that_somebody_clicked_ends_where_the_corners_are(photo_of, seen, kind):
    place = corners(640, 400, 780, 600)
    photo, body = drawn_at(photo_of, place), seen[1]

    def refused(points_px):
        paper = paper_reference(photo, points_px, paper=kind, placement="wall", found=False)
        refusal = check_points(photo, body, paper)
        return None if refusal is None else [one.code for one in refusal.reasons]

    assert refused(place) is None
    assert refused(place + np.array([0.0, 300.0])) == ["reference_mismatch"]


@pytest.mark.parametrize(
    ("middle_y", "drawn_as", "code"),
    [
        (960, "wheel", None),
        (960, "nothing", "reference_mismatch"),
        (960, "hoop", "reference_mismatch"),
        (960, "ball", "reference_mismatch"),
        (300, "wheel", "reference_mismatch"),
    ],
    ids=["on the floor", "bare wall", "a hoop", "a ball", "on the wall"],
)
def test_a_wheel_stands_on_the_floor_and_is_one(photo_of, seen, middle_y, drawn_as, code):
    drawn = np.full((HEIGHT_PX, WIDTH_PX), 150, np.uint8)
    if drawn_as != "nothing":
        cv2.circle(drawn, (720, middle_y), 115, (40,), -1 if drawn_as == "ball" else 12)
    angles = np.linspace(0, 2 * np.pi, 9, endpoint=False)
    if drawn_as == "wheel":
        for angle in np.linspace(0, 2 * np.pi, 24, endpoint=False):
            end = (720 + 110 * np.cos(angle), middle_y + 110 * np.sin(angle))
            cv2.line(drawn, (720, middle_y), (round(end[0]), round(end[1])), (190,), 1)
        cv2.circle(drawn, (720, middle_y), 8, (60,), -1)
    photo = photo_of(drawn)
    rim_px = np.array([720, middle_y]) + 121 * np.column_stack([np.cos(angles), np.sin(angles)])
    wheel = wheel_reference(
        photo,
        rim_px,
        diameter_mm=500,
        width_mm=47,
        diameter_sd_mm=4,
        placement="beside",
        found=False,
    )
    refusal = check_points(photo, seen[1], wheel)
    assert [one.code for one in refusal.reasons] == [code] if code else refusal is None
