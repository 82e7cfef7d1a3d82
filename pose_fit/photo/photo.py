"""A photo file, decoded upright, with what its metadata say of the lens and the day.

Detectors work on a picture of bounded size; everything after them speaks in
pixels of the upright picture at its full size. Only this module knows the ratio.

Files come from anywhere, so whatever a decoder does with a hostile one becomes a
`PhotoFileError`, while damaged metadata only cost what they would have said.
"""

import datetime as dt
import functools
import io
import math
import threading
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

from pose_fit.errors import PhotoFileError, printable

__all__ = [
    "Place",
    "MAX_FILE_BYTES",
    "MAX_MEGAPIXELS",
    "WORKING_SIDE_PX",
    "Photo",
    "check_file",
    "check_shape",
    "is_usual_shape",
    "read_photo",
]

#: A place (x, y) in pixels of the upright picture.
Place = tuple[float, float]

#: Longer side of the picture the detectors see, at most.
WORKING_SIDE_PX: Final = 2048
#: A JPEG's half, quarter or eighth of at least this side serves as it is. Phones of 12 and 48
#: megapixels write 4000 to 4096 and 8000 to 8192 pixels.
_ENOUGH_PX: Final = 1920
#: Larger pictures are refused before they are decoded.
MAX_MEGAPIXELS: Final = 120.0
#: Larger files are refused before they are read: no phone writes such a picture.
MAX_FILE_BYTES: Final = 256_000_000
#: Smaller pictures hold too few pixels for legs and reference together.
MIN_SIDE_PX: Final = 240
#: Longer strips are not a picture of a camera, whose widest panoramas have a few times their height.
MAX_ASPECT: Final = 10.0

#: Not TIFF: a camera's raw file is one and would open as its thumbnail. MPO opens as JPEG.
_FORMATS: Final = ("JPEG", "PNG", "WEBP", "HEIF", "GIF", "BMP")
_WANTED: Final = "wanted JPEG, PNG, WebP, HEIC, GIF or BMP"
#: What turns a picture upright, by the value of its EXIF orientation (CIPA DC-008, 4.6.4.A).
_UPRIGHT: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_ORIENTATION, _EXIF_IFD = 0x0112, 0x8769
_FOCAL_35MM, _EXIF_WIDTH, _EXIF_HEIGHT, _TAKEN_AT = 0xA405, 0xA002, 0xA003, 0x9003
#: Shapes a camera writes by itself; any other shape was cropped afterwards.
_SENSOR_ASPECTS: Final = (4 / 3, 3 / 2, 16 / 9)
#: Sides of the blocks in which sensors and encoders count (JPEG: ITU-T T.81).
_BLOCK_PX: Final = 8
#: A 35 mm-equivalent outside this range is not a lens of a phone or camera used for this.
_FOCAL_35MM_RANGE: Final = (10.0, 200.0)
#: The filter of warnings belongs to the whole process. One picture at a time also keeps
#: the memory of several users at once to that of one.
_DECODING: Final = threading.Lock()


# Without slots, so that the brightness, which many steps look at, is worked out once.
@dataclass(frozen=True, eq=False)
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

    def turned(self, quarters: int) -> "Photo":
        """The picture turned to the left by so many quarters, where its file told a wrong way up."""
        odd = quarters % 2 == 1
        return replace(
            self,
            pixels=np.ascontiguousarray(np.rot90(self.pixels, quarters)),
            width_px=self.height_px if odd else self.width_px,
            height_px=self.width_px if odd else self.height_px,
        )

    @property
    def diagonal_px(self) -> float:
        """Diagonal of the upright picture, pixels."""
        return math.hypot(self.width_px, self.height_px)

    @property
    def working_scale(self) -> float:
        """Upright pixels a working pixel, at least 1."""
        return max(self.width_px, self.height_px) / max(self.pixels.shape[:2])

    @functools.cached_property
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


