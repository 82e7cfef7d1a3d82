import threading
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, LEG_LANDMARKS, Body
from pose_fit.body.mediapipe_people import Outline
from pose_fit.body.mediapipe_pose import MediaPipePose, pose_model
from pose_fit.photo.photo import Photo, read_photo

SAMPLE = Path(__file__).parents[2] / "sample_images" / "sheet_1.jpg"
#: Landmarks of the body's middle and of its two sides, each with the vendor's numbers
#: (from its documentation): nose 0; eyes 2, 5; ears 7, 8; shoulders 11, 12; hips 23, 24;
#: knees 25, 26; ankles 27, 28; heels 29, 30; toes 31, 32.
PAIRS = {"eye": (2, 5), "ear": (7, 8), "shoulder": (11, 12), "hip": (23, 24)} | {
    "knee": (25, 26),
    "ankle": (27, 28),
    "heel": (29, 30),
    "toe": (31, 32),
}
RADIUS_PX = 6


def shade_of(part: str) -> int:
    return 60 + 20 * ["nose", *PAIRS].index(part)


def dotted(places_px: dict[str, tuple[float, float]], size_px=(700, 900)) -> np.ndarray:
    """A black picture with a dot at each landmark, both sides of a pair in one shade."""
    rows, columns = np.indices(size_px[::-1])
    picture = np.zeros((*size_px[::-1], 3), np.uint8)
    for landmark, (x_px, y_px) in places_px.items():
        inside = np.hypot(columns - x_px, rows - y_px) <= RADIUS_PX
        # The last channel is full inside and tells blurred edges from dots of a lower shade.
        picture[inside] = (shade_of(landmark.split("_")[-1]), 0, 255)
    return picture


class SeesDots:
    """Stands in for the vendor's model: it takes the dot further right for the left side."""

    def process(self, crop: np.ndarray) -> SimpleNamespace:
        height_px, width_px = crop.shape[:2]
        marks = [SimpleNamespace(x=0.0, y=0.0, z=0.0, visibility=0.9) for _ in range(33)]
        for part in ("nose", *PAIRS):
            is_part = np.abs(crop[..., 0].astype(int) - shade_of(part)) <= 5
            rows, columns = np.nonzero(is_part & (crop[..., 2] > 250))
            if not len(rows):
                return SimpleNamespace(pose_landmarks=None, segmentation_mask=None)
            is_right = columns > columns.mean()
            groups = (is_right, ~is_right) if part in PAIRS else (np.ones(len(rows), bool),)
            for number, group in zip(PAIRS.get(part, (0,)), groups, strict=True):
                marks[number].x = (columns[group].mean() + 0.5) / width_px
                marks[number].y = (rows[group].mean() + 0.5) / height_px
        mask = (crop[..., 0] > 30).astype(np.float32)
        found = SimpleNamespace(landmark=marks)
        return SimpleNamespace(
            pose_landmarks=found, pose_world_landmarks=found, segmentation_mask=mask
        )


class SeesNobodyElse:
    """Stands in for the detector of several people."""

    def find(self, pixels: np.ndarray, **_: np.ndarray | None) -> list[Outline]:
        return []


@pytest.fixture
def adapter():
    made = object.__new__(MediaPipePose)
    made._pose, made._lock, made._has_greeted = SeesDots(), threading.Lock(), True
    made._detector = SeesNobodyElse()
    return made


@pytest.mark.parametrize("scale", [1.0, 2.5])
def test_landmarks_of_every_look_come_back_to_where_they_are(adapter, photo_of, standing, scale):
    blank = photo_of(np.zeros((900, 700), np.uint8))
    true_px = standing(blank, hips_px=(330.0, 420.0), leg_px=300.0, scatter_px=1e-9).passes_px[0]
    pixels = dotted(dict(zip(LANDMARKS, true_px, strict=True)))
    photo = photo_of(pixels, scale=scale)
    body = adapter.find(photo)
    assert body is not None
    assert len(body.passes_px) >= 4
    # Mirrored looks included; half a working pixel is what the dots' drawing leaves.
    expected_px = np.broadcast_to(photo.upright_px(true_px), body.passes_px.shape)
    np.testing.assert_allclose(body.passes_px, expected_px, atol=0.6 * scale)
    np.testing.assert_allclose(body.visibility, 0.9)


