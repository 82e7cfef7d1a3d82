import time

import numpy as np
import pytest

from pose_fit.errors import ReferenceObjectError
from pose_fit.photo.click_error import click_sd_px
from pose_fit.reference.from_points import (
    DOOR_HEIGHT_MM,
    check_points,
    door_reference,
    length_reference,
    paper_reference,
    wheel_reference,
)
from pose_fit.reference.reference import CircleReference, PointReference

CORNERS_PX = np.array([[100.0, 100], [300, 110], [305, 390], [95, 380]])
RIM_PX = np.array([[500.0 + 90 * np.cos(a), 400 + 90 * np.sin(a)] for a in np.arange(0, 6, 0.7)])


@pytest.fixture
def photo(photo_of):
    return photo_of(np.zeros((800, 600), np.uint8), scale=2.0)


def test_corners_in_order_make_a_paper(photo):
    paper = paper_reference(photo, CORNERS_PX, paper="a4", placement="wall", found=False)
    assert np.ptp(paper.object_mm, axis=0) == pytest.approx((210, 297))
    np.testing.assert_array_equal(paper.image_px, CORNERS_PX)
    # Top left in the picture is top left of the object.
    assert (np.sign(paper.object_mm) == [[-1, -1], [1, -1], [1, 1], [-1, 1]]).all()


def test_a_paper_on_its_side_is_noticed(photo):
    lying_px = np.array([[100.0, 100], [380, 100], [380, 300], [100, 300]])
    paper = paper_reference(photo, lying_px, paper="letter", placement="wall", found=False)
    assert np.ptp(paper.object_mm, axis=0) == pytest.approx((279.4, 215.9))


def test_a_click_is_less_sure_than_an_edge_that_was_found(photo):
    clicked, found = (
        paper_reference(photo, CORNERS_PX, paper="a4", placement="wall", found=found)
        for found in (False, True)
    )
    assert clicked.point_sd_px == click_sd_px(photo) > found.point_sd_px > 0


def test_a_door_leaves_its_width_open_and_is_80_in_high_where_nobody_said(photo):
    given = door_reference(photo, CORNERS_PX, height_mm=1981.0, placement="wall")
    guessed = door_reference(photo, CORNERS_PX, height_mm=None, placement="wall")
    assert np.ptp(given.object_mm[:, 1]) == pytest.approx(1981)
    assert (
        np.ptp(guessed.object_mm[:, 1]) == pytest.approx(DOOR_HEIGHT_MM) == pytest.approx(80 * 25.4)
    )
    # Common leaves from 610 to 915 mm lie within two standard uncertainties of the width.
    width_mm = np.ptp(given.object_mm[:, 0])
    for edge_mm in (610, 915):
        assert abs(np.log(edge_mm / width_mm)) < 2 * given.log_aspect_sd


@pytest.mark.parametrize(
    ("ends_px", "way"),
    [
        ([[50, 60], [52, 400]], [0, 1]),
        ([[52, 400], [50, 60]], [0, -1]),
        ([[50, 60], [400, 70]], [1, 0]),
        ([[400, 60], [50, 70]], [-1, 0]),
    ],
)
def test_a_length_goes_the_way_it_is_seen_to_go(photo, ends_px, way):
    bar = length_reference(photo, np.array(ends_px, float), length_mm=900.0, placement="beside")
    np.testing.assert_allclose(bar.object_mm[1] - bar.object_mm[0], 900 * np.array(way))


def test_a_wheel_by_its_edge(photo):
    wheel = wheel_reference(
        photo,
        RIM_PX,
        diameter_mm=507.0,
        width_mm=47.0,
        diameter_sd_mm=3.0,
        placement="beside",
        found=False,
    )
    assert (wheel.radius_mm, wheel.width_mm) == (253.5, 47.0)


KINDS = [
    pytest.param(
        lambda photo, points: paper_reference(
            photo, points, paper="a4", placement="wall", found=False
        ),
        "a4",
        "4 points",
        CORNERS_PX,
        id="paper",
    ),
    pytest.param(
        lambda photo, points: door_reference(photo, points, height_mm=None, placement="wall"),
        "door",
        "4 points",
        CORNERS_PX,
        id="door",
    ),
    pytest.param(
        lambda photo, points: length_reference(photo, points, length_mm=900.0, placement="wall"),
        "length",
        "2 points",
        CORNERS_PX[:2],
        id="length",
    ),
    pytest.param(
        lambda photo, points: wheel_reference(
            photo,
            points,
            diameter_mm=507.0,
            width_mm=47.0,
            diameter_sd_mm=3.0,
            placement="beside",
            found=False,
        ),
        "wheel",
        "5 or more points",
        RIM_PX[:5],
        id="wheel",
    ),
]