def read_photo(source: str | Path | bytes, *, name: str | None = None) -> Photo:
    """Decode a JPEG, PNG, WebP, HEIC, GIF or BMP picture, turned upright.

    The content decides, not the file's extension. Of an animation or a burst the first
    or main picture is taken; what is transparent becomes white.

    Parameters
    ----------
    source
        Path of a file, or the bytes of one, which then never touch a disk.
    name
        What the photo is called; by default the file's name.

    Raises
    ------
    PhotoFileError
        No such file, not a picture, damaged, too large or too small; the text says which.
    """
    if isinstance(source, bytes):
        file = name = printable(name or "picture")
        _check_length(file, len(source))
    else:
        file = printable(source)
        name = name or Path(file).name
        check_file(source)
    with _DECODING, _decoder_faults(file), warnings.catch_warnings():
        # Decoders warn of what the errors here say, or of what does no harm.
        warnings.simplefilter("ignore")
        return _decode(io.BytesIO(source) if isinstance(source, bytes) else source, file, name)


def check_file(path: str | Path) -> None:
    """Raise before anything is decoded where no picture can be in the file.

    Raises
    ------
    PhotoFileError
        No such file, a folder or a pipe, empty or far too large.
    """
    path, file = Path(path), printable(path)
    try:
        size_bytes = path.stat().st_size
        is_file, is_folder = path.is_file(), path.is_dir()
    except FileNotFoundError:
        raise PhotoFileError(f"{file}: no such file") from None
    except (OSError, ValueError) as fault:
        raise PhotoFileError(f"{file}: this file cannot be read ({fault})") from fault
    if not is_file:
        found = "a folder" if is_folder else "something that is not a file"
        raise PhotoFileError(f"{file}: wanted a picture, found {found}")
    _check_length(file, size_bytes)


def _check_length(file: str, size_bytes: int) -> None:
    if size_bytes == 0:
        raise PhotoFileError(f"{file}: wanted a picture, found an empty file")
    if size_bytes > MAX_FILE_BYTES:
        raise PhotoFileError(
            f"{file}: wanted at most {MAX_FILE_BYTES / 1e6:.0f} megabytes,"
            f" found {size_bytes / 1e6:.0f}"
        )


@contextmanager
def _decoder_faults(file: str) -> Iterator[None]:
    """Whatever a decoder raises, as the library's own error."""
    try:
        yield
    except PhotoFileError:
        raise
    except PermissionError:
        raise PhotoFileError(f"{file}: this file may not be read") from None
    except UnidentifiedImageError:
        raise PhotoFileError(f"{file}: not a picture this program reads; {_WANTED}") from None
    except Image.DecompressionBombError:
        raise _too_large(file, "far more") from None
    except MemoryError as fault:
        raise PhotoFileError(f"{file}: too little memory to open the picture") from fault
    # Decoders let through whatever the file's bytes provoke in them.
    except Exception as fault:
        raise PhotoFileError(
            f"{file}: the picture is damaged ({str(fault) or type(fault).__name__})"
        ) from fault


def _decode(source: str | Path | io.BytesIO, file: str, name: str) -> Photo:
    import pillow_heif

    pillow_heif.register_heif_opener()
    with Image.open(source, formats=_FORMATS) as image:
        width_px, height_px = image.size
        check_shape(file, width_px, height_px)
        working = _eight_bit_rgb(_shrunk(image))
        # A PNG may carry its metadata last, so they are read after the picture.
        tags, orientation = _metadata(image)
    turn = _UPRIGHT.get(orientation)
    if turn is not None:
        working = working.transpose(turn)
    if orientation >= 5:
        width_px, height_px = height_px, width_px
    return Photo(
        name=name,
        pixels=np.asarray(working),
        width_px=width_px,
        height_px=height_px,
        focal_35mm=_focal_35mm(tags),
        reshaped=_is_reshaped(tags, width_px, height_px),
        taken_on=_taken_on(tags),
    )


def check_shape(file: str, width_px: int, height_px: int) -> None:
    """Raise where a picture of this size is too large, too small or a strip.

    Raises
    ------
    PhotoFileError
        The text says what was wanted and found.
    """
    if width_px * height_px > MAX_MEGAPIXELS * 1e6:
        raise _too_large(file, f"{width_px * height_px / 1e6:.0f}")
    if min(width_px, height_px) < MIN_SIDE_PX:
        raise PhotoFileError(
            f"{file}: wanted at least {MIN_SIDE_PX} pixels a side, found {width_px} x {height_px}"
        )
    if max(width_px, height_px) > MAX_ASPECT * min(width_px, height_px):
        raise PhotoFileError(
            f"{file}: wanted a picture at most {MAX_ASPECT:.0f} times as long as wide,"
            f" found {width_px} x {height_px}"
        )


