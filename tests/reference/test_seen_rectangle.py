import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from pose_fit.photogrammetry.projection import project
from pose_fit.reference.from_points import paper_reference, rectangle_mm
from pose_fit.reference.seen_rectangle import seen_rectangle

FOCAL_PX, CENTRE_PX = 900.0, (449.5, 599.5)


def corners_px(size_mm, *, tilt_deg=(0.0, 0.0), roll_deg=0.0, at_mm=(0.0, 0.0)):
    turn = Rotation.from_euler("z", roll_deg, degrees=True) * Rotation.from_euler(
        "xy", tilt_deg, degrees=True
    )
    camera = [*turn.as_rotvec(), *at_mm, 2500.0, np.log(FOCAL_PX), *CENTRE_PX, 0.0, 0.0, 0.0]
    return project(np.array(camera), np.column_stack([rectangle_mm(*size_mm), np.zeros(4)]))


@given(
    st.floats(200, 900),
    st.floats(200, 900),
    st.floats(-50, 50),
    st.floats(-50, 50),
    st.floats(-20, 20),
    st.floats(-700, 700),
    st.floats(-700, 700),
)
def test_the_shape_in_space_is_the_same_from_everywhere(width, height, up, aside, roll, x, y):
    seen_px = corners_px((width, height), tilt_deg=(up, aside), roll_deg=roll, at_mm=(x, y))
    shape = seen_rectangle(seen_px, focal_px=FOCAL_PX, centre_px=CENTRE_PX)
    assert shape.aspect == pytest.approx(height / width, rel=2e-3)
    assert shape.cosine < 2e-3
    assert shape.misfit(height / width) < 5e-3


@pytest.mark.parametrize("tilt_deg", [0.0, 20.0, 40.0])
def test_the_obliquity_in_the_middle_of_the_picture_is_the_tilt(tilt_deg):
    seen_px = corners_px((210, 297), tilt_deg=(0.0, tilt_deg))
    shape = seen_rectangle(seen_px, focal_px=FOCAL_PX, centre_px=CENTRE_PX)
    assert np.degrees(shape.obliquity_rad) == pytest.approx(tilt_deg, abs=0.5)


@pytest.mark.parametrize("size_mm", [(215.9, 279.4), (279.4, 215.9)])
def test_a_sheet_seen_from_high_above_keeps_its_upright_side(photo_of, size_mm):
    seen_px = corners_px(size_mm, tilt_deg=(-45.0, 0.0), at_mm=(300.0, 100.0))
    width_px, height_px = np.ptp(seen_px, axis=0)
    # By its picture alone the upright sheet looks wider than tall.
    assert width_px > height_px
    photo = photo_of(np.zeros((1200, 900), np.uint8))
    paper = paper_reference(photo, seen_px, paper="letter", placement="wall", found=False)
    assert np.ptp(paper.object_mm, axis=0) == pytest.approx(size_mm)