@pytest.mark.parametrize("times", [1, 2, 3])
def test_what_is_seen_in_a_smaller_picture_lies_where_it_is_in_a_large_one(
    adapter, photo_of, standing, times
):
    blank = photo_of(np.zeros((900, 700), np.uint8))
    true_px = standing(blank, hips_px=(330.0, 420.0), leg_px=300.0, scatter_px=1e-9).passes_px[0]
    pixels = dotted(dict(zip(LANDMARKS, true_px, strict=True)))
    body = adapter.find(photo_of(pixels.repeat(times, axis=0).repeat(times, axis=1)))
    assert body is not None
    expected_px = np.broadcast_to((true_px + 0.5) * times - 0.5, body.passes_px.shape)
    np.testing.assert_allclose(body.passes_px, expected_px, atol=0.6 * times)
    for x_px, y_px in expected_px[0]:
        left, top = round(x_px) - 10 * times, round(y_px) - 10 * times
        dot = body.mask[top : top + 20 * times, left : left + 20 * times] > 0.5
        rows, columns = np.nonzero(dot)
        seen_px = [columns.mean() + left, rows.mean() + top]
        np.testing.assert_allclose(seen_px, [x_px, y_px], atol=0.75 * times)


def test_the_mask_lies_on_the_person(adapter, photo_of, standing):
    blank = photo_of(np.zeros((900, 700), np.uint8))
    true_px = standing(blank, hips_px=(330.0, 420.0), leg_px=300.0, scatter_px=1e-9).passes_px[0]
    pixels = dotted(dict(zip(LANDMARKS, true_px, strict=True)))
    body = adapter.find(photo_of(pixels))
    assert body is not None
    assert body.mask.shape == pixels.shape[:2]
    drawn = pixels[..., 0] > 0
    assert body.mask[drawn].mean() > 0.85
    assert body.mask[~drawn].mean() < 0.01


def test_nobody_is_nobody(adapter, photo_of):
    assert adapter.find(photo_of(np.zeros((900, 700), np.uint8))) is None


def moved(photo: Photo, *, mirrored: bool = False, shift_px: int = 0) -> Photo:
    pixels = photo.pixels[:, ::-1] if mirrored else photo.pixels
    pixels = np.pad(pixels, ((0, 0), (shift_px, 0), (0, 0)), mode="edge") if shift_px else pixels
    height_px, width_px = pixels.shape[:2]
    return Photo(
        photo.name, np.ascontiguousarray(pixels), width_px, height_px, photo.focal_35mm, False, None
    )


@pytest.fixture(scope="module")
def sample() -> tuple[Photo, Body]:
    photo = read_photo(SAMPLE)
    body = pose_model().find(photo)
    assert body is not None
    return photo, body


def test_a_mirrored_picture_gives_mirrored_landmarks(sample):
    photo, body = sample
    mirrored = pose_model().find(moved(photo, mirrored=True))
    assert mirrored is not None
    width_px = photo.pixels.shape[1]
    for landmark in LEG_LANDMARKS:
        side, part = landmark.split("_")
        twin = f"{'right' if side == 'left' else 'left'}_{part}"
        expected_px = [width_px - 1, 0] + np.array([-1, 1]) * body.point_px(twin)
        off_px = np.linalg.norm(mirrored.point_px(landmark) - expected_px)
        assert off_px < 0.02 * body.leg_px, landmark


def test_a_shifted_picture_gives_shifted_landmarks(sample):
    photo, body = sample
    shifted = pose_model().find(moved(photo, shift_px=83))
    assert shifted is not None
    ways_px = shifted.points_px(LEG_LANDMARKS) - body.points_px(LEG_LANDMARKS)
    off_px = np.linalg.norm(ways_px - [83, 0], axis=1)
    assert off_px.max() < 0.02 * body.leg_px


def test_the_same_picture_gives_the_same_landmarks(sample):
    photo, body = sample
    again = pose_model().find(photo)
    assert again is not None
    np.testing.assert_array_equal(again.passes_px, body.passes_px)


def test_looks_scatter_but_not_much(sample):
    _, body = sample
    scatter_px = np.array([body.scatter_px(landmark) for landmark in LEG_LANDMARKS])
    assert (scatter_px > 0).all()
    assert np.median(scatter_px) < 0.03 * body.leg_px


def test_a_wall_is_nobody():
    rng = np.random.default_rng(0)
    pixels = rng.integers(90, 130, (900, 700, 3), np.uint8)
    assert pose_model().find(Photo("wall", pixels, 700, 900, None, False, None)) is None
