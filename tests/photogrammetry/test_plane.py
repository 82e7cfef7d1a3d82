import cv2
import numpy as np
import poselib
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from pose_fit.photo.camera_prior import CameraPrior
from pose_fit.photogrammetry.plane import PlaneScale, solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance, evidence_of
from pose_fit.photogrammetry.projection import cast, project
from pose_fit.reference.paper import PAPER_SIZE_MM
from pose_fit.reference.printed_sheet import marker_corners_mm
from pose_fit.reference.reference import CircleReference, PointReference

WIDTH_PX, HEIGHT_PX = 3000, 4000
SHEET_MM = np.vstack(list(marker_corners_mm().values()))
A4_MM = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.array(PAPER_SIZE_MM["a4"]) / 2


def parameters(
    *,
    rotation=(0.05, -0.1, 0.02),
    shift_mm=(-300.0, 200.0, 2600.0),
    focal_px=3000.0,
    centre_px=(1499.5, 1999.5),
    radial=0.0,
    log_size=0.0,
    log_aspect=0.0,
):
    return np.array(
        [*rotation, *shift_mm, np.log(focal_px), *centre_px, radial, log_size, log_aspect]
    )


poses = st.builds(
    parameters,
    rotation=st.tuples(*[st.floats(-0.6, 0.6)] * 3),
    shift_mm=st.tuples(st.floats(-800, 800), st.floats(-800, 800), st.floats(1200, 5000)),
    focal_px=st.floats(1500, 6000),
    centre_px=st.tuples(st.floats(1400, 1600), st.floats(1900, 2100)),
    radial=st.floats(-0.08, 0.08),
)
points = st.lists(
    st.tuples(st.floats(-500, 500), st.floats(-700, 700), st.floats(-400, 0)),
    min_size=4,
    max_size=9,
).map(np.array)


def opencv_camera(at):
    focal_px = np.exp(at[6])
    return np.array([[focal_px, 0, at[7]], [0, focal_px, at[8]], [0, 0, 1.0]]), np.array(
        [at[9], 0, 0, 0]
    )


def poselib_camera(at):
    return poselib.Camera(
        "SIMPLE_RADIAL", [np.exp(at[6]), at[7], at[8], at[9]], WIDTH_PX, HEIGHT_PX
    )


def reference(object_mm, image_px, *, sd_px=0.5, log_size_sd=1e-4, log_aspect_sd=1e-4):
    return PointReference(
        kind="sheet",
        placement="wall",
        object_mm=object_mm,
        image_px=image_px,
        point_sd_px=sd_px,
        log_size_sd=log_size_sd,
        log_aspect_sd=log_aspect_sd,
    )


def camera(*, log_focal_sd=1e-5, centre_sd_px=1e-3, radial_sd=1e-6):
    return CameraPrior(
        focal_px=3000.0,
        log_focal_sd=log_focal_sd,
        centre_px=(1499.5, 1999.5),
        centre_sd_px=centre_sd_px,
        radial_sd=radial_sd,
        from_exif=True,
    )


@given(poses, points)
def test_projection_against_opencv(at, points_mm):
    matrix, distortion = opencv_camera(at)
    expected_px, _ = cv2.projectPoints(points_mm, at[0:3], at[3:6], matrix, distortion)
    np.testing.assert_allclose(project(at, points_mm), expected_px[:, 0], atol=1e-6)


@given(poses, points)
def test_projection_against_poselib(at, points_mm):
    seen_mm = Rotation.from_rotvec(at[0:3]).apply(points_mm) + at[3:6]
    expected_px = poselib_camera(at).project(seen_mm[:, :2] / seen_mm[:, 2:])
    np.testing.assert_allclose(project(at, points_mm), np.reshape(expected_px, (-1, 2)), atol=1e-6)


@given(poses, points)
def test_rays_lead_back_to_the_points(at, points_mm):
    back_mm = cast(at, project(at, points_mm), -points_mm[:, 2])
    np.testing.assert_allclose(back_mm, points_mm, atol=0.02)


