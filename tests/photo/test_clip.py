"""Clips as phones write them: frames chosen, turned upright, of one camera; what is none is told."""

import datetime as dt
import os
import struct
import time
from contextlib import suppress
from pathlib import Path

import cv2
import numpy as np
import pytest

from pose_fit.errors import PhotoFileError
from pose_fit.photo.clip import MOST_FRAMES, is_clip, read_clip

SAMPLE = Path(__file__).parents[2] / "sample_images" / "sheet_1.jpg"
RATE = 30
#: An upright phone's film, in pixels.
SIZE = (720, 960)
KINDS = {"mp4": "mp4v", "mov": "mp4v", "webm": "vp80"}


def write_clip(path: Path, *, count=60, step_px=1.0, blurred=(), size=SIZE, code=None) -> Path:
    """A camera that moves sideways past the sample, some frames of it smeared."""
    picture = cv2.imread(str(SAMPLE))
    film = cv2.VideoWriter(
        str(path), cv2.VideoWriter_fourcc(*(code or KINDS[path.suffix[1:]])), RATE, size
    )
    assert film.isOpened()
    scale = size[0] / picture.shape[1]
    for number in range(count):
        move = np.float32([[scale, 0, -step_px * number], [0, scale, 0]])
        frame = cv2.warpAffine(picture, move, size, borderMode=cv2.BORDER_REPLICATE)
        film.write(cv2.blur(frame, (25, 1)) if number in blurred else frame)
    film.release()
    return path


@pytest.mark.parametrize("kind", KINDS)
def test_a_clip_gives_a_few_different_frames_in_the_order_of_time(tmp_path, kind):
    photos = read_clip(write_clip(tmp_path / f"clip.{kind}"))
    assert 2 <= len(photos) <= MOST_FRAMES
    assert len({photo.name for photo in photos}) == len(photos)
    assert [photo.name for photo in photos] == sorted(photo.name for photo in photos)
    for photo in photos:
        assert (photo.width_px, photo.height_px) == SIZE
        assert photo.pixels.shape == (SIZE[1], SIZE[0], 3)
        assert photo.focal_35mm is None
        assert not photo.reshaped
    # From one end of the camera's way to the other.
    seconds = [float(photo.name.split(" at ")[1].removesuffix(" s")) for photo in photos]
    assert seconds[-1] - seconds[0] > 1.2


def test_smeared_frames_are_passed_over(tmp_path):
    smeared = range(20, 60)
    photos = read_clip(write_clip(tmp_path / "clip.mp4", blurred=smeared))
    assert all(float(photo.name.split(" at ")[1][:-2]) * RATE < smeared.start for photo in photos)


def test_a_camera_that_does_not_move_gives_one_frame(tmp_path):
    assert len(read_clip(write_clip(tmp_path / "clip.mp4", step_px=0.0))) == 1


def test_bytes_are_a_clip_too(tmp_path):
    path = write_clip(tmp_path / "clip.mp4", count=12)
    from_file, from_bytes = read_clip(path), read_clip(path.read_bytes(), name="clip.mp4")
    assert [photo.name for photo in from_file] == [photo.name for photo in from_bytes]
    assert (from_file[0].pixels == from_bytes[0].pixels).all()


def test_a_film_of_a_turned_phone_is_turned_upright(tmp_path):
    path = write_clip(tmp_path / "clip.mp4", count=12)
    data = path.read_bytes()
    upright = read_clip(path)[0]
    # The matrix of a track header of version 0 (ISO/IEC 14496-12, 8.3.2): a quarter to the right.
    place = data.rindex(b"tkhd") + 44
    one = 1 << 16
    matrix = struct.pack(">9i", 0, one, 0, -one, 0, 0, SIZE[1] * one, 0, 1 << 30)
    turned = tmp_path / "turned.mp4"
    turned.write_bytes(data[:place] + matrix + data[place + 36 :])
    photo = read_clip(turned)[0]
    assert (photo.width_px, photo.height_px) == SIZE[::-1]
    difference = photo.pixels.astype(int) - np.rot90(upright.pixels, -1)
    assert np.abs(difference).mean() < 3


def test_the_day_of_the_film_is_read(tmp_path):
    path = write_clip(tmp_path / "clip.mp4", count=12)
    assert read_clip(path)[0].taken_on is None
    data = bytearray(path.read_bytes())
    # Seconds since 1904 in a movie header of version 0.
    seconds = int((dt.datetime(2025, 5, 10, 12) - dt.datetime(1904, 1, 1)).total_seconds())
    struct.pack_into(">I", data, data.rindex(b"mvhd") + 8, seconds)
    path.write_bytes(data)
    assert read_clip(path)[0].taken_on == dt.date(2025, 5, 10)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (SAMPLE.read_bytes(), "is not a clip"),
        (b"\x1a\x45\xdf\xa3" + b"\0" * 5000, "damaged"),
        (struct.pack(">I4s4sI", 24, b"ftyp", b"isom", 512) + b"\0" * 5000, "damaged"),
        (struct.pack(">I4s4sI", 24, b"ftyp", b"heic", 0) + b"\0" * 100, "is not a clip"),
        (b"#EXTM3U\n/etc/hostname\n" * 50, "is not a clip"),
        (b"", "empty"),
    ],
)
def test_what_is_no_clip_is_told(tmp_path, content, told):
    path = tmp_path / "clip.mp4"
    path.write_bytes(content)
    with pytest.raises(PhotoFileError, match=told):
        read_clip(path)


def test_a_clip_cut_short_gives_what_is_there_or_is_told(tmp_path):
    path = write_clip(tmp_path / "clip.webm", count=30)
    data = path.read_bytes()
    for part in (0.02, 0.3, 0.7, 0.95):
        path.write_bytes(data[: int(part * len(data))])
        with suppress(PhotoFileError):
            assert len(read_clip(path)) >= 1


def test_a_clip_that_is_too_long_or_too_small_is_told(tmp_path):
    long = write_clip(tmp_path / "long.mp4", count=61 * RATE, size=(240, 320))
    with pytest.raises(PhotoFileError, match="at most 60 seconds, found 61"):
        read_clip(long)
    small = write_clip(tmp_path / "small.mp4", count=6, size=(120, 160))
    with pytest.raises(PhotoFileError, match="at least 240 pixels"):
        read_clip(small)


def test_a_photo_and_a_pipe_are_no_clips(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    assert not is_clip(SAMPLE)
    assert not is_clip(tmp_path / "pipe")
    assert not is_clip(tmp_path / "none")
    with pytest.raises(PhotoFileError):
        read_clip(tmp_path / "pipe")


def test_five_seconds_of_film_take_four_of_processor_time(tmp_path):
    path = write_clip(tmp_path / "clip.mp4", count=5 * RATE, size=(1080, 1440), step_px=0.3)
    start_s = time.process_time()
    read_clip(path)
    assert time.process_time() - start_s < 4.0