@pytest.mark.parametrize(("make", "kind", "wanted", "right_px"), KINDS)
def test_wrong_points_are_told_with_what_was_wanted_and_found(photo, make, kind, wanted, right_px):
    make(photo, right_px)
    with pytest.raises(
        ReferenceObjectError, match=f"{kind}: wanted {wanted}, found {len(right_px) - 1}"
    ):
        make(photo, right_px[:-1])
    for bad in ((-30.0, 5.0), (5.0, 1700.0), (float("nan"), 5.0), (float("inf"), 5.0)):
        outside_px = right_px.copy()
        outside_px[0] = bad
        with pytest.raises(ReferenceObjectError, match="inside the upright picture of 1200 x 1600"):
            make(photo, outside_px)
    twice_px = right_px.copy()
    twice_px[1] = twice_px[0] + 1
    with pytest.raises(ReferenceObjectError, match="found two in one place"):
        make(photo, twice_px)


@pytest.mark.parametrize("kind", ["wheel", "paper", "door"])
def test_points_on_one_line_are_told_at_once(photo, kind):
    make = {param.id: param.values for param in KINDS}[kind][0]
    count = 5 if kind == "wheel" else 4
    along = np.linspace(0, 1, count)[:, None]
    line_px = np.array([100.0, 200]) + along * [400, 500] + np.array([0, 1]) * (along > 0.4)
    started = time.perf_counter()
    with pytest.raises(ReferenceObjectError, match="all on one line"):
        make(photo, line_px)
    assert time.perf_counter() - started < 0.5


@pytest.mark.parametrize("kind", ["paper", "door", "length"])
def test_too_many_points(photo, kind):
    make = {param.id: param.values for param in KINDS}[kind][0]
    with pytest.raises(ReferenceObjectError, match="found 5"):
        make(photo, np.vstack([CORNERS_PX, [[500, 500]]]))


@pytest.mark.parametrize("kind", ["paper", "door"])
@pytest.mark.parametrize("order", [[0, 2, 1, 3], [3, 2, 1, 0], [1, 0, 2, 3]])
def test_corners_in_another_order(photo, kind, order):
    make = {param.id: param.values for param in KINDS}[kind][0]
    with pytest.raises(ReferenceObjectError, match="clockwise from top left"):
        make(photo, CORNERS_PX[order])


@pytest.mark.parametrize("kind", ["paper", "door"])
@pytest.mark.parametrize("turn", [1, 2, 3])
def test_corners_clockwise_from_another_corner(photo, kind, turn):
    """A door given from its lower left corner would be measured lying on its side."""
    make = {param.id: param.values for param in KINDS}[kind][0]
    with pytest.raises(ReferenceObjectError, match="clockwise from top left"):
        make(photo, np.roll(CORNERS_PX, turn, axis=0))


def test_a_shape_that_is_no_list_of_points(photo):
    with pytest.raises(ReferenceObjectError, match="found"):
        check_points(photo, np.zeros((4, 3)), kind="a4", least=4, most=4)
    with pytest.raises(ReferenceObjectError, match="found 0"):
        check_points(photo, np.zeros((0, 2)), kind="a4", least=4, most=4)


def test_unusable_references_are_not_built():
    with pytest.raises(ValueError, match="unknown is not 0"):
        PointReference("a4", "wall", CORNERS_PX, CORNERS_PX, 0.0, 0.01, 0.01)
    with pytest.raises(ValueError, match="same length"):
        PointReference("a4", "wall", CORNERS_PX[:3], CORNERS_PX, 1.0, 0.01, 0.01)
    with pytest.raises(ValueError, match="at least 2 points"):
        PointReference("length", "wall", CORNERS_PX[:1], CORNERS_PX[:1], 1.0, 0.01, 0.01)
    with pytest.raises(ValueError, match="at least 5 points"):
        CircleReference("wheel", "beside", 250.0, 47.0, RIM_PX[:4], 1.0, 0.01)
    with pytest.raises(ValueError, match="wanted a width"):
        CircleReference("wheel", "beside", 250.0, 300.0, RIM_PX, 1.0, 0.01)
