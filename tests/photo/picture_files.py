"""Picture files made up for tests: four coloured quarters, and EXIF blocks that can be absurd."""

import struct
from pathlib import Path

import numpy as np
import pillow_heif
from PIL import Image

from pose_fit.photo.photo import Photo

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
