"""A short film from a phone: its sharpest, most different frames as photos of one camera.

The content decides what is a clip, not the file's extension. Frames are looked at in the order of
time; what is kept of each is a picture at working size, as of a photo.
"""

import datetime as dt
import os
import struct
import tempfile
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.errors import PhotoFileError, printable
from pose_fit.photo.photo import (
    MAX_MEGAPIXELS,
    WORKING_SIDE_PX,
    Photo,
    check_file,
    check_shape,
    is_usual_shape,
)

__all__ = ["MOST_FRAMES", "is_clip", "read_clip"]

#: Frames taken of a clip: more of one stance add little, and each takes as long as a photo.
MOST_FRAMES: Final = 4
#: Longer films are not a clip of a standing child.
MOST_SECONDS: Final = 60.0
#: Frames looked at, spread evenly over the clip.
_CANDIDATES: Final = 24
#: A candidate is sharp enough with this part of the sharpest one's edges.
_SHARP_PART: Final = 0.5
#: Side of the small pictures that are compared, and the mean difference of their grey levels below
#: which two frames show the same: sensors and encoders alone differ by about 1.
_SMALL_PX: Final = 64
_SAME_GREYS: Final = 2.0
#: Part of the picture in which the child stands: half its width, most of its height.
_CHILD_PART: Final = (slice(0.15, 0.95), slice(0.25, 0.75))

#: Brands of still pictures, which share the container of MP4 (ISO/IEC 23008-12, AV1 image format).
_STILL_BRANDS: Final = frozenset(
    (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis")
)
#: First box of a QuickTime film without a brand.
_FIRST_BOXES: Final = frozenset((b"moov", b"mdat", b"wide", b"free", b"skip"))
_EBML: Final = b"\x1a\x45\xdf\xa3"
#: QuickTime counts its seconds from here.
_EPOCH: Final = dt.datetime(1904, 1, 1)
#: The library's log level belongs to the whole process, and one clip at a time bounds the memory.
_DECODING: Final = threading.Lock()


@dataclass(frozen=True, slots=True, eq=False)
class _Frame:
    """A candidate: (H, W, 3) uint8 RGB at working size, its edges, and a small grey picture."""

    second: float
    pixels: NDArray[np.uint8]
    size_px: tuple[int, int]
    sharpness: float
    small: NDArray[np.float32]


def is_clip(source: str | Path | bytes) -> bool:
    """Whether a file begins as MP4, MOV or WebM do; no fault where it cannot be read."""
    try:
        head = source[:12] if isinstance(source, bytes) else _head(Path(source))
    except (OSError, ValueError):
        return False
    if head[4:8] == b"ftyp":
        return head[8:12] not in _STILL_BRANDS
    return head.startswith(_EBML) or head[4:8] in _FIRST_BOXES


def read_clip(
    source: str | Path | bytes, *, name: str | None = None, most: int = MOST_FRAMES
) -> tuple[Photo, ...]:
    """The sharpest, most different frames, upright and in the order of time; at least one.

    Parameters
    ----------
    source
        Path of a file, or the bytes of one.
    name
        What the clip is called; by default the file's name.
    most
        Frames wanted at most; a camera that hardly moved gives fewer.

    Raises
    ------
    PhotoFileError
        No such file, no MP4, MOV or WebM clip, damaged, too long, too large or too small.
    """
    file = printable(name or "clip" if isinstance(source, bytes) else source)
    name = name or ("clip" if isinstance(source, bytes) else Path(file).name)
    if not isinstance(source, bytes):
        check_file(source)
    if not is_clip(source):
        raise PhotoFileError(f"{file}: is not a clip; wanted MP4, MOV or WebM")
    with _DECODING, _as_file(source) as path:
        taken_on = _taken_on(path)
        frames = list(_candidates(path, file))
    if not frames:
        raise PhotoFileError(f"{file}: the clip is damaged, no picture in it can be read")
    return tuple(
        Photo(
            name=f"{name} at {frame.second:.1f} s",
            pixels=frame.pixels,
            width_px=frame.size_px[0],
            height_px=frame.size_px[1],
            focal_35mm=None,
            reshaped=not is_usual_shape(*frame.size_px),
            taken_on=taken_on,
        )
        for frame in _chosen(frames, most)
    )


def _head(path: Path) -> bytes:
    # Not to wait for ever for a pipe that nobody writes.
    with open(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as file:
        return file.read(12)


@contextmanager
def _as_file(source: str | Path | bytes) -> Iterator[str]:
    """A path under which the decoder finds the clip; bytes stay in memory where the system can."""
    if not isinstance(source, bytes):
        # An absolute path is never taken for an address.
        yield os.path.abspath(source)
    elif hasattr(os, "memfd_create"):
        with open(os.memfd_create("clip"), "wb") as memory:
            memory.write(source)
            memory.flush()
            yield f"/proc/self/fd/{memory.fileno()}"
    else:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder, "clip")
            path.write_bytes(source)
            yield str(path)


def _candidates(path: str, file: str) -> Iterator[_Frame]:
    """Frames spread evenly over the clip."""
    os.environ.setdefault("OPENCV_FFMPEG_LOGLEVEL", "-8")
    level = cv2.getLogLevel()
    cv2.setLogLevel(0)
    film = cv2.VideoCapture(path, cv2.CAP_FFMPEG)
    try:
        # Turned upright as the container says.
        film.set(cv2.CAP_PROP_ORIENTATION_AUTO, 1)
        rate = film.get(cv2.CAP_PROP_FPS)
        rate = rate if 1 <= rate <= 1000 else 30.0
        count = int(min(max(film.get(cv2.CAP_PROP_FRAME_COUNT), 0), 1e9))
        if count > MOST_SECONDS * rate:
            raise PhotoFileError(
                f"{file}: wanted a clip of at most {MOST_SECONDS:.0f} seconds,"
                f" found {count / rate:.0f}"
            )
        sides = film.get(cv2.CAP_PROP_FRAME_WIDTH), film.get(cv2.CAP_PROP_FRAME_HEIGHT)
        if sides[0] * sides[1] > MAX_MEGAPIXELS * 1e6:
            raise PhotoFileError(f"{file}: wanted at most {MAX_MEGAPIXELS:.0f} megapixels a frame")
        # Where the container does not count its frames, a clip of ten seconds is supposed.
        step = max(1, (count or int(10 * rate)) // _CANDIDATES)
        for number in range(int(MOST_SECONDS * rate)):
            if not film.grab():
                break
            if number % step == step // 2:
                is_read, picture = film.retrieve()
                if is_read and picture is not None:
                    yield _frame(np.asarray(picture, np.uint8), number / rate, file)
    except cv2.error as fault:
        raise PhotoFileError(f"{file}: the clip is damaged") from fault
    finally:
        film.release()
        cv2.setLogLevel(level)


def _frame(picture: NDArray[np.uint8], second: float, file: str) -> _Frame:
    height_px, width_px = picture.shape[:2]
    check_shape(file, width_px, height_px)
    longer_px = max(width_px, height_px)
    side_px = min(longer_px, WORKING_SIDE_PX)
    size = width_px * side_px // longer_px, height_px * side_px // longer_px
    # A part of a working pixel is cut off the shorter side, so that one scale holds for both.
    whole = size[0] * longer_px // side_px, size[1] * longer_px // side_px
    picture = picture[: whole[1], : whole[0]]
    if size != whole:
        picture = np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA), np.uint8)
    pixels = cv2.cvtColor(picture, cv2.COLOR_BGR2RGB)
    grey = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY)
    rows, columns = _CHILD_PART
    child = grey[
        int(rows.start * size[1]) : int(rows.stop * size[1]),
        int(columns.start * size[0]) : int(columns.stop * size[0]),
    ]
    small = cv2.resize(grey, (_SMALL_PX, _SMALL_PX), interpolation=cv2.INTER_AREA)
    return _Frame(
        second=second,
        pixels=np.asarray(pixels, np.uint8),
        size_px=(width_px, height_px),
        sharpness=float(cv2.Laplacian(child, cv2.CV_32F).var()),
        small=small.astype(np.float32) - small.mean(),
    )


