"""Every kind of picture file gives its colours and places, the same whichever way it is read."""

import io

import numpy as np
import pillow_heif
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from pose_fit.errors import PhotoFileError
from pose_fit.photo.photo import WORKING_SIDE_PX, Photo, read_photo
from tests.photo.picture_files import (
    QUARTERS,
    quarters,
    saved,
    seen_quarters,
)

KINDS = [
    pytest.param("JPEG", "RGB", {"quality": 95}, id="jpeg"),
    pytest.param("JPEG", "RGB", {"quality": 95, "progressive": True}, id="jpeg-progressive"),
    pytest.param("JPEG", "CMYK", {"quality": 95}, id="jpeg-cmyk"),
    pytest.param("MPO", "RGB", {"quality": 95, "save_all": True}, id="mpo"),
    pytest.param("PNG", "RGB", {}, id="png"),
    pytest.param("PNG", "RGB", {"transparency": (1, 2, 3)}, id="png-one-clear-colour"),
    pytest.param("PNG", "P", {}, id="png-palette"),
    pytest.param("PNG", "P", {"transparency": 200}, id="png-palette-clear"),
    pytest.param("PNG", "RGBA", {}, id="png-rgba"),
    pytest.param("WEBP", "RGB", {"quality": 95}, id="webp"),
    pytest.param("WEBP", "RGBA", {"lossless": True}, id="webp-lossless"),
    pytest.param("HEIF", "RGB", {"quality": 95}, id="heic"),
    pytest.param("HEIF", "RGBA", {"quality": 95}, id="heic-rgba"),
    pytest.param("GIF", "P", {}, id="gif"),
    pytest.param("BMP", "RGB", {}, id="bmp"),
]


@pytest.mark.parametrize(("form", "mode", "options"), KINDS)
@pytest.mark.parametrize("size", [(320, 240), (2160, 1620)], ids=["as-is", "shrunk"])
def test_every_kind_gives_its_colours(tmp_path, form, mode, options, size):
    image = quarters(*size).convert(mode, palette=Image.Palette.ADAPTIVE, colors=16)
    photo = read_photo(saved(tmp_path, image, form, **options))
    assert (photo.width_px, photo.height_px) == size
    assert max(photo.pixels.shape[:2]) == min(max(size), WORKING_SIDE_PX)
    # CMYK is turned to RGB without a profile; the rest only loses what compression takes.
    np.testing.assert_allclose(seen_quarters(photo), QUARTERS, atol=12)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "I;16"])
