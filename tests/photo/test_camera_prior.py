import numpy as np
import pytest

from pose_fit.photo.camera_prior import CameraPrior, camera_prior
from pose_fit.photo.photo import Photo


def photo(*, focal_35mm=26.0, reshaped=False, size_px=(4000, 3000)):
    pixels = np.zeros((size_px[1] // 8, size_px[0] // 8, 3), np.uint8)
    return Photo("a photo", pixels, *size_px, focal_35mm, reshaped, None)


def test_a_35_mm_equivalent_is_by_the_diagonal():
    """Known answer: a 43.27 mm lens sees the frame's diagonal as far away as it is long."""
    camera = camera_prior(photo(focal_35mm=43.2666))
    assert camera.focal_px == pytest.approx(5000.0, rel=1e-4)
    assert camera.centre_px == (1999.5, 1499.5)


def test_the_picture_on_its_side_has_the_same_lens():
    lying, upright = camera_prior(photo()), camera_prior(photo(size_px=(3000, 4000)))
    assert lying.focal_px == upright.focal_px


def test_what_is_less_known_is_less_sure():
    known, cropped, stripped = (
        camera_prior(photo()),
        camera_prior(photo(reshaped=True)),
        camera_prior(photo(focal_35mm=None)),
    )
    assert known.log_focal_sd < cropped.log_focal_sd < stripped.log_focal_sd
    assert known.centre_sd_px < cropped.centre_sd_px
    assert known.from_exif
    assert not stripped.from_exif


def test_common_phone_lenses_lie_within_the_unknown_lens():
    """Main lenses of 23 to 28 mm and, at two standard uncertainties, wide ones from 16 mm."""
    camera = camera_prior(photo(focal_35mm=None))
    for focal_35mm, most in ((23, 1), (28, 1), (16, 2)):
        focal_px = focal_35mm / 43.2666 * 5000
        assert abs(np.log(focal_px / camera.focal_px)) < most * camera.log_focal_sd


@pytest.mark.parametrize(
    ("size_px", "sensor_px"),
    [
        ((4000, 2250), (4000, 3000)),  # 16:9 keeps the sensor's long side
        ((2250, 4000), (3000, 4000)),
        ((4000, 1800), (4000, 3000)),  # 20:9
        ((3000, 3000), (4000, 3000)),  # a square keeps its short side
    ],
)
def test_a_crop_of_a_4_to_3_sensor_holds_both_ways_in_which_exif_may_mean_it(size_px, sensor_px):
    """The lens sees the whole sensor by 26 mm, or what is left of it: both within 2 deviations."""
    camera = camera_prior(photo(size_px=size_px))
    of_sensor_px, of_crop_px = (26 / 43.2666 * np.hypot(*size) for size in (sensor_px, size_px))
    assert of_crop_px < camera.focal_px < of_sensor_px
    # Phones speak of the whole sensor as a rule.
    assert camera.focal_px - of_crop_px > 2 * (of_sensor_px - camera.focal_px)
    for focal_px in (of_sensor_px, of_crop_px):
        assert abs(np.log(focal_px / camera.focal_px)) < 2.1 * camera.log_focal_sd
    assert camera.log_focal_sd > camera_prior(photo()).log_focal_sd


@pytest.mark.parametrize("size_px", [(4000, 3000), (6000, 4000), (4000, 2667)])
def test_a_whole_sensor_is_no_crop(size_px):
    """4:3 of phones and 3:2 of other cameras; without EXIF there is not a lens to correct."""
    camera = camera_prior(photo(size_px=size_px))
    assert camera.focal_px == pytest.approx(26 / 43.2666 * np.hypot(*size_px), rel=1e-5)
    assert camera.log_focal_sd == camera_prior(photo()).log_focal_sd
    stripped = camera_prior(photo(size_px=(4000, 2250), focal_35mm=None))
    assert stripped.focal_px == pytest.approx(26 / 43.2666 * np.hypot(4000, 2250), rel=1e-5)


def test_a_wide_lens_bends_more():
    assert camera_prior(photo(focal_35mm=14.0)).radial_sd > camera_prior(photo()).radial_sd


def test_no_camera_without_a_lens():
    with pytest.raises(ValueError, match="wanted a focal length"):
        CameraPrior(0.0, 0.1, (1.0, 1.0), 1.0, 0.01, False)
    with pytest.raises(ValueError, match="standard uncertainty above 0"):
        CameraPrior(3000.0, 0.0, (1.0, 1.0), 1.0, 0.01, False)
