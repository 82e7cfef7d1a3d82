"""A book between the legs: its edge is the crotch, whatever is worn and however deep it stands."""

import numpy as np
import pytest

from pose_fit.inseam.photo_equation import PhotoEquation
from pose_fit.photogrammetry.projection import project

LEG_MM, GAP_MM = 520.0, 30.0
DEPTH_PARTS = np.array([0.11, 0.11, 0.09, 0.23])
CAMERA = np.array([-0.12, 0.0, 0.0, 0.0, 100.0, 2500.0, np.log(900.0), 449.5, 599.5, 0, 0, 0])


def point_px(x_mm, y_mm, depth_mm):
    return project(CAMERA, np.array([[x_mm, y_mm, -depth_mm]]))[0]


def joints_px():
    """Straight legs below hips at the height 0 of the frame, y down."""
    rows = [
        (x, y, part)
        for y, part in zip((0.0, LEG_MM / 2, LEG_MM), DEPTH_PARTS, strict=False)
        for x in (-67.5, 67.5)
    ]
    return np.concatenate([point_px(x, y, GAP_MM + part * LEG_MM) for x, y, part in rows])


def values(*, edge_mm, depth_mm, below_mm=0.0, gap_mm=GAP_MM):
    equation = PhotoEquation(0, 0, 0, None, has_book=True)
    inputs = [CAMERA, joints_px(), [gap_mm], DEPTH_PARTS, [0.0, 0.0], [0.0, 0.0], [0.0]]
    inputs += [point_px(0.0, edge_mm, depth_mm), [depth_mm], [below_mm]]
    return equation([np.asarray(one, float) for one in inputs])


@pytest.mark.parametrize("depth_mm", [120.0, 180.0, 240.0])
def test_the_edge_is_the_crotch_at_any_depth(depth_mm):
    _, drop_mm, _ = values(edge_mm=40.0, depth_mm=depth_mm)
    assert drop_mm == pytest.approx(40.0, abs=1.5)


def test_an_edge_below_the_crotch_is_taken_back():
    exact, lower = (values(edge_mm=40.0, depth_mm=180.0, below_mm=below)[1] for below in (0, 5))
    assert exact - lower == pytest.approx(5.0)


def test_there_is_one_drop_and_it_is_the_books():
    equation = PhotoEquation(0, 0, 0, None, has_book=True)
    assert equation.drops == 1
    assert PhotoEquation(2, 0, 0, None).drops == 2
    assert len(values(edge_mm=40.0, depth_mm=180.0)) == len(equation.heights) + 2
