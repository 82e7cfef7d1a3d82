import numpy as np
import pytest

from pose_fit.photo.halved import halved, in_halved


@pytest.mark.parametrize("shape", [(6, 8), (7, 9), (6, 9)])
def test_a_halved_picture_has_the_means_of_two_by_two_pixels(shape):
    pixels = np.random.default_rng(1).integers(0, 256, (*shape, 3)).astype(np.uint8)
    height, width = shape[0] // 2, shape[1] // 2
    whole = pixels[: 2 * height, : 2 * width].astype(float)
    means = whole.reshape(height, 2, width, 2, 3).mean(axis=(1, 3))
    assert halved(pixels).shape == (height, width, 3)
    assert np.abs(halved(pixels) - means).max() <= 0.5


def test_places_go_with_the_halved_picture():
    # The middle of the first two by two pixels is the middle of the first pixel.
    np.testing.assert_allclose(in_halved(np.array([0.5, 0.5])), [0.0, 0.0])
    np.testing.assert_allclose(in_halved(np.array([6.5, 2.5])), [3.0, 1.0])
