import cv2
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from pose_fit.body.body import Body
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photogrammetry.plane import solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.photogrammetry.projection import cast, project
from pose_fit.reference.find_wheel import find_tyre_points
from pose_fit.reference.from_points import wheel_reference
from pose_fit.refusal import Refusal

SIZE_PX = (900, 1200)
FOCAL_PX = 26.0 / np.hypot(36, 24) * np.hypot(*SIZE_PX)
OVER = 3
#: Outside diameter and width of a 16 x 1.75 and of a 24 x 1.75 tyre: bead seat and twice the
#: width (ISO 5775-1): 305 + 2 x 47, 507 + 2 x 47.
TYRES_MM = [(399.0, 47.0), (601.0, 47.0)]


def pose(*, at_mm=(520.0, 620.0), distance_mm=2500.0, tilt_deg=(0.0, 0.0)):
    rotation = Rotation.from_euler("xy", tilt_deg, degrees=True)
    centre_px = (np.array(SIZE_PX) - 1) / 2
    return np.array(
        [*rotation.as_rotvec(), *at_mm, distance_mm, np.log(FOCAL_PX), *centre_px, 0.0, 0.0, 0.0]
    )


def torus_px(at, diameter_mm, width_mm):
    """(hoop, tube, 2) picture positions of the surface of a tyre."""
    hoop, tube = np.meshgrid(np.linspace(0, 2 * np.pi, 241), np.linspace(0, 2 * np.pi, 49))
    out_mm = diameter_mm / 2 - width_mm / 2 + width_mm / 2 * np.cos(tube)
    surface_mm = np.stack(
        [out_mm * np.cos(hoop), out_mm * np.sin(hoop), width_mm / 2 * np.sin(tube)], axis=-1
    )
    return project(at, surface_mm.reshape(-1, 3)).reshape(*hoop.shape, 2)


def outline_px(at, diameter_mm, width_mm):
    surface_px = torus_px(at, diameter_mm, width_mm).reshape(-1, 2)
    return cv2.convexHull(surface_px.astype(np.float32))[:, 0].astype(float)


def picture(wheels, *, floor_light=0.12, shadow=False, covered_part=0.0, seed=0):
    """Dark tyres with a pale rim and spokes before a light wall, standing on a darker floor."""
    rng = np.random.default_rng(seed)
    height, width = SIZE_PX[1] * OVER, SIZE_PX[0] * OVER
    light = np.full((height, width), 0.55) * np.linspace(0.7, 1.2, width)
    light[int(0.72 * height) :] = floor_light

    def big(points_px):
        return np.round(((points_px + 0.5) * OVER - 0.5) * 16).astype(np.int32)

    for at, diameter_mm, width_mm in wheels:
        if shadow:
            dark = np.zeros((height, width), np.float32)
            shifted_px = outline_px(at, diameter_mm, width_mm) + np.array([14.0, 5.0])
            cv2.fillPoly(dark, [big(shifted_px)], (1.0,), cv2.LINE_8, 4)
            light *= 1 - 0.6 * cv2.GaussianBlur(dark, (0, 0), 4.0 * OVER)
        tyre = np.zeros((height, width), np.uint8)
        surface_px = torus_px(at, diameter_mm, width_mm)
        for row, next_row in zip(surface_px, surface_px[1:], strict=False):
            strip = np.concatenate([row, next_row[::-1]])
            cv2.fillPoly(tyre, [big(strip)], (1,), cv2.LINE_8, 4)
        angles = np.arange(0, 2 * np.pi, np.pi / 9)
        inner_mm = diameter_mm / 2 - width_mm
        ends_mm = inner_mm * np.column_stack([np.cos(angles), np.sin(angles), 0 * angles])
        for end_px in project(at, ends_mm):
            ends = big(np.stack([project(at, np.zeros((1, 3)))[0], end_px]))
            cv2.line(light, ends[0], ends[1], (0.75,), OVER, cv2.LINE_8, 4)
        ring = inner_mm * np.column_stack(
            [np.cos(np.linspace(0, 6.3, 200)), np.sin(np.linspace(0, 6.3, 200)), np.zeros(200)]
        )
        cv2.polylines(light, [big(project(at, ring))], True, (0.5,), 6 * OVER, cv2.LINE_8, 4)
        light[tyre == 1] = 0.03 + 0.01 * rng.random(int(tyre.sum()))
        if covered_part:
            low, high = surface_px.reshape(-1, 2).min(axis=0), surface_px.reshape(-1, 2).max(axis=0)
            edge = int((low[0] + covered_part * (high[0] - low[0])) * OVER)
            light[int(low[1] * OVER) : int(high[1] * OVER) + 1, : edge + 1] = 0.3
    small = cv2.resize(light, SIZE_PX, interpolation=cv2.INTER_AREA)
    small = cv2.GaussianBlur(small, (0, 0), 0.7) + rng.normal(0, 0.003, small.shape)
    return np.round(255 * small.clip(0, 1) ** (1 / 2.2)).astype(np.uint8)


