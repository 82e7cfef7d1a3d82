"""A photo file, decoded upright, with what its metadata say of the lens and the day.

Detectors work on a picture of bounded size; everything after them speaks in
pixels of the upright picture at its full size. Only this module knows the ratio.
"""

import datetime as dt
import math
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

from pose_fit.errors import PhotoFileError

__all__ = ["MAX_MEGAPIXELS", "WORKING_SIDE_PX", "Photo", "read_photo"]

#: Longer side of the picture the detectors see.
WORKING_SIDE_PX: Final = 2048
#: Larger pictures are refused before they are decoded.
MAX_MEGAPIXELS: Final = 120.0
#: Smaller pictures hold too few pixels for legs and reference together.
MIN_SIDE_PX: Final = 240

_EXIF_IFD: Final = 0x8769
_FOCAL_35MM, _EXIF_WIDTH, _EXIF_HEIGHT, _TAKEN_AT = 0xA405, 0xA002, 0xA003, 0x9003
#: Shapes a camera writes by itself; any other shape was cropped afterwards.
_SENSOR_ASPECTS: Final = (4 / 3, 3 / 2, 16 / 9)
#: A 35 mm-equivalent outside this range is no lens of a phone or camera used for this.
_FOCAL_35MM_RANGE: Final = (10.0, 200.0)


@dataclass(frozen=True, slots=True)
class Photo:
    """An upright picture and its metadata.

    Attributes
    ----------
    pixels
        (H, W, 3) array of uint8, RGB, at working size.
    width_px, height_px
        Size of the upright picture in the file.
    focal_35mm
        35 mm-equivalent focal length from EXIF, or None where it is missing or absurd.
    reshaped
        True where the picture's shape differs from what a camera writes: it was
        cropped after it was taken, so that the focal length is less sure.
    taken_on
        Day from EXIF, or None.
    """

    name: str
    pixels: NDArray[np.uint8]
    width_px: int
    height_px: int
    focal_35mm: float | None
    reshaped: bool
    taken_on: dt.date | None

    @property
    def diagonal_px(self) -> float:
        """Diagonal of the upright picture, pixels."""
        return math.hypot(self.width_px, self.height_px)

    @property
    def working_scale(self) -> float:
        """Upright pixels a working pixel, at least 1."""
        return self.width_px / self.pixels.shape[1]

    @property
    def grey(self) -> NDArray[np.uint8]:
        """(H, W) array of uint8: brightness at working size."""
        return np.asarray(Image.fromarray(self.pixels).convert("L"))

    def upright_px(self, working_px: NDArray[np.float64]) -> NDArray[np.float64]:
        """Pixel positions of the working picture as positions of the upright picture.

        Both have the centre of the first pixel at (0, 0).
        """
        return (np.asarray(working_px, float) + 0.5) * self.working_scale - 0.5

    def working_px(self, upright_px: NDArray[np.float64]) -> NDArray[np.float64]:
        """Pixel positions of the upright picture as positions of the working picture."""
        return (np.asarray(upright_px, float) + 0.5) / self.working_scale - 0.5


def read_photo(path: str | Path) -> Photo:
    """Decode a JPEG, PNG, WebP, HEIC or other still picture, turned upright.

    Raises
    ------
    PhotoFileError
        No such file, not a picture, damaged, too large or too small; the text says which.
    """
    file = Path(path)
    try:
        return _decode(file)
    except FileNotFoundError:
        raise PhotoFileError(f"{file}: no such file") from None
    except IsADirectoryError:
        raise PhotoFileError(f"{file}: wanted a picture, found a folder") from None
    except PermissionError:
        raise PhotoFileError(f"{file}: this file may not be read") from None
    except UnidentifiedImageError:
        raise PhotoFileError(f"{file}: not a picture; wanted JPEG, PNG, WebP or HEIC") from None
    except (OSError, SyntaxError, ValueError, EOFError, TypeError, IndexError) as fault:
        raise PhotoFileError(f"{file}: the picture is damaged ({fault})") from fault
    except (Image.DecompressionBombError, MemoryError) as fault:
        raise PhotoFileError(f"{file}: the picture is too large to open") from fault