@pytest.mark.parametrize("size", [(320, 240), (2160, 1620)], ids=["as-is", "shrunk"])
def test_grey_pictures(tmp_path, mode, size):
    shades = np.zeros(size[::-1], np.uint8)
    shades[:, size[0] // 2 :] = 200 if mode != "1" else 255
    image = Image.fromarray(shades)
    image = (
        Image.fromarray(shades.astype(np.uint16) * 257) if mode == "I;16" else image.convert(mode)
    )
    photo = read_photo(saved(tmp_path, image, "PNG"))
    seen = seen_quarters(photo)
    np.testing.assert_allclose(seen[[0, 2]], 0, atol=1)
    np.testing.assert_allclose(seen[[1, 3]], shades.max(), atol=1)


def test_a_dark_16_bit_picture_stays_dark(tmp_path):
    image = Image.fromarray(np.full((240, 320), 250, np.uint16))
    assert read_photo(saved(tmp_path, image, "PNG")).pixels.max() <= 1


def test_clear_parts_become_white(tmp_path):
    image = quarters().convert("RGBA")
    image.putalpha(Image.fromarray(np.repeat(np.uint8([[255, 0]]), 240, 0)).resize((320, 240), 0))
    photo = read_photo(saved(tmp_path, image, "PNG"))
    seen = seen_quarters(photo)
    np.testing.assert_allclose(seen[[0, 2]], [QUARTERS[0], QUARTERS[2]], atol=1)
    np.testing.assert_allclose(seen[[1, 3]], 255, atol=1)


@pytest.mark.parametrize("form", ["GIF", "PNG", "WEBP"])
def test_of_an_animation_the_first_picture_is_taken(tmp_path, form):
    later = Image.new("RGB", (320, 240), "black")
    path = saved(tmp_path, quarters(), form, save_all=True, append_images=[later], duration=100)
    np.testing.assert_allclose(seen_quarters(read_photo(path)), QUARTERS, atol=25)


def test_of_several_pictures_in_a_heic_the_main_one_is_taken(tmp_path):
    other = Image.new("RGB", (640, 480), "black")
    path = saved(
        tmp_path, other, "HEIF", save_all=True, append_images=[quarters()], primary_index=1
    )
    np.testing.assert_allclose(seen_quarters(read_photo(path)), QUARTERS, atol=12)


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
@pytest.mark.parametrize("size", [(4001, 2999), (2999, 4001), (8190, 1001), (2100, 2047)])
def test_positions_survive_shrinking(tmp_path, form, size):
    """The middle of a drawn square, found in the working picture, is where it was drawn."""
    left_px, top_px, side_px = size[0] - 301, size[1] - 233, 120
    pixels = np.zeros((*size[::-1], 3), np.uint8)
    pixels[top_px : top_px + side_px, left_px : left_px + side_px] = 255
    photo = read_photo(saved(tmp_path, Image.fromarray(pixels), form))
    weight = photo.grey.astype(float) * (photo.grey > 20)
    rows, columns = np.indices(weight.shape)
    seen_px = np.array([(columns * weight).sum(), (rows * weight).sum()]) / weight.sum()
    true_px = np.array([left_px, top_px]) + (side_px - 1) / 2
    np.testing.assert_allclose(photo.upright_px(seen_px), true_px, atol=0.2)


@given(
    st.tuples(st.integers(240, 12000), st.integers(240, 12000)),
    st.tuples(st.floats(-50, 12050), st.floats(-50, 12050)),
)
def test_working_and_upright_positions_are_inverse(size, point):
    longer = max(size)
    shape = tuple(side * min(longer, WORKING_SIDE_PX) // longer for side in reversed(size))
    photo = Photo("", np.zeros((*shape, 3), np.uint8), *size, None, False, None)
    assert photo.working_scale >= 1
    point_px = np.array(point)
    np.testing.assert_allclose(photo.upright_px(photo.working_px(point_px)), point_px, atol=1e-6)


def test_the_same_file_gives_the_same_photo(tmp_path):
    buffer = io.BytesIO()
    quarters(3000, 2000).save(buffer, "JPEG")
    for name in ("one.jpg", "two.png"):
        (tmp_path / name).write_bytes(buffer.getvalue())
    one, two = read_photo(tmp_path / "one.jpg"), read_photo(tmp_path / "two.png")
    np.testing.assert_array_equal(one.pixels, two.pixels)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_bytes_give_the_photo_that_their_file_gives_and_nothing_is_written(
    tmp_path, monkeypatch, form
):
    pillow_heif.register_heif_opener()
    shades = np.random.default_rng(3).integers(0, 255, (40, 30, 3), np.uint8)
    image = Image.fromarray(shades).resize((300, 400))
    file = tmp_path / "child.any"
    image.save(file, form)
    data = file.read_bytes()
    by_path = read_photo(file)
    file.unlink()
    for variable in ("TMPDIR", "TEMP", "TMP"):
        monkeypatch.setenv(variable, str(tmp_path))
    by_bytes = read_photo(data, name="Robin.jpg")
    np.testing.assert_array_equal(by_bytes.pixels, by_path.pixels)
    assert (by_bytes.width_px, by_bytes.height_px) == (by_path.width_px, by_path.height_px)
    assert (by_path.name, by_bytes.name) == ("child.any", "Robin.jpg")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("data", [b"", b"no picture at all", b"\xff\xd8\xff\xe0"])
def test_bytes_that_are_no_picture_are_told_by_their_name(data):
    with pytest.raises(PhotoFileError, match=r"^Robin\.jpg: "):
        read_photo(data, name="Robin.jpg")


def test_a_picture_is_turned_to_the_left_and_back():
    pixels = np.random.default_rng(1).integers(0, 255, (60, 40, 3), dtype=np.uint8)
    photo = Photo("one", pixels, 80, 120, None, False, None)
    left = photo.turned(1)
    assert (left.width_px, left.height_px) == (photo.height_px, photo.width_px)
    # What was at the right is on top.
    assert (left.pixels[0, :] == photo.pixels[:, -1]).all()
    back = left.turned(-1)
    assert (back.pixels == photo.pixels).all()
    assert (back.width_px, back.height_px) == (photo.width_px, photo.height_px)
