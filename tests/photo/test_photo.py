import datetime as dt
import io
import os
import struct
import subprocess
import sys
import warnings
import zlib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pillow_heif
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageOps

from pose_fit.errors import PhotoFileError
from pose_fit.photo.photo import MAX_FILE_BYTES, WORKING_SIDE_PX, Photo, read_photo

pillow_heif.register_heif_opener()

#: Colours of the four quarters, row by row; far apart, and told apart in grey too.
QUARTERS = ((230, 40, 30), (40, 200, 60), (30, 60, 220), (240, 230, 90))


def quarters(width_px: int = 320, height_px: int = 240) -> Image.Image:
    pixels = np.zeros((height_px, width_px, 3), np.uint8)
    middle_y, middle_x = height_px // 2, width_px // 2
    pixels[:middle_y, :middle_x], pixels[:middle_y, middle_x:] = QUARTERS[:2]
    pixels[middle_y:, :middle_x], pixels[middle_y:, middle_x:] = QUARTERS[2:]
    return Image.fromarray(pixels)


def seen_quarters(photo: Photo) -> np.ndarray:
    height_px, width_px = photo.pixels.shape[:2]
    rows, columns = (height_px // 4, 3 * height_px // 4), (width_px // 4, 3 * width_px // 4)
    return np.array([photo.pixels[row, column] for row in rows for column in columns], float)


def saved(folder: Path, image: Image.Image, form: str, name: str = "photo.img", **options) -> Path:
    path = folder / name
    image.save(path, form, **options)
    return path


def exif_block(
    main: dict[int, tuple[int, int, bytes]], exposure: dict[int, tuple[int, int, bytes]]
) -> bytes:
    """An EXIF block written by hand (TIFF 6.0, section 2), so that it can be absurd.

    Each entry is (type, count, at most four bytes or a longer value kept behind).
    """
    start = 8 + 2 + 12 * (len(main) + 1) + 4
    exposure_bytes = _directory(exposure, start)
    pointer = {0x8769: (4, 1, struct.pack("<I", start))}
    main_bytes = _directory(main | pointer, 8, behind=start + len(exposure_bytes))
    entries, values = main_bytes[: start - 8], main_bytes[start - 8 :]
    return b"Exif\0\0II*\0" + struct.pack("<I", 8) + entries + exposure_bytes + values


def _directory(
    entries: dict[int, tuple[int, int, bytes]], at: int, behind: int | None = None
) -> bytes:
    values = b""
    start = at + 2 + 12 * len(entries) + 4 if behind is None else behind
    table = struct.pack("<H", len(entries))
    for tag, (kind, count, value) in sorted(entries.items()):
        if len(value) > 4:
            place = struct.pack("<I", start + len(values))
            values += value
        else:
            place = value.ljust(4, b"\0")
        table += struct.pack("<HHI", tag, kind, count) + place
    return table + struct.pack("<I", 0) + values


def short(value: int) -> tuple[int, int, bytes]:
    return 3, 1, struct.pack("<H", value)


def text(value: bytes) -> tuple[int, int, bytes]:
    return 2, len(value) + 1, value + b"\0"


def rational(numerator: int, denominator: int) -> tuple[int, int, bytes]:
    return 5, 1, struct.pack("<II", numerator, denominator)


ORIENTATION, FOCAL, WIDTH, HEIGHT, TAKEN = 0x0112, 0xA405, 0xA002, 0xA003, 0x9003

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


def refused(path) -> str:
    with pytest.raises(PhotoFileError) as caught:
        read_photo(path)
    assert Path(path).name in str(caught.value)
    return str(caught.value)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP", "HEIF", "GIF", "BMP"])
@pytest.mark.parametrize("part", [0.0, 0.001, 0.02, 0.3, 0.9])
def test_truncated_files_are_refused(tmp_path, form, part):
    # A picture with fine structure, so that no kind of file is nearly all header.
    rng = np.random.default_rng(1)
    path = saved(tmp_path, Image.fromarray(rng.integers(0, 255, (240, 320, 3), np.uint8)), form)
    content = path.read_bytes()
    path.write_bytes(content[: int(part * len(content))])
    message = refused(path)
    assert "empty" in message if part == 0 else "damaged" in message or "not a picture" in message


@pytest.mark.parametrize("mode", ["RGB", "P", "I;16", "RGBA"])
def test_damaged_pixels_of_a_png_are_not_measured(tmp_path, mode):
    image = (
        Image.fromarray(np.arange(240 * 320, dtype=np.uint16).reshape(240, 320))
        if mode == "I;16"
        else quarters().convert(mode)
    )
    path = saved(tmp_path, image, "PNG")
    content = bytearray(path.read_bytes())
    at = content.index(b"IDAT") + 4 + 20
    content[at : at + 8] = b"\xff" * 8
    path.write_bytes(content)
    assert "damaged" in refused(path)


@pytest.mark.parametrize(
    "content", [b"Dear shop, here is the photo", b"\xff\xd8\xff", b"%PDF-1.7", b"\0" * 4000]
)
def test_other_files_are_no_pictures(tmp_path, content):
    path = tmp_path / "photo.jpg"
    path.write_bytes(content)
    assert "not a picture this program reads; wanted JPEG" in refused(path)


def test_the_content_counts_not_the_extension(tmp_path):
    path = saved(tmp_path, quarters(), "PNG", "photo.jpg")
    np.testing.assert_allclose(seen_quarters(read_photo(path)), QUARTERS, atol=1)


def test_formats_that_hide_other_pictures_are_not_read(tmp_path):
    """A raw file is a TIFF that opens as its thumbnail; PostScript is a program."""
    assert "not a picture" in refused(saved(tmp_path, quarters(), "TIFF", "photo.dng"))
    assert "not a picture" in refused(saved(tmp_path, quarters(), "EPS", "photo.eps"))


def png_of_size(width_px: int, height_px: int) -> bytes:
    def chunk(name: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        )

    header = struct.pack(">IIBBBBB", width_px, height_px, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1000))
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize(
    ("size", "found"),
    [((13000, 9300), "121"), ((60000, 60000), "far more"), ((2**31 - 1,) * 2, "")],
)
def test_pictures_too_large_are_refused_before_decoding(tmp_path, size, found):
    path = tmp_path / "bomb.png"
    path.write_bytes(png_of_size(*size))
    assert f"wanted at most 120 megapixels, found {found}" in refused(path)