def _decode(file: Path) -> Photo:
    import pillow_heif

    pillow_heif.register_heif_opener()
    # The size is checked here, before decoding, with a message of our own.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with Image.open(file) as image:
            width_px, height_px = image.size
            _check_size(file, width_px, height_px)
            exif = image.getexif()
            tags = exif.get_ifd(_EXIF_IFD)
            turned = exif.get(0x0112) in (5, 6, 7, 8)
            # For JPEG this decodes at a half, quarter or eighth where that is enough.
            image.draft("RGB", (WORKING_SIDE_PX, WORKING_SIDE_PX))
            upright = ImageOps.exif_transpose(_eight_bit_rgb(image))
    if turned:
        width_px, height_px = height_px, width_px
    factor = min(1.0, WORKING_SIDE_PX / max(width_px, height_px))
    size = (round(width_px * factor), round(height_px * factor))
    working = upright if upright.size == size else upright.resize(size, Image.Resampling.BOX)
    return Photo(
        name=file.name,
        pixels=np.asarray(working),
        width_px=width_px,
        height_px=height_px,
        focal_35mm=_focal_35mm(tags),
        reshaped=_is_reshaped(tags, width_px, height_px),
        taken_on=_taken_on(tags),
    )


def _check_size(file: Path, width_px: int, height_px: int) -> None:
    if width_px * height_px > MAX_MEGAPIXELS * 1e6:
        raise PhotoFileError(
            f"{file}: wanted at most {MAX_MEGAPIXELS:.0f} megapixels,"
            f" found {width_px * height_px / 1e6:.0f}"
        )
    if min(width_px, height_px) < MIN_SIDE_PX:
        raise PhotoFileError(
            f"{file}: wanted at least {MIN_SIDE_PX} pixels a side, found {width_px} x {height_px}"
        )


def _eight_bit_rgb(image: Image.Image) -> Image.Image:
    if image.mode.startswith(("I", "F")):
        values = np.asarray(image, np.float64)
        top = 65535.0 if values.max(initial=0.0) > 255 else 255.0
        levels = (np.clip(values / top, 0, 1) * 255).astype(np.uint8)
        shades = Image.fromarray(levels).convert("RGB")
        shades.info.update(image.info)
        shades.getexif().update(image.getexif())
        return shades
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        clear = image.convert("RGBA")
        ground = Image.new("RGBA", clear.size, "white")
        flat = Image.alpha_composite(ground, clear).convert("RGB")
        flat.getexif().update(image.getexif())
        return flat
    return image if image.mode == "RGB" else image.convert("RGB")


def _focal_35mm(tags: dict[int, object]) -> float | None:
    try:
        focal = float(tags[_FOCAL_35MM])  # type: ignore[arg-type]
    except (KeyError, TypeError, ValueError, ZeroDivisionError):
        return None
    low, high = _FOCAL_35MM_RANGE
    return focal if low <= focal <= high else None


def _is_reshaped(tags: dict[int, object], width_px: int, height_px: int) -> bool:
    aspect = max(width_px, height_px) / min(width_px, height_px)
    try:
        sides = float(tags[_EXIF_WIDTH]), float(tags[_EXIF_HEIGHT])  # type: ignore[arg-type]
        if min(sides) > 0:
            return abs(max(sides) / min(sides) / aspect - 1) > 0.01
    except (KeyError, TypeError, ValueError, ZeroDivisionError):
        pass
    return all(abs(aspect / known - 1) > 0.01 for known in _SENSOR_ASPECTS)


def _taken_on(tags: dict[int, object]) -> dt.date | None:
    try:
        return dt.datetime.strptime(str(tags[_TAKEN_AT])[:10], "%Y:%m:%d").date()
    except (KeyError, ValueError):
        return None
