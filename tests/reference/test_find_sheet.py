import cv2
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photogrammetry.plane import solve_plane
from pose_fit.photogrammetry.projection import project
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.printed_sheet import RULER_MM, marker_corners_mm, sheet_image
from pose_fit.reference.reference import PointReference
from pose_fit.refusal import Refusal

SIZE_PX = (900, 1200)
FOCAL_PX = 26.0 / np.hypot(36, 24) * np.hypot(*SIZE_PX)
PX_PER_MM = 4.0


def pose(*, distance_mm=2500.0, tilt_deg=(0.0, 0.0), roll_deg=0.0, at_mm=(300.0, 200.0)):
    rotation = Rotation.from_euler("z", roll_deg, degrees=True) * Rotation.from_euler(
        "xy", tilt_deg, degrees=True
    )
    centre_px = (np.array(SIZE_PX) - 1) / 2
    return np.array(
        [*rotation.as_rotvec(), *at_mm, distance_mm, np.log(FOCAL_PX), *centre_px, 0.0, 0.0, 0.0]
    )


def picture(at, *, page=None, blur_px=0.6, noise=3.0, contrast=1.0, seed=0):
    """The page seen from a pose, four times oversampled, on a wall of random blotches."""
    page = sheet_image(px_per_mm=PX_PER_MM) if page is None else page
    rng = np.random.default_rng(seed)
    over = 4
    half_mm = np.array(page.shape[::-1]) / 2 / PX_PER_MM
    corners_mm = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half_mm
    corners_px = project(at, np.column_stack([corners_mm, np.zeros(4)]))
    page_px = (corners_mm + half_mm) * PX_PER_MM - 0.5
    to_big = cv2.getPerspectiveTransform(
        page_px.astype(np.float32), ((corners_px + 0.5) * over - 0.5).astype(np.float32)
    )
    blotches = cv2.GaussianBlur(rng.uniform(60, 220, (1200, 900)).astype(np.float32), (0, 0), 6)
    wall = cv2.resize(blotches * 3 - 280, None, fx=over, fy=over).clip(40, 210).astype(np.uint8)
    big = cv2.warpPerspective(
        page, to_big, (SIZE_PX[0] * over, SIZE_PX[1] * over), wall, cv2.INTER_AREA,
        cv2.BORDER_TRANSPARENT,
    )  # fmt: skip
    small = cv2.resize(big, SIZE_PX, interpolation=cv2.INTER_AREA).astype(float)
    seen = cv2.GaussianBlur(128 + contrast * (small - 128), (0, 0), blur_px)
    return (seen + rng.normal(0, noise, seen.shape)).clip(0, 255).astype(np.uint8)


def print_scale(reference: PointReference) -> float:
    """All markers' middles lie equally far from the middle of the sheet."""
    off_mm, nominal_mm = (
        np.linalg.norm(corners_mm.reshape(-1, 4, 2).mean(axis=1), axis=1).mean()
        for corners_mm in (reference.object_mm, np.stack(list(marker_corners_mm().values())))
    )
    return float(off_mm / nominal_mm)


def corner_errors_px(reference: PointReference, at) -> np.ndarray:
    """How far the corners lie from where they are, whatever scale the paper's edges told."""
    nominal_mm = reference.object_mm / print_scale(reference)
    points_mm = np.column_stack([nominal_mm, np.zeros(len(nominal_mm))])
    return np.linalg.norm(reference.image_px - project(at, points_mm), axis=1)


@pytest.mark.parametrize(
    ("distance_mm", "tilt_deg", "roll_deg"),
    [
        (1500.0, (0, 0), 0),
        (2500.0, (0, 0), 0),
        (4000.0, (0, 0), 0),
        (2500.0, (20, 0), 0),
        (2500.0, (-10, 35), 5),
        (2500.0, (15, -25), -12),
        (2500.0, (0, 0), 90),
        (2500.0, (0, 0), 180),
    ],
)
@pytest.mark.parametrize("seed", range(3))
def test_the_sheet_in_perspective(photo_of, distance_mm, tilt_deg, roll_deg, seed):
    at = pose(distance_mm=distance_mm, tilt_deg=tilt_deg, roll_deg=roll_deg)
    photo = photo_of(picture(at, seed=seed))
    sheet = find_sheet(photo, placement="wall", ruler_mm=None)
    assert isinstance(sheet, PointReference)
    assert sheet.image_px.shape == (16, 2)
    errors_px = corner_errors_px(sheet, at)
    # What the reference says of its own scatter, root mean square over both directions.
    assert np.sqrt(np.mean(errors_px**2)) < np.sqrt(2) * sheet.point_sd_px
    assert abs(np.log(print_scale(sheet))) < 3 * sheet.log_size_sd
    plane = solve_plane(sheet, camera_prior(photo))
    assert plane.misfit < 1.5
    assert plane.distance_mm == pytest.approx(np.linalg.norm(at[3:6]), rel=0.03)