@given(poses, st.tuples(st.floats(0, 2999), st.floats(0, 3999)), st.floats(0, 300))
def test_a_ray_lies_on_the_line_of_sight_of_poselib(at, pixel, depth_mm):
    # At the principal point itself the other program divides 0 by 0.
    assume(np.hypot(*(pixel - at[7:9])) > 1e-3)
    ray = np.append(np.reshape(poselib_camera(at).unproject(np.array([pixel])), -1)[:2], 1.0)
    seen_mm = (
        Rotation.from_rotvec(at[0:3]).apply(cast(at, np.array([pixel]), depth_mm))[0] + at[3:6]
    )
    np.testing.assert_allclose(seen_mm[:2] / seen_mm[2], ray[:2], atol=1e-4)


@given(poses)
def test_a_flat_object_is_seen_through_a_homography(at):
    """Without the lens term; the map is OpenCV's from four corners, tried on other points."""
    at[9] = 0.0
    image_px = project(at, np.column_stack([A4_MM, np.zeros(4)]))
    homography = cv2.getPerspectiveTransform(A4_MM.astype(np.float32), image_px.astype(np.float32))
    grid_mm = np.array([[x, y] for x in (-80.0, 30.0, 100.0) for y in (-140.0, 10.0)])
    expected_px = cv2.perspectiveTransform(grid_mm[None], homography)[0]
    seen_px = project(at, np.column_stack([grid_mm, np.zeros(6)]))
    np.testing.assert_allclose(seen_px, expected_px, atol=0.05)


@given(poses, st.tuples(*[st.floats(-500, 500)] * 4))
def test_the_cross_ratio_of_four_points_in_line_is_kept(at, ends):
    """The projective invariant (Hartley and Zisserman, 2nd ed., section 2.5)."""
    at[9] = 0.0
    start_mm, way_mm = np.array([*ends[:2], 0.0]), np.array([300.0, 500.0, 0.0])
    places = np.array([0.0, 0.2, 0.55, 1.0])
    line_mm = start_mm + places[:, None] * way_mm
    seen_px = project(at, line_mm)
    along_px = (seen_px - seen_px[0]) @ (seen_px[3] - seen_px[0])

    def cross_ratio(x):
        return (x[2] - x[0]) * (x[3] - x[1]) / ((x[2] - x[1]) * (x[3] - x[0]))

    assert cross_ratio(along_px) == pytest.approx(cross_ratio(places), rel=1e-6)


@settings(max_examples=12, deadline=None)
@given(
    st.tuples(st.floats(-0.4, 0.4), st.floats(-0.4, 0.4), st.floats(-0.3, 0.3)),
    st.tuples(st.floats(-500, 500), st.floats(-500, 500), st.floats(1500, 4000)),
    st.sampled_from([SHEET_MM, A4_MM]),
)
def test_the_pose_of_a_known_camera_against_opencv_and_poselib(rotation, shift_mm, object_mm):
    """Exact points, a camera that is known: three programs must find the one pose."""
    true = parameters(rotation=rotation, shift_mm=shift_mm)
    points_mm = np.column_stack([object_mm, np.zeros(len(object_mm))])
    image_px = project(true, points_mm)
    plane = solve_plane(reference(object_mm, image_px, sd_px=0.02), camera())
    matrix, distortion = opencv_camera(true)
    _, rotations, shifts_mm, errors = cv2.solvePnPGeneric(
        points_mm, image_px, matrix, distortion, flags=cv2.SOLVEPNP_IPPE
    )
    best = int(np.argmin(errors))
    pose, _ = poselib.estimate_absolute_pose(
        image_px, points_mm, poselib_camera(true), {"max_reproj_error": 1.0}, {}
    )
    for found_rotation, found_shift_mm in (
        (rotations[best].ravel(), shifts_mm[best].ravel()),
        (Rotation.from_matrix(pose.R).as_rotvec(), pose.t),
        (np.array(rotation), np.array(shift_mm)),
    ):
        np.testing.assert_allclose(plane.parameters[0:3], found_rotation, atol=1e-3)
        np.testing.assert_allclose(plane.parameters[3:6], found_shift_mm, rtol=1e-3, atol=0.5)


