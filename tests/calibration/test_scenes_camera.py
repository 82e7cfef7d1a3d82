from dataclasses import replace

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from calibration.scenes.camera import Camera, Window, frame, window_of
from calibration.scenes.draw import draw_scene

CAMERA = Camera(
    focal_px=830.0,
    centre_px=(452.3, 595.1),
    k1=-0.03,
    position_mm=(250.0, -900.0, -2300.0),
    yaw_rad=-0.11,
    pitch_rad=0.06,
    roll_rad=0.04,
    width_px=900,
    height_px=1200,
)


def points_mm(count: int = 50) -> NDArray[np.float64]:
    rng = np.random.default_rng(5)
    return rng.uniform([-600, -1500, -300], [600, 0, 100], (count, 3))


def test_projection_agrees_with_opencv() -> None:
    rotation = CAMERA.rotation
    shift = -rotation @ np.array(CAMERA.position_mm)
    theirs, _ = cv2.projectPoints(
        points_mm(),
        cv2.Rodrigues(rotation)[0],
        shift,
        CAMERA.matrix,
        np.array([CAMERA.k1, 0.0, 0.0, 0.0]),
    )
    np.testing.assert_allclose(CAMERA.project(points_mm()), theirs[:, 0], atol=1e-8)


def test_rotation_is_a_rotation_and_each_angle_does_what_it_says() -> None:
    np.testing.assert_allclose(CAMERA.rotation @ CAMERA.rotation.T, np.eye(3), atol=1e-12)
    level = replace(CAMERA, yaw_rad=0.0, pitch_rad=0.0, roll_rad=0.0, k1=0.0)
    ahead = np.array([[250.0, -900.0, 0.0]])
    np.testing.assert_allclose(level.project(ahead)[0], level.centre_px)
    # Looking further right, a point ahead moves left; looking further down, up.
    assert replace(level, yaw_rad=0.1).project(ahead)[0, 0] < level.centre_px[0]
    assert replace(level, pitch_rad=0.1).project(ahead)[0, 1] < level.centre_px[1]
    right = np.array([[450.0, -900.0, 0.0]])
    assert replace(level, roll_rad=0.1).project(right)[0, 1] > level.centre_px[1]


@pytest.mark.parametrize("k1", [-0.05, -0.01, 0.0, 0.02, 0.05])
def test_undistorting_undoes_the_distortion(k1: float) -> None:
    camera = replace(CAMERA, k1=k1)
    seen = (points_mm() - camera.position_mm) @ camera.rotation.T
    plane = camera.undistorted(camera.project(points_mm()))
    np.testing.assert_allclose(plane, seen[:, :2] / seen[:, 2:], atol=1e-7)


@pytest.mark.parametrize("resize", [1.0, 0.8])
def test_crop_and_resize_keep_points_on_the_picture(resize: float) -> None:
    """A blurred dot is cropped and shrunk as a messenger does; its centroid is measured."""
    film = replace(
        draw_scene(seed=1, index=0, width_px=900, height_px=1200).film,
        crop_left=0.1,
        crop_top=0.05,
        crop_right=0.07,
        crop_bottom=0.02,
        resize=resize,
    )
    window = window_of(film, width_px=900, height_px=1200)
    dot = np.array([[431.4, 702.8]])
    columns, rows = np.meshgrid(np.arange(900), np.arange(1200))
    picture = np.exp(-((columns - dot[0, 0]) ** 2 + (rows - dot[0, 1]) ** 2) / (2 * 3.0**2))
    cropped = picture[
        window.top_px : window.top_px + window.height_px,
        window.left_px : window.left_px + window.width_px,
    ]
    small = cv2.resize(
        cropped, (window.final_width_px, window.final_height_px), interpolation=cv2.INTER_AREA
    )
    columns, rows = np.meshgrid(np.arange(small.shape[1]), np.arange(small.shape[0]))
    centroid = [(columns * small).sum() / small.sum(), (rows * small).sum() / small.sum()]
    np.testing.assert_allclose(window.apply(dot)[0], centroid, atol=0.01)


@pytest.mark.parametrize("index", range(0, 60, 3))
def test_framing_puts_everything_wanted_inside_the_window(index: int) -> None:
    scene = draw_scene(seed=4, index=index, width_px=900, height_px=1200)
    window = window_of(scene.film, width_px=900, height_px=1200)
    must_see_mm = np.array(
        [[-250, 0, -80], [250, 0, -80], [-100, -1250, -60], [700, -300, 0], [700, -580, 0]], float
    )
    camera = frame(
        scene.view,
        window=window,
        width_px=900,
        height_px=1200,
        about_mm=np.array([0.0, -400.0, -80.0]),
        must_see_mm=must_see_mm,
    )
    assert camera is not None
    pixels = window.apply(camera.project(must_see_mm))
    edge_px = 0.025 * window.final_width_px
    assert (pixels >= edge_px).all()
    assert (pixels <= [window.final_width_px - edge_px, window.final_height_px - edge_px]).all()
    distance_mm = np.hypot(camera.position_mm[0], camera.position_mm[2] + 80)
    assert 1199 <= distance_mm <= 4001


def test_framing_gives_none_where_nothing_can_fit() -> None:
    scene = draw_scene(seed=4, index=0, width_px=900, height_px=1200)
    wide = np.array([[-9000.0, 0, 0], [9000.0, 0, 0]])
    camera = frame(
        replace(scene.view, focal_35mm=50.0),
        window=Window(0, 0, 900, 1200, 900, 1200),
        width_px=900,
        height_px=1200,
        about_mm=np.zeros(3),
        must_see_mm=wide,
    )
    assert camera is None


def test_focal_length_is_35mm_equivalent_by_the_diagonal() -> None:
    """A 43.27 mm lens sees the frame's half diagonal at 1:2, whatever the picture's shape."""
    scene = draw_scene(seed=4, index=1, width_px=900, height_px=1200)
    view = replace(scene.view, focal_35mm=43.2666, centre_shift_x=0.0, centre_shift_y=0.0)
    camera = frame(
        view,
        window=Window(0, 0, 900, 1200, 900, 1200),
        width_px=900,
        height_px=1200,
        about_mm=np.array([0.0, -400.0, -80.0]),
        must_see_mm=np.array([[-200.0, 0, -80], [200.0, -900, -80]]),
    )
    assert camera is not None
    # Full frame: 36 x 24 mm has a diagonal of 43.27 mm; ours 900 x 1200 px has one of 1500.
    assert camera.focal_px == pytest.approx(1500.0, rel=1e-5)
