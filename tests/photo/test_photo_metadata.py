"""What a picture file says of orientation, lens and day; damaged metadata cost only themselves."""

import datetime as dt
import struct

import numpy as np
import pytest
from PIL import Image, ImageOps

from pose_fit.photo.photo import read_photo
from tests.photo.picture_files import (
    FOCAL,
    HEIGHT,
    ORIENTATION,
    QUARTERS,
    TAKEN,
    WIDTH,
    exif_block,
    quarters,
    rational,
    saved,
    seen_quarters,
    short,
    text,
)


@pytest.mark.parametrize("size", [(640, 480), (2160, 1620)], ids=["as-is", "shrunk"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_all_orientations_come_upright(tmp_path, orientation, size):
    """Against Pillow's own turning of the picture at full size."""
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    path = saved(tmp_path, quarters(*size), "JPEG", exif=exif, quality=95)
    photo = read_photo(path)
    with Image.open(path) as image:
        expected = ImageOps.exif_transpose(image)
    assert (photo.width_px, photo.height_px) == expected.size
    small = expected.resize(photo.pixels.shape[1::-1])
    assert np.abs(photo.pixels.astype(int) - np.asarray(small, int)).mean() < 3


@pytest.mark.parametrize(
    "stored",
    [
        short(0),
        short(9),
        short(99),
        text(b"up"),
        text(b"upright side"),
        rational(6, 0),
        (3, 0, b""),
    ],
)
def test_an_absurd_orientation_turns_nothing(tmp_path, stored):
    block = exif_block({ORIENTATION: stored}, {FOCAL: short(26)})
    photo = read_photo(saved(tmp_path, quarters(), "JPEG", exif=block, quality=95))
    assert (photo.width_px, photo.height_px) == (320, 240)
    np.testing.assert_allclose(seen_quarters(photo), QUARTERS, atol=12)
    assert photo.focal_35mm == 26.0


@pytest.mark.parametrize(
    ("stored", "expected"),
    [
        (short(26), 26.0),
        (rational(265, 10), 26.5),
        (short(0), None),
        (short(65535), None),
        (rational(26, 0), None),
        (rational(0, 0), None),
        (text(b"a wide lens"), None),
        ((3, 2, struct.pack("<HH", 26, 26)), None),
        ((7, 4, b"\xff\xfe\0\1"), None),
    ],
)
def test_focal_length_is_read_or_left_out(tmp_path, stored, expected):
    block = exif_block({ORIENTATION: short(1)}, {FOCAL: stored})
    photo = read_photo(saved(tmp_path, quarters(), "JPEG", exif=block))
    assert photo.focal_35mm == expected


@pytest.mark.parametrize(
    ("stored", "expected"),
    [
        (text(b"2024:05:01 10:00:00"), dt.date(2024, 5, 1)),
        (text(b"0000:00:00 00:00:00"), None),
        (text(b"yesterday"), None),
        (short(2024), None),
    ],
)
def test_day_is_read_or_left_out(tmp_path, stored, expected):
    block = exif_block({}, {TAKEN: stored})
    assert read_photo(saved(tmp_path, quarters(), "JPEG", exif=block)).taken_on == expected


@pytest.mark.parametrize("cut", range(6, 80, 7))
def test_a_truncated_exif_block_costs_only_the_metadata(tmp_path, cut):
    whole = exif_block(
        {ORIENTATION: short(1), 0x010F: text(b"the maker of the camera")},
        {FOCAL: short(26), TAKEN: text(b"2024:05:01 10:00:00")},
    )
    photo = read_photo(saved(tmp_path, quarters(), "JPEG", exif=whole[:cut], quality=95))
    np.testing.assert_allclose(seen_quarters(photo), QUARTERS, atol=12)
    assert photo.focal_35mm in (None, 26.0)


@pytest.mark.parametrize(
    ("size", "exif_size", "reshaped"),
    [
        ((400, 300), (4000, 3000), False),
        ((300, 400), (4000, 3000), False),
        ((400, 240), (4000, 3000), True),
        ((400, 300), None, False),
        ((450, 300), None, False),
        ((300, 300), None, True),
        ((400, 300), (0, 0), False),
        ((300, 300), (0, 3000), True),
        # Cropped by hand to about 4:3, and a sensor of 4080 x 3072 shrunk to a third.
        ((1096, 827), None, True),
        ((1360, 1024), None, False),
    ],
)
def test_a_cropped_picture_is_noticed(tmp_path, size, exif_size, reshaped):
    exposure = (
        {} if exif_size is None else {WIDTH: short(exif_size[0]), HEIGHT: short(exif_size[1])}
    )
    path = saved(tmp_path, quarters(*size), "JPEG", exif=exif_block({}, exposure))
    assert read_photo(path).reshaped is reshaped