@settings(max_examples=15, deadline=None)
@given(
    st.tuples(*[st.floats(-0.4, 0.4)] * 3),
    st.tuples(st.floats(-600, 600), st.floats(-600, 600), st.floats(1400, 4000)),
    st.sampled_from([SHEET_MM, A4_MM]),
    st.integers(0, 99),
)
def test_no_likelier_plane_is_found_from_the_true_one(rotation, shift_mm, object_mm, seed):
    at = parameters(rotation=rotation, shift_mm=shift_mm)
    flat_mm = np.column_stack([object_mm, np.zeros(len(object_mm))])
    noise_px = np.random.default_rng(seed).normal(0, 2.0, object_mm.shape)
    seen = reference(object_mm, project(at, flat_mm) + noise_px, sd_px=2.0, log_size_sd=0.01)
    prior = camera(log_focal_sd=0.03, centre_sd_px=20.0, radial_sd=0.02)
    residuals, _ = evidence_of(seen, prior, None)
    solved = solve_plane(seen, prior).parameters
    cost = float((residuals(solved) ** 2).sum()) / 2
    for start in (at, solved):
        other = least_squares(residuals, start, method="lm", x_scale=np.abs(start) + 0.1)
        assert cost <= other.cost * (1 + 1e-4) + 1e-6


def noisy_planes(object_mm, *, sd_px, runs, camera_prior, **reference_sds):
    """Solutions and truths, all that is uncertain drawn from what the solver is told of it."""
    rng = np.random.default_rng(20)
    for _ in range(runs):
        sideways, downward = rng.normal(0, 0.25, 2).clip(-0.6, 0.6)
        # The direction of view in the plane's frame; the turn about it is free.
        forward = np.array([sideways, downward, 0.0])
        forward[2] = np.sqrt(1 - forward @ forward)
        tilt, _ = Rotation.align_vectors([[0, 0, 1.0]], [forward])
        true = parameters(
            rotation=(Rotation.from_rotvec([0, 0, rng.normal(0, 0.05)]) * tilt).as_rotvec(),
            shift_mm=(-300.0, 350.0, 2500.0),
            focal_px=camera_prior.focal_px * np.exp(rng.normal(0, camera_prior.log_focal_sd)),
            centre_px=np.array(camera_prior.centre_px)
            + rng.normal(0, camera_prior.centre_sd_px, 2),
            radial=rng.normal(0, camera_prior.radial_sd),
            log_size=rng.normal(0, reference_sds["log_size_sd"]),
            log_aspect=rng.normal(0, reference_sds["log_aspect_sd"]),
        )
        stretch = np.exp(true[10]) * np.array([np.exp(true[11]), 1.0])
        points_mm = np.column_stack([object_mm * stretch, np.zeros(len(object_mm))])
        image_px = project(true, points_mm) + rng.normal(0, sd_px, (len(object_mm), 2))
        seen = reference(object_mm, image_px, sd_px=sd_px, **reference_sds)
        yield solve_plane(seen, camera_prior), true


def leg_mm(at, pixels):
    """Length between two picture positions, 100 mm in front of the reference's plane."""
    hip_mm, ankle_mm = cast(at, pixels, 100.0)
    return np.linalg.norm(hip_mm - ankle_mm)


