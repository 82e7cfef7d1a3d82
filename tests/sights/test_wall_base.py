"""The foot of the wall in drawn pictures whose floor is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PARAMETER_COUNT, PlaneScale, project
from pose_fit.sights.wall_base import SKIRTING_DEPTH_MM, find_wall_foot
from tests.drawn import photo_of, standing_body

WIDTH_PX, HEIGHT_PX = 900, 1200
FLOOR_MM = 700.0
WALL, FLOOR = (196, 190, 180), (150, 128, 104)
OUTLINE_PX = np.array([[20.0, 20.0], [60.0, 20.0], [60.0, 60.0], [20.0, 60.0]])


def plane() -> PlaneScale:
    """A level camera 2.5 m before the wall; the plane's origin lies straight ahead."""
    parameters = np.zeros(PARAMETER_COUNT)
    parameters[3:6] = 0.0, 0.0, 2500.0
    parameters[6:9] = np.log(1100.0), (WIDTH_PX - 1) / 2, (HEIGHT_PX - 1) / 2
    return PlaneScale(parameters, np.zeros((PARAMETER_COUNT, 1)), ("reference points",), 1.0)


def height_px(y_mm: float) -> float:
    place_mm = np.array([[0.0, y_mm, -SKIRTING_DEPTH_MM[0]]])
    return float(project(plane().parameters, place_mm)[0, 1])


def drawn(*joints_mm: float, wall: tuple[int, int, int] = WALL) -> Photo:
    """Wall above floor; thin dark joints at these heights below the floor's edge."""
    picture = np.full((HEIGHT_PX, WIDTH_PX, 3), wall, float)
    picture[round(height_px(FLOOR_MM)) :] = FLOOR
    for joint_mm in joints_mm:
        row = round(height_px(FLOOR_MM + joint_mm))
        picture[row - 2 : row + 3] = (60, 40, 30)
    return photo_of(picture, noise=2.0, seed=2)


def body() -> Body:
    return standing_body(
        {"hip": 620.0, "knee": 740.0, "ankle": 870.0},
        middle_px=450.0,
        aside_px=30.0,
        mask=np.zeros((HEIGHT_PX, WIDTH_PX), np.float32),
    )


def found_mm(photo: Photo, *, expected_mm: float) -> float | None:
    """Height of the found line over the true floor's edge, positive below it."""
    ends_px = find_wall_foot(
        photo,
        body(),
        plane(),
        floor_mm=np.array([0.0, expected_mm, -200.0]),
        down=np.array([0.0, 1.0, 0.0]),
        occupied_px=OUTLINE_PX,
    )
    if ends_px is None:
        return None
    px_a_mm = height_px(1.0) - height_px(0.0)
    return float(ends_px[:, 1].mean() - height_px(FLOOR_MM)) / px_a_mm


@given(st.floats(-35.0, 35.0))
@settings(max_examples=15, deadline=None)
def test_the_edge_of_the_floor_is_found_where_the_feet_are_wrong_by_centimetres(
    off_mm: float,
) -> None:
    assert found_mm(drawn(), expected_mm=FLOOR_MM + off_mm) == pytest.approx(0.0, abs=4.0)


@pytest.mark.parametrize("joint_mm", [22.0, 30.0, 38.0])
def test_a_sharper_joint_of_floor_boards_is_not_the_edge_of_the_floor(joint_mm: float) -> None:
    seen_mm = found_mm(drawn(joint_mm), expected_mm=FLOOR_MM + joint_mm - 5)
    assert seen_mm is None or seen_mm == pytest.approx(0.0, abs=4.0)


def test_a_wall_like_the_floor_shows_no_edge() -> None:
    assert found_mm(drawn(wall=FLOOR), expected_mm=FLOOR_MM) is None
