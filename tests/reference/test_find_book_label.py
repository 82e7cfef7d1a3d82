"""The label before two thighs, drawn through a known camera."""

import cv2
import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from pose_fit.checks.book_seen import book_crotch, check_book
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import project
from pose_fit.reference.book_label import LABEL_HEIGHT_MM, LABEL_WIDTH_MM, label_image
from pose_fit.reference.find_book_label import BookLabel, book_reference, find_book_label
from pose_fit.refusal import Refusal

SIZE_PX = (900, 1200)
FOCAL_PX = 26.0 / np.hypot(36, 24) * np.hypot(*SIZE_PX)
LEG_MM, HIPS_MM = 520.0, np.array([0.0, 0.0, -70.0])
#: The crotch, and how far before the wall the label stands.
CROTCH_MM, DEPTH_MM = 42.0, 180.0


def camera(distance_mm=2500.0, pitch_deg=-8.0):
    """Plane parameters of a wall seen a little from above."""
    turn = Rotation.from_euler("x", pitch_deg, degrees=True).as_rotvec()
    centre_px = (np.array(SIZE_PX) - 1) / 2
    return np.array([*turn, 0.0, 100.0, distance_mm, np.log(FOCAL_PX), *centre_px, 0, 0, 0])


def label_mm(points_mm, *, roll_deg=0.0, slipped_mm=0.0, aside_mm=0.0):
    """Points of the label in the wall's frame."""
    turned = points_mm @ Rotation.from_euler("z", roll_deg, degrees=True).as_matrix()[:2, :2].T
    at_mm = np.array([aside_mm, CROTCH_MM + slipped_mm, -DEPTH_MM])
    return np.column_stack([turned, np.zeros(len(turned))]) + at_mm


def picture(at, *, covered=0.0, **held):
    over, px_per_mm = 4, 8.0
    page = label_image(px_per_mm=px_per_mm)
    page[:, : round(covered * page.shape[1])] = 90
    half = LABEL_WIDTH_MM / 2
    ends_mm = np.array([[-half, 0], [half, 0], [half, LABEL_HEIGHT_MM], [-half, LABEL_HEIGHT_MM]])
    seen_px = project(at, label_mm(ends_mm, **held))
    page_px = (ends_mm + np.array([half, 0])) * px_per_mm - 0.5
    to_big = cv2.getPerspectiveTransform(
        page_px.astype(np.float32), ((seen_px + 0.5) * over - 0.5).astype(np.float32)
    )
    rng = np.random.default_rng(2)
    cloth = cv2.GaussianBlur(rng.uniform(40, 160, (1200, 900)).astype(np.float32), (0, 0), 4)
    big = cv2.warpPerspective(
        page, to_big, (SIZE_PX[0] * over, SIZE_PX[1] * over),
        cv2.resize(cloth, None, fx=over, fy=over).astype(np.uint8), cv2.INTER_AREA,
        cv2.BORDER_TRANSPARENT,
    )  # fmt: skip
    small = cv2.resize(big, SIZE_PX, interpolation=cv2.INTER_AREA).astype(float)
    seen = cv2.GaussianBlur(small, (0, 0), 0.6) + rng.normal(0, 2.5, small.shape)
    return seen.clip(0, 255).astype(np.uint8)


@pytest.fixture
def look(photo_of, standing):
    def make(at=None, **held):
        at = camera() if at is None else at
        photo = photo_of(picture(at, **held))
        hips_px, ankles_px = project(at, np.stack([HIPS_MM, HIPS_MM + np.array([0, LEG_MM, 0])]))
        body = standing(
            photo, hips_px=tuple(hips_px), leg_px=float(ankles_px[1] - hips_px[1]), scatter_px=1e-3
        )
        return find_book_label(photo, body)

    return make


def legs():
    sides = HIPS_MM + np.array([[-60.0, 0, 0], [60.0, 0, 0]])
    down = np.array([0.0, 1.0, 0.0])
    return LegGeometry(
        sides, sides + LEG_MM / 2 * down, sides + LEG_MM * down, LEG_MM, LEG_MM, down
    )


def plane(at):
    return PlaneScale(at, np.zeros((12, 0)), (), 1.0)


def codes(refusal):
    return None if refusal is None else [reason.code for reason in refusal.reasons]


@pytest.mark.parametrize("distance_mm", [1800.0, 2500.0, 3200.0])
def test_the_top_edge_is_found_to_a_part_of_a_pixel(look, distance_mm):
    at = camera(distance_mm)
    label = look(at)
    assert isinstance(label, BookLabel)
    true_px = project(at, label_mm(np.array([[0.0, 0.0]])))[0]
    assert np.abs(label.middle_px - true_px).max() < 0.35


def test_where_it_stands_is_told_by_its_size(look):
    at = camera()
    label = look(at)
    crotch = book_crotch(label, plane(at), legs())
    assert crotch.depth_mm == pytest.approx(DEPTH_MM, abs=2 * crotch.depth_sd_mm)
    assert 5 < crotch.depth_sd_mm < 40
    assert check_book(label, crotch, plane(at), legs()) is None


@pytest.mark.parametrize(
    ("held", "code"),
    [
        ({"roll_deg": 3.0}, None),
        ({"roll_deg": 10.0}, "book_tilted"),
        ({"roll_deg": -10.0}, "book_tilted"),
        ({"slipped_mm": 110.0}, "book_slipped"),
        ({"aside_mm": 110.0}, "book_slipped"),
        ({"slipped_mm": -20.0}, None),
    ],
)
def test_a_book_held_wrongly_is_told_of(look, held, code):
    at = camera()
    label = look(at, **held)
    crotch = book_crotch(label, plane(at), legs())
    assert codes(check_book(label, crotch, plane(at), legs())) == (None if code is None else [code])


def test_a_label_half_hidden_is_measured_and_one_marker_is_not(look):
    half = look(covered=0.45)
    assert isinstance(half, BookLabel)
    assert half.sd_px > look().sd_px
    assert len(half.corners_px) == 8


def test_no_book_is_nothing_to_tell(photo_of, standing):
    photo = photo_of(np.full(SIZE_PX[::-1], 128, np.uint8))
    body = standing(photo, hips_px=(450.0, 600.0), leg_px=300.0, scatter_px=1e-3)
    assert find_book_label(photo, body) is None


def test_one_marker_alone_is_a_hidden_label(photo_of, standing, monkeypatch):
    page = picture(camera())
    photo = photo_of(page)
    body = standing(photo, hips_px=(450.0, 560.0), leg_px=190.0, scatter_px=1e-3)
    whole = find_book_label(photo, body)
    assert isinstance(whole, BookLabel)
    kept = page.copy()
    x_px, y_px = np.round(whole.corners_px[:4].max(axis=0)).astype(int) + 2
    kept[y_px:] = 90
    kept[:, x_px:] = 90
    refusal = find_book_label(photo_of(kept), body)
    assert isinstance(refusal, Refusal)
    assert codes(refusal) == ["book_label_hidden"]


def test_a_measured_bar_makes_the_label_a_surer_object(look):
    label = look()
    unread, read = book_reference(label, bar_mm=None), book_reference(label, bar_mm=107.8)
    assert read.log_size_sd < unread.log_size_sd
    np.testing.assert_allclose(read.object_mm, 0.98 * unread.object_mm)
    assert unread.placement == "beside"