@pytest.fixture
def scene(photo_of, standing):
    """The photo of pixels, and a child whose soles are on the floor line of the wheels."""

    def make(pixels):
        photo = photo_of(pixels)
        return photo, standing(photo, hips_px=(330.0, 690.0), leg_px=240.0)

    return make


def off_px(found_px, at, diameter_mm, width_mm):
    polygon = outline_px(at, diameter_mm, width_mm).astype(np.float32)
    return np.array([-cv2.pointPolygonTest(polygon, point, True) for point in found_px])


@pytest.mark.parametrize(("diameter_mm", "width_mm"), TYRES_MM)
@pytest.mark.parametrize("tilt_deg", [(0, 0), (10, -15), (-8, 22)])
@pytest.mark.parametrize("shadow", [False, True])
def test_the_outer_edge_to_a_pixel(scene, diameter_mm, width_mm, tilt_deg, shadow):
    at = pose(tilt_deg=tilt_deg)
    photo, body = scene(picture([(at, diameter_mm, width_mm)], shadow=shadow))
    found_px = find_tyre_points(photo, body, diameter_mm=diameter_mm, width_mm=width_mm)
    assert not isinstance(found_px, Refusal), found_px
    off = off_px(found_px, at, diameter_mm, width_mm)
    assert np.abs(off).max() < 1.5
    assert abs(off.mean()) < 0.3


def test_a_length_beside_the_wheel_is_measured(scene):
    """The whole way: a found tyre gives the length of a bar in its plane."""
    at = pose(tilt_deg=(5, -10))
    photo, body = scene(picture([(at, 601.0, 47.0)]))
    found_px = find_tyre_points(photo, body, diameter_mm=601.0, width_mm=47.0)
    assert not isinstance(found_px, Refusal), found_px
    wheel = wheel_reference(
        photo,
        found_px,
        diameter_mm=601.0,
        width_mm=47.0,
        diameter_sd_mm=3.0,
        placement="beside",
        found=True,
    )
    plane = solve_plane(wheel, camera_prior(photo), stance=Stance(body.hips_px, body.ankles_px))
    ends_px = project(at, np.array([[-450.0, -350.0, 0.0], [-450.0, 250.0, 0.0]]))
    ends_mm = cast(plane.parameters, ends_px, 0.0)
    assert np.linalg.norm(ends_mm[0] - ends_mm[1]) == pytest.approx(600.0, rel=0.02)


def test_a_third_of_the_wheel_may_be_covered(scene):
    at = pose()
    photo, body = scene(picture([(at, 601.0, 47.0)], covered_part=0.3))
    found_px = find_tyre_points(photo, body, diameter_mm=601.0, width_mm=47.0)
    assert not isinstance(found_px, Refusal), found_px
    assert np.abs(off_px(found_px, at, 601.0, 47.0)).max() < 2.0


def refusal_code(photo, body: Body) -> str:
    found = find_tyre_points(photo, body, diameter_mm=601.0, width_mm=47.0)
    assert isinstance(found, Refusal), found
    assert found.remedies
    return found.reasons[0].code


def test_most_of_the_wheel_covered_is_refused(scene):
    photo, body = scene(picture([(pose(), 601.0, 47.0)], covered_part=0.8))
    assert refusal_code(photo, body) == "reference_missing"


def test_no_wheel_is_refused(scene):
    photo, body = scene(picture([]))
    assert refusal_code(photo, body) == "reference_missing"


def test_a_wheel_hanging_on_the_wall_is_not_the_one_on_the_floor(scene):
    photo, body = scene(picture([(pose(at_mm=(520.0, -800.0)), 601.0, 47.0)]))
    assert refusal_code(photo, body) == "reference_missing"


def test_a_wheel_seen_nearly_edge_on_is_refused(scene):
    photo, body = scene(picture([(pose(tilt_deg=(0, 65)), 601.0, 47.0)]))
    assert refusal_code(photo, body) == "reference_missing"


def test_a_dark_disc_is_no_wheel(scene):
    """A ball or a bin has no second edge where a tyre ends."""
    pixels = picture([])
    cv2.circle(pixels, (700, 850), 95, (45,), -1)
    photo, body = scene(pixels)
    assert refusal_code(photo, body) == "reference_missing"