def _chosen(frames: Sequence[_Frame], most: int) -> list[_Frame]:
    """The sharpest frame, then of the sharp ones always that least like those chosen before."""
    best = max(frames, key=lambda frame: frame.sharpness)
    sharp = [frame for frame in frames if frame.sharpness >= _SHARP_PART * best.sharpness]
    chosen = [best]
    while len(chosen) < most:
        apart = [min(_unlike(frame, other) for other in chosen) for frame in sharp]
        farthest = int(np.argmax(apart))
        if apart[farthest] < _SAME_GREYS:
            break
        chosen.append(sharp[farthest])
    return sorted(chosen, key=lambda frame: frame.second)


def _unlike(first: _Frame, second: _Frame) -> float:
    """Mean difference of the small pictures, grey levels."""
    return float(np.abs(first.small - second.small).mean())


def _taken_on(path: str) -> dt.date | None:
    """Day on which an MP4 or MOV file says it was filmed (ISO/IEC 14496-12, 8.2.2), or None."""
    try:
        with open(path, "rb") as file:
            end = file.seek(0, os.SEEK_END)
            movie = _box(file, b"moov", 0, end)
            header = movie and _box(file, b"mvhd", *movie)
            if not header:
                return None
            file.seek(header[0])
            version = file.read(4)[:1]
            size, kind = (8, ">Q") if version == b"\x01" else (4, ">I")
            (seconds,) = struct.unpack(kind, file.read(size))
            day = (_EPOCH + dt.timedelta(seconds=seconds)).date()
    except (OSError, ValueError, struct.error, OverflowError):
        return None
    # A file whose day nobody wrote has 0 there, or the day from which computers count.
    return day if day.year > 1990 else None


def _box(file: BinaryIO, name: bytes, start: int, end: int) -> tuple[int, int] | None:
    """Begin and end of what a box of this name holds, among the boxes from start to end."""
    while start + 8 <= end:
        file.seek(start)
        size, kind = struct.unpack(">I4s", file.read(8))
        head = 8
        if size == 1:
            (size,) = struct.unpack(">Q", file.read(8))
            head = 16
        elif size == 0:
            size = end - start
        if size < head:
            return None
        if kind == name:
            return start + head, min(start + size, end)
        start += size
    return None