def test_a_gif_and_a_bmp_that_claim_to_be_huge_are_refused(tmp_path):
    gif = bytearray(saved(tmp_path, quarters(), "GIF").read_bytes())
    gif[6:10] = b"\xff" * 4
    (tmp_path / "bomb.gif").write_bytes(gif)
    assert "megapixels" in refused(tmp_path / "bomb.gif")
    bmp = bytearray(saved(tmp_path, quarters(), "BMP").read_bytes())
    bmp[18:26] = struct.pack("<ii", 60000, 60000)
    (tmp_path / "bomb.bmp").write_bytes(bmp)
    assert "megapixels" in refused(tmp_path / "bomb.bmp")


def test_text_that_unpacks_without_end_is_refused(tmp_path):
    content = png_of_size(320, 240)
    body = b"comment\0\0" + zlib.compress(bytes(100_000_000))
    chunk = struct.pack(">I", len(body)) + b"zTXt" + body
    chunk += struct.pack(">I", zlib.crc32(b"zTXt" + body))
    path = tmp_path / "bomb.png"
    path.write_bytes(content[:33] + chunk + content[33:])
    assert "damaged" in refused(path)


def test_a_file_too_large_to_be_a_photo_is_not_read(tmp_path):
    path = tmp_path / "film.jpg"
    with path.open("wb") as film:
        film.truncate(MAX_FILE_BYTES + 1)
    assert "wanted at most 256 megabytes" in refused(path)


def test_a_picture_too_small_is_refused(tmp_path):
    message = refused(saved(tmp_path, quarters(239, 1000), "PNG"))
    assert "wanted at least 240 pixels a side, found 239 x 1000" in message


def test_a_picture_of_more_than_100_megapixels_is_read(tmp_path):
    image = quarters(120, 90).convert("L").resize((12000, 9000), Image.Resampling.NEAREST)
    photo = read_photo(saved(tmp_path, image, "JPEG"))
    assert (photo.width_px, photo.height_px) == (12000, 9000)
    assert photo.pixels.shape == (1536, 2048, 3)


@pytest.mark.parametrize("options", [{}, {"progressive": True, "subsampling": 0}])
def test_memory_for_48_megapixels(tmp_path, options):
    """Peak of a process that only reads one; the limit of the whole measurement is 900 MB."""
    path = saved(tmp_path, quarters(8064, 6048), "JPEG", **options)
    # Not getrusage: its peak starts with what the parent of the process had.
    code = (
        "import pathlib, re, sys; from pose_fit.photo.photo import read_photo; read_photo(sys.argv[1]);"
        "print(re.search(r'VmHWM:\\s+(\\d+) kB', pathlib.Path('/proc/self/status').read_text())[1])"
    )
    run = subprocess.run(
        [sys.executable, "-W", "error", "-c", code, str(path)],
        capture_output=True,
        text=True,
        check=True,
    )
    assert run.stderr == ""
    assert int(run.stdout) * 1024 < 600e6


@pytest.mark.parametrize(
    "name", ["my photo.jpg", "Fotografía niña 1.jpg", "写真 (2).jpg", "a'b\"c;d.jpg", "-x.jpg"]
)
def test_any_file_name(tmp_path, name):
    folder = tmp_path / "a folder ü"
    folder.mkdir()
    path = saved(folder, quarters(), "JPEG", name)
    for given_path in (path, str(path)):
        assert read_photo(given_path).name == name


def test_a_file_name_that_is_no_text(tmp_path):
    path = os.fsencode(tmp_path) + b"/caf\xe9.jpg"
    try:
        Path(os.fsdecode(path)).write_bytes(saved(tmp_path, quarters(), "JPEG").read_bytes())
    except OSError:
        pytest.skip("this file system wants text")
    photo = read_photo(os.fsdecode(path))
    assert photo.name.encode("utf-8") == b"caf?.jpg"


@pytest.mark.parametrize(
    ("name", "message"),
    [("missing.jpg", "no such file"), ("x" * 300 + ".jpg", "cannot be read"), ("\0", "cannot")],
)
def test_paths_that_lead_nowhere(tmp_path, name, message):
    assert message in refused(tmp_path / name)


def test_a_folder_is_no_picture(tmp_path):
    assert "found a folder" in refused(tmp_path)


def test_a_pipe_is_no_picture_and_nobody_waits_for_it(tmp_path):
    os.mkfifo(tmp_path / "pipe.jpg")
    assert "no file" in refused(tmp_path / "pipe.jpg")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read(tmp_path):
    path = saved(tmp_path, quarters(), "JPEG")
    path.chmod(0)
    assert "may not be read" in refused(path)


def test_reading_in_threads_leaves_the_warnings_alone(tmp_path):
    path = saved(tmp_path, quarters(), "JPEG", exif=b"Exif\0\0II*\0\x08\0\0\0\xff\xff")
    before = list(warnings.filters)
    with ThreadPoolExecutor(4) as pool:
        photos = list(pool.map(read_photo, [path] * 40))
    assert list(warnings.filters) == before
    assert all((photo.pixels == photos[0].pixels).all() for photo in photos)


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