@pytest.mark.parametrize("blur_px", [1.5, 2.5])
def test_a_blurred_noisy_pale_sheet(photo_of, blur_px):
    at = pose(distance_mm=2000.0, tilt_deg=(5, 10))
    photo = photo_of(picture(at, blur_px=blur_px, noise=8.0, contrast=0.5))
    sheet = find_sheet(photo, placement="wall", ruler_mm=None)
    assert isinstance(sheet, PointReference)
    assert corner_errors_px(sheet, at).max() < 2.0
    assert abs(np.log(print_scale(sheet))) < 3 * sheet.log_size_sd


def test_corners_come_in_pixels_of_the_file(photo_of):
    at = pose()
    small = find_sheet(photo_of(picture(at)), placement="wall", ruler_mm=None)
    large = find_sheet(photo_of(picture(at), scale=2.5), placement="wall", ruler_mm=None)
    assert isinstance(small, PointReference)
    assert isinstance(large, PointReference)
    np.testing.assert_allclose(large.image_px + 0.5, 2.5 * (small.image_px + 0.5))
    assert large.point_sd_px == pytest.approx(2.5 * small.point_sd_px)


def test_a_measured_ruler_sets_the_scale_and_steadies_it(photo_of):
    # Trimmed so close to the marks that the paper's own size tells nothing.
    rim = int(8 * PX_PER_MM)
    trimmed = sheet_image(px_per_mm=PX_PER_MM)[rim:-rim, rim:-rim]
    photo = photo_of(picture(pose(), page=trimmed))
    unmeasured = find_sheet(photo, placement="wall", ruler_mm=None)
    shrunk = find_sheet(photo, placement="wall", ruler_mm=0.96 * RULER_MM)
    assert isinstance(unmeasured, PointReference)
    assert isinstance(shrunk, PointReference)
    np.testing.assert_allclose(shrunk.object_mm, 0.96 * unmeasured.object_mm)
    assert shrunk.log_size_sd < 0.5 * unmeasured.log_size_sd


def covered(page, *numbers):
    page = page.copy()
    height, width = page.shape
    for number in numbers:
        row, column = divmod(number, 2)
        page[row * height // 2 : (row + 1) * height // 2, column * width // 2 :][
            :, : width // 2
        ] = 130
    return page


def test_two_markers_are_enough(photo_of):
    at = pose()
    photo = photo_of(picture(at, page=covered(sheet_image(px_per_mm=PX_PER_MM), 0, 2)))
    sheet = find_sheet(photo, placement="wall", ruler_mm=None)
    assert isinstance(sheet, PointReference)
    assert sheet.image_px.shape == (8, 2)
    assert corner_errors_px(sheet, at).max() < 1.0


def refusal_code(found: object) -> str:
    assert isinstance(found, Refusal)
    assert found.remedies
    return found.reasons[0].code


def test_a_covered_sheet_is_refused(photo_of):
    page = covered(sheet_image(px_per_mm=PX_PER_MM), 0, 1, 2)
    photo = photo_of(picture(pose(), page=page))
    assert refusal_code(find_sheet(photo, placement="wall", ruler_mm=None)) == "reference_hidden"


@pytest.mark.parametrize("seed", range(4))
def test_no_sheet_is_refused(photo_of, seed):
    blank = np.full((400, 300), 240, np.uint8)
    photo = photo_of(picture(pose(), page=blank, seed=seed))
    assert refusal_code(find_sheet(photo, placement="wall", ruler_mm=None)) == "reference_missing"


def test_a_sheet_too_far_away_is_refused_not_misread(photo_of):
    photo = photo_of(picture(pose(distance_mm=12000.0)))
    assert refusal_code(find_sheet(photo, placement="wall", ruler_mm=None)) == "reference_missing"


def test_a_mirrored_picture_is_told(photo_of):
    mirrored = np.ascontiguousarray(picture(pose())[:, ::-1])
    found = find_sheet(photo_of(mirrored), placement="wall", ruler_mm=None)
    assert refusal_code(found) == "picture_mirrored"


def test_two_sheets_are_refused(photo_of):
    left, right = picture(pose(at_mm=(-300.0, 200.0))), picture(pose(at_mm=(300.0, 200.0)))
    both = np.hstack([left[:, :450], right[:, 450:]])
    found = find_sheet(photo_of(both), placement="wall", ruler_mm=None)
    assert refusal_code(found) == "reference_ambiguous"