def _too_large(file: str, found: str) -> PhotoFileError:
    return PhotoFileError(f"{file}: wanted at most {MAX_MEGAPIXELS:.0f} megapixels, found {found}")


def _metadata(image: Image.Image) -> tuple[Mapping[int, Any], int]:
    """EXIF tags of the exposure, and the orientation from 1 to 8, 1 where it is not told."""
    try:
        exif = image.getexif()
        orientation = exif.get(_ORIENTATION)
        tags = exif.get_ifd(_EXIF_IFD)
    # Damaged metadata provoke as many kinds of fault as damaged pictures.
    except Exception:
        return {}, 1
    return tags, orientation if orientation in _UPRIGHT else 1


def _shrunk(image: Image.Image) -> Image.Image:
    """The picture at working size, before anything is made of its many pixels."""
    width_px, height_px = image.size
    longer_px = max(width_px, height_px)
    # JPEG is decoded at a half, quarter or eighth where that is enough.
    image.draft(None, (width_px * _ENOUGH_PX // longer_px, height_px * _ENOUGH_PX // longer_px))
    times = round(longer_px / max(image.size))
    side_px = min(max(image.size), WORKING_SIDE_PX)
    # A part of a working pixel is cut off the shorter side, so that one scale holds for both.
    size = (width_px * side_px // longer_px, height_px * side_px // longer_px)
    is_grey_16_bit = image.mode.startswith("I")
    if image.mode in ("1", "P", "PA") or ("transparency" in image.info and not is_grey_16_bit):
        image = image.convert("RGBA")
    per_px = longer_px / side_px / times
    box = (0.0, 0.0, size[0] * per_px, size[1] * per_px)
    # A box filter would move edges by up to half a pixel of the file where the ratio is odd.
    return image.resize(size, Image.Resampling.BILINEAR, box)


def _eight_bit_rgb(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I"):
        values = np.asarray(image, np.float64)
        return Image.fromarray((values / 257).round().astype(np.uint8)).convert("RGB")
    if image.has_transparency_data:
        clear = image.convert("RGBA")
        ground = Image.new("RGBA", clear.size, "white")
        return Image.alpha_composite(ground, clear).convert("RGB")
    return image.convert("RGB")


def _focal_35mm(tags: Mapping[int, Any]) -> float | None:
    try:
        focal = float(tags[_FOCAL_35MM])
    except (KeyError, TypeError, ValueError, ZeroDivisionError):
        return None
    low, high = _FOCAL_35MM_RANGE
    return focal if low <= focal <= high else None


def _is_reshaped(tags: Mapping[int, Any], width_px: int, height_px: int) -> bool:
    aspect = max(width_px, height_px) / min(width_px, height_px)
    try:
        sides = float(tags[_EXIF_WIDTH]), float(tags[_EXIF_HEIGHT])
        if all(0 < side < math.inf for side in sides):
            return abs(max(sides) / min(sides) / aspect - 1) > 0.01
    except (KeyError, TypeError, ValueError, ZeroDivisionError):
        pass
    return not is_usual_shape(width_px, height_px)


def is_usual_shape(width_px: int, height_px: int) -> bool:
    """Whether a camera writes pictures of this shape by itself, so that none of it was cut off."""
    aspect = max(width_px, height_px) / min(width_px, height_px)
    known = min(_SENSOR_ASPECTS, key=lambda one: abs(aspect / one - 1))
    # Sensors have their nominal shape to a pixel, or sides of whole blocks near it; a picture
    # cropped by hand to about that shape seldom has either.
    short_px, long_px = sorted((width_px, height_px))
    exact = abs(long_px - known * short_px) <= 2
    blocks = width_px % _BLOCK_PX == 0 and height_px % _BLOCK_PX == 0
    return exact or (blocks and abs(aspect / known - 1) <= 0.01)


def _taken_on(tags: Mapping[int, Any]) -> dt.date | None:
    try:
        return dt.datetime.strptime(str(tags[_TAKEN_AT])[:10], "%Y:%m:%d").date()
    except (KeyError, ValueError):
        return None