@pytest.mark.parametrize(
    ("object_mm", "sd_px", "camera_prior"),
    [
        pytest.param(
            SHEET_MM,
            0.5,
            camera(log_focal_sd=0.02, centre_sd_px=30.0, radial_sd=0.012),
            id="sheet, EXIF",
        ),
        pytest.param(
            A4_MM,
            1.2,
            camera(log_focal_sd=0.2, centre_sd_px=30.0, radial_sd=0.012),
            id="A4, no EXIF",
        ),
    ],
)
def test_covariance_against_monte_carlo(object_mm, sd_px, camera_prior):
    """JCGM 101: the spread of a length over simulated photos against the stated one.

    With 120 photos the sampling sd of the ratio is 6.5 %; the limits are at three of them.
    """
    errors = []
    for plane, true in noisy_planes(
        object_mm,
        sd_px=sd_px,
        runs=120,
        camera_prior=camera_prior,
        log_size_sd=0.003,
        log_aspect_sd=0.002,
    ):
        pixels = project(true, np.array([[250.0, -300.0, -100.0], [260.0, 250.0, -100.0]]))
        steps = [
            (leg_mm(plane.parameters + shift, pixels) - leg_mm(plane.parameters - shift, pixels))
            / 2
            for shift in plane.shifts.T
        ]
        sd_mm = np.linalg.norm(steps)
        errors.append((leg_mm(plane.parameters, pixels) - leg_mm(true, pixels)) / sd_mm)
    assert 0.8 < np.std(errors) < 1.2
    assert abs(np.mean(errors)) < 3 / np.sqrt(len(errors))


def test_two_tilts_that_look_alike_widen_the_answer():
    """Faint, distant paper and no lens data: the mirrored tilt stays possible, and is counted."""
    rng = np.random.default_rng(8)
    true = parameters(rotation=(0.0, 0.3, 0.0), shift_mm=(-600.0, 100.0, 4000.0))
    image_px = project(true, np.column_stack([A4_MM, np.zeros(4)])) + rng.normal(0, 2.0, (4, 2))
    prior = camera(log_focal_sd=0.2, centre_sd_px=30, radial_sd=0.012)
    plane = solve_plane(
        reference(A4_MM, image_px, sd_px=2.0, log_size_sd=0.003, log_aspect_sd=0.003), prior
    )
    other_view = plane.shifts[:, -1]
    assert plane.sources[-1] == "camera tilt"
    # Weighed by at most a half, so that its way to the other tilt is at most 0.7 of the whole.
    assert 0.05 < abs(other_view[1]) < 0.75
    near = parameters(rotation=(0.0, 0.3, 0.0), shift_mm=(-600.0, 100.0, 2000.0))
    image_px = project(near, np.column_stack([SHEET_MM, np.zeros(16)]))
    sharp = solve_plane(reference(SHEET_MM, image_px, sd_px=0.2), camera())
    assert np.abs(sharp.shifts[:, -1]).max() < 1e-6


def test_misfit_is_near_one_for_the_right_object_and_far_for_another():
    rng = np.random.default_rng(3)
    true = parameters()
    image_px = project(true, np.column_stack([A4_MM, np.zeros(4)])) + rng.normal(0, 0.5, (4, 2))
    prior = camera(log_focal_sd=0.02, centre_sd_px=30, radial_sd=0.012)
    sds = {"log_size_sd": 0.003, "log_aspect_sd": 0.003}
    right = solve_plane(reference(A4_MM, image_px, **sds), prior)
    letter_mm = np.sign(A4_MM) * np.array(PAPER_SIZE_MM["letter"]) / 2
    wrong = solve_plane(reference(letter_mm, image_px, **sds), prior)
    assert right.misfit < 1.5
    assert wrong.misfit > 2 * right.misfit


def tyre_outline_px(true, radius_mm, width_mm):
    """Points on the outline of a tyre: the convex hull of the picture of its whole surface."""
    hoop, tube = np.meshgrid(np.linspace(0, 2 * np.pi, 361), np.linspace(0, 2 * np.pi, 73))
    out_mm = radius_mm - width_mm / 2 + width_mm / 2 * np.cos(tube)
    surface_mm = np.stack(
        [out_mm * np.cos(hoop), out_mm * np.sin(hoop), width_mm / 2 * np.sin(tube)], axis=-1
    )
    hull = cv2.convexHull(project(true, surface_mm.reshape(-1, 3)).astype(np.float32))
    return hull[::6, 0].astype(float)


