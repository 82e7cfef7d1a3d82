"""Upright edges of a drawn room say how far the camera that sees it looks down."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from pose_fit.body.body import Body
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.photogrammetry.uprights import find_convergence
from pose_fit.reference.reference import PointReference
from tests.drawn import standing_body

SIZE_PX = (900, 1200)


def room(pitch_deg: float, *, uprights: int = 8) -> Photo:
    """A room with posts, 3 m from a camera at 1.2 m that looks down by this angle."""
    pixels = np.full((SIZE_PX[1], SIZE_PX[0], 3), 200, np.uint8)
    photo = Photo("room", pixels, *SIZE_PX, 26.0, False, None)
    camera = camera_prior(photo)
    pitch = np.radians(pitch_deg)
    turn = np.array(
        [[1, 0, 0], [0, np.cos(pitch), -np.sin(pitch)], [0, np.sin(pitch), np.cos(pitch)]]
    )

    def seen(point_mm: tuple[float, float, float]) -> tuple[int, int]:
        x, y, z = turn @ np.array(point_mm)
        x_px, y_px = camera.focal_px * np.array([x, y]) / z + np.array(camera.centre_px)
        return round(float(x_px) * 16), round(float(y_px) * 16)

    for place_mm in np.linspace(-1100, 1100, uprights):
        for side_mm, grey in ((0.0, 60), (70.0, 120)):
            top, foot = (seen((place_mm + side_mm, y_mm, 3000.0)) for y_mm in (-1400.0, 1200.0))
            cv2.line(pixels, top, foot, (grey, grey, grey), 9, cv2.LINE_AA, 4)
    return photo


def nobody() -> Body:
    """Legs somewhere, with a mask that covers nothing."""
    heights_px = {"hip": 550.0, "knee": 680.0, "ankle": 800.0}
    mask = np.zeros(SIZE_PX[::-1], np.float32)
    return standing_body(heights_px, middle_px=450.0, aside_px=30.0, mask=mask)


@pytest.mark.parametrize("pitch_deg", [0.0, 8.0, 20.0])
def test_the_tilt_of_a_room_with_posts(pitch_deg: float) -> None:
    photo = room(pitch_deg)
    camera = camera_prior(photo)
    seen = find_convergence(photo, nobody(), camera)
    assert seen is not None
    told_deg = np.degrees(np.arctan(seen.per_px * camera.focal_px))
    assert told_deg == pytest.approx(pitch_deg, abs=1.5)
    assert seen.sd_per_px * camera.focal_px < 0.06


def test_a_bare_room_tells_nothing() -> None:
    photo = room(10.0, uprights=0)
    assert find_convergence(photo, nobody(), camera_prior(photo)) is None


def test_a_length_alone_takes_its_tilt_from_the_room() -> None:
    photo = room(20.0)
    camera = camera_prior(photo)
    body = nobody()
    length = PointReference(
        kind="length",
        placement="beside",
        object_mm=np.array([[0.0, -500.0], [0.0, 500.0]]),
        image_px=np.array([[450.0, 300.0], [450.0, 800.0]]),
        point_sd_px=2.0,
        log_size_sd=0.01,
        log_aspect_sd=0.003,
    )
    stance = Stance(np.array([450.0, 550.0]), np.array([450.0, 800.0]))
    seen = replace(camera, convergence=find_convergence(photo, body, camera))
    bare, told = (solve_plane(length, one, stance=stance) for one in (camera, seen))
    assert np.degrees(told.obliquity_rad) == pytest.approx(20.0, abs=3.0)
    assert abs(np.degrees(bare.obliquity_rad) - 20.0) > 3.0
    spread = [float(np.linalg.norm(plane.shifts[0])) for plane in (bare, told)]
    assert spread[1] < spread[0] / 3
