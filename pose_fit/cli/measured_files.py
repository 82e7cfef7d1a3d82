"""Files given to ``measure``: read, measured and dated one by one; the same file counts once."""

import datetime as dt
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from pose_fit.anthropometry.child import Child
from pose_fit.body.looks import looks_of
from pose_fit.errors import PhotoFileError
from pose_fit.files.content import content_digest
from pose_fit.growth.dated_readings import Dated, check_past, picture_day
from pose_fit.measure import PhotoMeasurement
from pose_fit.measure_clip import measure_clip
from pose_fit.photo.clip import is_clip, read_clip
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.scene import PhotoRefusal
from pose_fit.task.photo_task import PhotoTask

__all__ = ["FileRead", "measured_files", "without_copies"]


@dataclass(frozen=True, slots=True)
class FileRead:
    """What one file gave: a measurement with its day, or a refusal.

    ``photo`` is the file's photo; of a clip its first frame.
    """

    name: str
    photo: Photo
    result: PhotoMeasurement | PhotoRefusal
    day: dt.date
    child: Child

    @property
    def measurement(self) -> PhotoMeasurement:
        """The measurement of a file that gave one."""
        assert not isinstance(self.result, PhotoRefusal)
        return self.result

    @property
    def dated(self) -> Dated | None:
        """The measured inseam with its day; None where there is none."""
        if isinstance(self.result, PhotoRefusal):
            return None
        looks = looks_of(self.photo, self.result.observed.body)
        return Dated(self.result.inseam, self.day, self.child, looks)


def without_copies(paths: Sequence[Path]) -> tuple[list[Path], list[tuple[Path, Path]]]:
    """The files of different content, and each copy with the file that it repeats."""
    first: dict[bytes, Path] = {}
    copies = []
    for path in paths:
        digest = content_digest(path)
        if digest in first:
            copies.append((path, first[digest]))
        else:
            first[digest] = path
    return list(first.values()), copies


def measured_files(
    paths: Sequence[Path], task: PhotoTask, *, today: dt.date
) -> Iterator[FileRead | PhotoFileError]:
    """Each file's measurement as soon as it is done, or what is wrong with the file.

    Raises
    ------
    InputError
        What is stated of the photo cannot be.
    """
    if task.reference.measured_on is not None:
        check_past("measured", task.reference.measured_on, today=today)
    for path in _with_progress(paths):
        try:
            photos = read_clip(path) if is_clip(path) else (read_photo(path),)
        except PhotoFileError as fault:
            # The other photos are measured all the same.
            yield fault
            continue
        day, notices = picture_day(photos[0], task.stated, today=today)
        result = measure_clip(photos, task)
        if not isinstance(result, PhotoRefusal):
            result = replace(result, inseam=result.inseam.with_warnings(*notices))
        yield FileRead(str(path), photos[0], result, day, task.child)


def _with_progress(paths: Sequence[Path]) -> Iterator[Path]:
    """The paths one by one, with a bar on the terminal where there are several."""
    if len(paths) == 1 or not sys.stderr.isatty():
        yield from paths
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(paths, description="Measuring", console=Console(stderr=True))