@pytest.mark.parametrize(("radius_mm", "width_mm"), [(150.0, 47.0), (252.0, 44.0), (340.0, 28.0)])
@pytest.mark.parametrize("tilt", [(0.0, 0.0), (0.15, -0.2), (-0.1, 0.35)])
def test_a_tyre_seen_obliquely_keeps_its_size(radius_mm, width_mm, tilt):
    """Known answer: exact points on a tyre's outline, of which its two sizes are told.

    A round thing leaves two tilts open that differ little in scale; the direction of view
    is known only as far as people usually stand, so the tilt itself is not asked for.
    """
    true = parameters(rotation=(*tilt, 0.0), shift_mm=(350.0, 500.0, 2800.0))
    tyre = CircleReference(
        kind="wheel",
        placement="beside",
        radius_mm=radius_mm,
        width_mm=width_mm,
        image_px=tyre_outline_px(true, radius_mm, width_mm),
        point_sd_px=0.2,
        log_size_sd=1e-4,
    )
    plane = solve_plane(tyre, camera())
    assert plane.misfit < 1.0
    ends_px = project(true, np.array([[-200.0, -450.0, 0.0], [-200.0, 150.0, 0.0]]))
    ends_mm = cast(plane.parameters, ends_px, 0.0)
    sd_mm = 600 * 0.01
    assert np.linalg.norm(ends_mm[1] - ends_mm[0]) == pytest.approx(600.0, abs=2 * sd_mm)
    assert plane.distance_mm == pytest.approx(np.linalg.norm(true[3:6]), rel=0.005)


def test_the_child_says_where_the_floor_is():
    """A small reference leaves the tilt open; the height of the phone above the feet steadies it."""
    true = parameters(rotation=(0.0, 0.0, 0.0), shift_mm=(-300.0, -200.0, 2600.0), focal_px=3000.0)
    rng = np.random.default_rng(2)
    image_px = project(true, np.column_stack([A4_MM, np.zeros(4)])) + rng.normal(0, 8.0, (4, 2))
    prior = camera(log_focal_sd=0.02, centre_sd_px=30, radial_sd=0.012)
    stance = Stance(*project(true, np.array([[500.0, 350.0, -80.0], [500.0, 900.0, -80.0]])))
    small = reference(A4_MM, image_px, sd_px=8.0, log_size_sd=0.003, log_aspect_sd=0.003)
    without, with_child = solve_plane(small, prior), solve_plane(small, prior, stance=stance)

    def tilt_sd(plane: PlaneScale) -> float:
        return float(np.linalg.norm(plane.shifts[0]))

    assert tilt_sd(with_child) < 0.9 * tilt_sd(without)
    assert abs(with_child.parameters[0]) < 2 * tilt_sd(with_child)


def test_sources_name_every_piece_of_evidence():
    plane = solve_plane(
        reference(A4_MM, project(parameters(), np.column_stack([A4_MM, np.zeros(4)]))), camera()
    )
    assert plane.shifts.shape == (12, len(plane.sources))
    assert plane.sources.count("reference points") == 8
    assert plane.focal_px == pytest.approx(3000, rel=1e-3)
    assert 0 < plane.obliquity_rad < 0.2


@pytest.mark.parametrize(("angle_deg"), [0, 10, 30, 50])
def test_obliquity_is_the_angle_between_view_and_normal(angle_deg):
    rotation = Rotation.from_euler("y", angle_deg, degrees=True).as_rotvec()
    plane = PlaneScale(parameters(rotation=rotation), np.eye(12), ("x",) * 12, 1.0)
    assert np.degrees(plane.obliquity_rad) == pytest.approx(angle_deg, abs=1e-6)
