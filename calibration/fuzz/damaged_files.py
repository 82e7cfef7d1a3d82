"""Damaged picture files by the thousand: each must open or be refused with the library's own error.

``python -m calibration.fuzz`` reads some thousands and reports how they ended.
"""

import gc
import io
import os
import sys
import tempfile
import traceback
import warnings
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

import cv2
import numpy as np
import pillow_heif
from numpy.typing import NDArray
from PIL import Image

from pose_fit.errors import PhotoFileError
from pose_fit.photo.clip import is_clip, read_clip
from pose_fit.photo.photo import Photo, read_photo

__all__ = ["Case", "Outcome", "Tally", "cases", "outcome_of", "read_damaged", "sound_files"]


@dataclass(frozen=True, slots=True)
class Case:
    """A damaged file: the sound one it was made from, and its bytes."""

    kind: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Outcome:
    """The file opened, was refused with our own error, or did what must not happen."""

    verdict: Literal["opened", "refused", "fault"]
    traceback: str = ""


def sound_files() -> Mapping[str, bytes]:
    """Small pictures and clips of every kind that is read, with metadata where the kind has them."""
    rng = np.random.default_rng(4)
    coarse = rng.integers(0, 255, (12, 16, 3), np.uint8)
    picture = Image.fromarray(coarse).resize((320, 240), Image.Resampling.BICUBIC)
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F] = "A camera"
    exif.get_ifd(0x8769).update(
        {0xA405: 26, 0xA002: 320, 0xA003: 240, 0x9003: "2024:05:01 10:00:00"}
    )
    pillow_heif.register_heif_opener()
    clear = picture.convert("RGBA")
    clear.putalpha(picture.convert("L"))
    deep = Image.fromarray(np.asarray(picture.convert("L")).astype(np.uint16) * 257)
    return {
        "jpeg": _bytes(picture, "JPEG", exif=exif, quality=85),
        "jpeg progressive": _bytes(picture, "JPEG", exif=exif, progressive=True),
        "jpeg cmyk": _bytes(picture.convert("CMYK"), "JPEG", exif=exif),
        "mpo": _bytes(picture, "MPO", exif=exif, save_all=True, append_images=[picture]),
        "png": _bytes(picture, "PNG", exif=exif),
        "png palette": _bytes(picture.quantize(64), "PNG", transparency=3),
        "png 16 bit": _bytes(deep, "PNG"),
        "png animated": _bytes(picture, "PNG", save_all=True, append_images=[clear]),
        "webp": _bytes(picture, "WEBP", exif=exif),
        "webp lossless": _bytes(clear, "WEBP", exif=exif, lossless=True),
        "heic": _bytes(picture, "HEIF", exif=exif),
        "heic clear": _bytes(clear, "HEIF", exif=exif),
        "gif": _bytes(picture.quantize(64), "GIF", save_all=True, append_images=[picture]),
        "bmp": _bytes(picture, "BMP"),
        **{kind: _film(coarse, kind) for kind in ("mp4", "mov", "webm")},
    }


def _film(coarse: NDArray[np.uint8], kind: str) -> bytes:
    """Ten frames of a picture that moves."""
    os.environ.setdefault("OPENCV_FFMPEG_LOGLEVEL", "-8")
    frame = cv2.resize(coarse, (320, 240), interpolation=cv2.INTER_CUBIC)
    code = "vp80" if kind == "webm" else "mp4v"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, f"film.{kind}")
        film = cv2.VideoWriter(str(path), cv2.VideoWriter.fourcc(*code), 10, (320, 240))
        for number in range(10):
            film.write(np.roll(frame, 8 * number, axis=1))
        film.release()
        return path.read_bytes()


def _bytes(picture: Image.Image, form: str, **options: Any) -> bytes:
    buffer = io.BytesIO()
    picture.save(buffer, form, **options)
    return buffer.getvalue()


def cases(count: int, *, seed: int, files: Mapping[str, bytes]) -> Iterator[Case]:
    """Damaged copies of sound files, the kinds in turn, each with one to four kinds of damage."""
    rng = np.random.default_rng(seed)
    kinds = list(files)
    for number in range(count):
        kind = kinds[number % len(kinds)]
        content = bytearray(files[kind])
        donor = files[kinds[int(rng.integers(len(kinds)))]]
        for _ in range(int(rng.integers(1, 5))):
            _damage(content, donor, rng)
        yield Case(kind, bytes(content))


def _damage(content: bytearray, donor: bytes, rng: np.random.Generator) -> None:
    """One kind of damage, in place. Headers hold the sizes and offsets: half of it hits them."""
    if not content:
        return
    reach = min(len(content), 600) if rng.random() < 0.5 else len(content)
    at = int(rng.integers(reach))
    length = int(rng.integers(1, 64))
    match int(rng.integers(8)):
        case 0:
            content[at] ^= 1 << int(rng.integers(8))
        case 1:
            content[at : at + length] = rng.bytes(length)
        case 2:
            content[at : at + 4] = rng.choice([0, 1, 0x7FFFFFFF, 0xFFFFFFFF]).item().to_bytes(4)
        case 3:
            del content[at:]
        case 4:
            del content[at : at + length]
        case 5:
            content[at:at] = content[at : at + length] * 3
        case 6:
            start = int(rng.integers(len(donor)))
            content[at : at + length] = donor[start : start + length]
        case _:
            content[at : at + length] = bytes(length)


def outcome_of(case: Case, folder: Path) -> Outcome:
    """What reading the damaged file did."""
    path = folder / "case.jpg"
    path.write_bytes(case.content)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            photo = read_clip(path)[0] if is_clip(path) else read_photo(path)
        _check(photo)
    except PhotoFileError as refusal:
        if str(path) in str(refusal):
            return Outcome("refused")
        return Outcome("fault", f"the file is not named in {refusal}")
    except BaseException:
        return Outcome("fault", traceback.format_exc())
    return Outcome("opened")


def _check(photo: Photo) -> None:
    height, width, depth = photo.pixels.shape
    assert photo.pixels.dtype == np.uint8
    assert depth == 3
    assert abs(width * photo.working_scale - photo.width_px) < photo.working_scale
    assert abs(height * photo.working_scale - photo.height_px) < photo.working_scale
    assert photo.focal_35mm is None or 10 <= photo.focal_35mm <= 200


@dataclass(slots=True)
class Tally:
    """How many damaged files of each kind opened or were refused, and what went wrong."""

    verdicts: Counter[tuple[str, str]] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)


def read_damaged(count: int, *, seed: int, progress: Callable[[], None] = lambda: None) -> Tally:
    """Read ``count`` damaged files, the kinds in turn."""
    tally = Tally()
    before = sys.unraisablehook
    # What goes wrong while a decoder is cleared away is reported here and nowhere else.
    sys.unraisablehook = lambda event: tally.faults.append(f"clearing away: {event.exc_value!r}")
    try:
        with tempfile.TemporaryDirectory() as name:
            for case in cases(count, seed=seed, files=sound_files()):
                outcome = outcome_of(case, Path(name))
                tally.verdicts[case.kind, outcome.verdict] += 1
                if outcome.verdict == "fault":
                    tally.faults.append(f"{case.kind}\n{outcome.traceback}")
                progress()
        gc.collect()
    finally:
        sys.unraisablehook = before
    return tally
