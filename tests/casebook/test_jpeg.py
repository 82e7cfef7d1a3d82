"""The stored picture holds pixels and nothing else."""

import io
import struct

import numpy as np
import pytest
from PIL import Image

from pose_fit.casebook.kept_picture import jpeg_of
from pose_fit.errors import CaseBookError

#: Markers of ITU-T T.81, table B.1, and JFIF's APP0: what a decoder needs, and no more.
NEEDED = {0xE0: "JFIF", 0xDB: "DQT", 0xC0: "SOF0", 0xC4: "DHT", 0xDA: "SOS"}


def _segments(jpeg: bytes) -> list[tuple[int, bytes]]:
    """Marker and payload of each segment up to the picture data (T.81, B.1.1)."""
    assert jpeg[:2] == b"\xff\xd8"
    position, found = 2, []
    while True:
        start, marker, length = struct.unpack_from(">BBH", jpeg, position)
        assert start == 0xFF
        found.append((marker, jpeg[position + 4 : position + 2 + length]))
        position += 2 + length
        if marker == 0xDA:
            return found


def _phone_file() -> bytes:
    """A JPEG with everything a phone writes: EXIF with place, thumbnail, profile, comment, XMP."""
    ramp = np.linspace(0, 255, 320, dtype=np.uint8)
    image = Image.fromarray(np.dstack([np.tile(ramp, (240, 1))] * 3))
    exif = Image.Exif()
    exif[0x010F] = "SECRETMAKER"
    exif[0x9286] = "SECRETCOMMENT"
    exif.get_ifd(0x8825)[1] = "SECRETPLACE"
    file = io.BytesIO()
    image.save(
        file,
        "JPEG",
        exif=exif,
        comment=b"SECRETREMARK",
        icc_profile=b"SECRETPROFILE" * 20,
        xmp=b"<x>SECRETXMP</x>",
    )
    return file.getvalue()


def test_nothing_of_a_phones_file_survives():
    original = _phone_file()
    assert original.count(b"SECRET") >= 5
    jpeg = jpeg_of(np.asarray(Image.open(io.BytesIO(original))))
    assert b"SECRET" not in jpeg
    assert b"Exif" not in jpeg
    assert {marker for marker, _ in _segments(jpeg)} <= NEEDED.keys()
    [jfif] = [payload for marker, payload in _segments(jpeg) if marker == 0xE0]
    # JFIF 1.02: identifier, version, density, and a thumbnail of 0 x 0 pixels.
    assert (jfif[:5], jfif[-2:], len(jfif)) == (b"JFIF\0", b"\0\0", 14)
    again = Image.open(io.BytesIO(jpeg))
    assert (again.size, again.mode) == ((320, 240), "RGB")
    assert not again.getexif()
    assert not {"comment", "icc_profile", "exif", "xmp"} & set(again.info)


def test_nothing_follows_the_end_of_the_picture():
    jpeg = jpeg_of(np.zeros((50, 40, 3), np.uint8))
    assert jpeg.endswith(b"\xff\xd9")
    assert jpeg.count(b"\xff\xd9") == 1


def test_the_pixels_are_those_given():
    rows, columns = np.mgrid[0:120, 0:90]
    pixels = np.dstack([rows * 2, columns * 2, 0 * rows + 77]).astype(np.uint8)
    again = np.asarray(Image.open(io.BytesIO(jpeg_of(pixels)))).astype(int)
    assert abs(again - pixels).mean() < 3
    turned = np.asarray(Image.open(io.BytesIO(jpeg_of(pixels.transpose(1, 0, 2))))).astype(int)
    assert turned.shape == (90, 120, 3)


@pytest.mark.parametrize(
    "pixels",
    [
        np.zeros((20, 20), np.uint8),
        np.zeros((20, 20, 4), np.uint8),
        np.zeros((20, 20, 3), np.float64),
        np.zeros((0, 20, 3), np.uint8),
        np.zeros((70_000, 1, 3), np.uint8),
    ],
)
def test_what_is_no_picture_is_refused(pixels):
    with pytest.raises(CaseBookError, match="picture: wanted"):
        jpeg_of(pixels)
