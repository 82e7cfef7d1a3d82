"""The wall base in drawn pictures whose floor is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import PARAMETER_COUNT, project
from pose_fit.sights.candidates import WallBaseCandidate
from pose_fit.sights.wall_base import SKIRTING_DEPTH_MM, WallBase, find_wall_base
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


def found_mm(photo: Photo, *, expected_mm: float) -> list[float]:
    """Height of each candidate below the true floor's edge, the likeliest first."""
    seen = candidates(photo, expected_mm=expected_mm)
    px_a_mm = height_px(1.0) - height_px(0.0)
    return [float(one.line_px[:, 1].mean() - height_px(FLOOR_MM)) / px_a_mm for one in seen]


def candidates(photo: Photo, *, expected_mm: float = FLOOR_MM) -> tuple[WallBaseCandidate, ...]:
    return found(photo, expected_mm=expected_mm).candidates


def found(photo: Photo, *, expected_mm: float = FLOOR_MM) -> WallBase:
    return find_wall_base(
        photo,
        body(),
        plane(),
        floor_mm=np.array([0.0, expected_mm, -200.0]),
        down=np.array([0.0, 1.0, 0.0]),
        occupied_px=OUTLINE_PX,
    )


@given(st.floats(-50.0, 100.0))
@settings(max_examples=15, deadline=None)
def test_the_edge_of_the_floor_is_found_where_the_feet_are_wrong_by_centimetres(
    off_mm: float,
) -> None:
    assert found_mm(drawn(), expected_mm=FLOOR_MM + off_mm) == [pytest.approx(0.0, abs=4.0)]


@pytest.mark.parametrize("joint_mm", [22.0, 30.0, 45.0])
def test_beside_a_sharper_joint_of_floor_boards_the_edge_of_the_floor_stays(
    joint_mm: float,
) -> None:
    """Which is which the feet decide, later."""
    seen_mm = found_mm(drawn(joint_mm), expected_mm=FLOOR_MM + joint_mm - 5)
    assert min(abs(one) for one in seen_mm) < 4.0


@pytest.mark.parametrize("joints_mm", [(), (30.0,), (20.0, 40.0)])
def test_the_shares_of_belief_leave_room_for_none(joints_mm: tuple[float, ...]) -> None:
    shares = [one.weight for one in candidates(drawn(*joints_mm))]
    assert 0 < sum(shares) < 1
    assert shares == sorted(shares, reverse=True)


def test_the_top_of_a_skirting_board_is_believed_less_than_its_foot() -> None:
    picture = drawn().pixels.astype(float)
    picture[round(height_px(FLOOR_MM - 80)) : round(height_px(FLOOR_MM))] = (235, 235, 230)
    tops_mm = found_mm(photo_of(picture, noise=2.0, seed=4), expected_mm=FLOOR_MM - 20)
    assert tops_mm[0] == pytest.approx(0.0, abs=4.0)
    assert any(one == pytest.approx(-80.0, abs=4.0) for one in tops_mm)


def test_a_wall_like_the_floor_shows_no_edge() -> None:
    assert candidates(drawn(wall=FLOOR)) == ()


@pytest.mark.parametrize(("before_mm", "above_mm"), [(-20.0, 0.0), (90.0, 0.0), (180.0, 180.0)])
def test_an_edge_far_above_the_feet_is_told_of_where_none_is_near(
    before_mm: float, above_mm: float
) -> None:
    """The feet put the floor lower by this, as those of a child before the wall do."""
    seen = found(drawn(), expected_mm=FLOOR_MM + before_mm)
    assert seen.far_above_mm == pytest.approx(above_mm, abs=4.0)


def test_beside_an_edge_near_the_feet_one_far_above_says_nothing() -> None:
    """Such as the joint of two walls, or the top of a high skirting board."""
    picture = drawn().pixels.astype(float)
    picture[: round(height_px(FLOOR_MM - 200))] = (235, 235, 230)
    assert found(photo_of(picture, noise=2.0, seed=4)).far_above_mm == 0.0
