from dataclasses import replace

import cv2
import numpy as np
import pytest

from pose_fit.checks.picture_quality import quality_of, quality_of_all

HIPS_PX, LEG_PX = (400.0, 420.0), 320.0


@pytest.fixture
def legs(photo_of, standing):
    """Two dark legs before a light wall, on a darker floor, and the body that has them."""
    pixels = np.full((1000, 800), 190, np.uint8)
    pixels[775:] = 120
    for middle in (355, 445):
        pixels[380:770, middle - 25 : middle + 25] = 60
    blank = photo_of(pixels)
    return pixels, standing(blank, hips_px=HIPS_PX, leg_px=LEG_PX)


@pytest.mark.parametrize("sigma_px", [1.5, 3.0, 5.0])
def test_the_blur_of_known_edges_is_found(photo_of, legs, sigma_px):
    pixels, body = legs
    soft = cv2.GaussianBlur(pixels, (0, 0), sigma_px)
    quality = quality_of(photo_of(soft), body)
    assert quality.blur_part * LEG_PX == pytest.approx(sigma_px, rel=0.15)


def test_blur_is_counted_in_legs_not_in_pixels(photo_of, legs, standing):
    pixels, _ = legs
    photo = photo_of(cv2.GaussianBlur(pixels, (0, 0), 4.0), scale=2.0)
    large = standing(photo, hips_px=(800.0, 840.0), leg_px=2 * LEG_PX)
    assert quality_of(photo, large).blur_part * LEG_PX == pytest.approx(4.0, rel=0.15)


def test_a_sharp_bright_picture_is_not_doubted(photo_of, legs):
    pixels, body = legs
    quality = quality_of(photo_of(pixels), body)
    assert quality.doubts == ()
    assert quality.refusal is None


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (lambda p: cv2.GaussianBlur(p, (0, 0), 7.0), "picture_blurred"),
        (lambda p: cv2.blur(p, (36, 1)), "picture_blurred"),
        (lambda p: p // 7, "picture_dark"),
        (lambda p: np.clip(p.astype(int) * 5, 0, 255).astype(np.uint8), "picture_overexposed"),
    ],
    ids=["out of focus", "moved", "dark", "burnt out"],
)
def test_a_useless_picture_is_refused_with_its_reason(photo_of, legs, change, code):
    pixels, body = legs
    refusal = quality_of(photo_of(change(pixels)), body).refusal
    assert refusal is not None
    assert code in [reason.code for reason in refusal.reasons]
    assert refusal.remedies


def test_the_whole_picture_is_judged_where_nobody_was_found(photo_of):
    night = quality_of_all(photo_of(np.full((400, 300), 9, np.uint8)))
    assert night.refusal is not None
    assert [reason.code for reason in night.refusal.reasons] == ["picture_dark"]


def test_a_white_room_behind_legs_that_are_seen_is_not_overexposed(photo_of, legs, standing):
    pixels, body = legs
    white = np.where(pixels >= 120, 255, pixels).astype(np.uint8)
    person = (white < 255).astype(np.float32)
    assert quality_of(photo_of(white), replace(body, mask=person)).refusal is None
    # White trousers before it are another thing.
    lost = quality_of(photo_of(np.full_like(white, 254)), replace(body, mask=person)).refusal
    assert lost is not None
    assert "picture_overexposed" in [reason.code for reason in lost.reasons]
