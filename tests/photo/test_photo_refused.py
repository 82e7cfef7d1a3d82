"""Files that are no picture, or none that can be measured, are refused in words."""

import os
import struct
import subprocess
import sys
import warnings
import zlib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from pose_fit.errors import PhotoFileError
from pose_fit.photo.photo import MAX_FILE_BYTES, read_photo
from tests.photo.picture_files import (
    QUARTERS,
    quarters,
    saved,
    seen_quarters,
)


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
    assert "not a file" in refused(tmp_path / "pipe.jpg")


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
