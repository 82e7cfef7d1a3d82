"""One row to fill: a child's photos with all that its worker needs, and what tells it from any other."""

import datetime as dt
import functools
import hashlib
import json
from dataclasses import asdict, dataclass, field
from importlib.metadata import version
from importlib.resources import files
from pathlib import Path

from pose_fit.fit.policy import Rider
from pose_fit.fit.stock import Stock
from pose_fit.inseam.from_tape import Care
from pose_fit.task.photo_task import PhotoTask

__all__ = ["Job", "ListedPhoto"]


@dataclass(frozen=True, slots=True)
class ListedPhoto:
    """A photo or clip of a batch.

    Attributes
    ----------
    name
        What the table calls it: its place in the folder, or as the list has it.
    path
        Where the worker finds it.
    task
        What is asked of it.
    """

    name: str
    path: Path
    task: PhotoTask


@dataclass(frozen=True, slots=True)
class Job:
    """What makes one row: a photo, or all photos of one child, and a tape where there is one.

    Attributes
    ----------
    photos
        At least one.
    child
        What the list calls the child; empty where it does not.
    tape_mm
        Readings of a tape.
    taped_on
        Day of the tape; None for the day of the advice.
    tape_care
        How the tape was held.
    rider, stock
        Who rides which bicycles; no bicycle where only the inseam is wanted.
    today
        Day of the advice; None for the day on which the photo is measured.
    """

    photos: tuple[ListedPhoto, ...]
    child: str = ""
    tape_mm: tuple[float, ...] = ()
    taped_on: dt.date | None = None
    tape_care: Care = "careful"
    rider: Rider = field(default_factory=Rider)
    stock: Stock = field(default_factory=Stock)
    today: dt.date | None = None

    @property
    def name(self) -> str:
        """The names of its photos."""
        return "; ".join(photo.name for photo in self.photos)

    def fingerprint(self) -> str:
        """32 hexadecimal digits that change with a photo file, what is said of it, or the program.

        A file counts by its size and the time it was last written, or as missing.
        """
        given = {
            "photos": [[photo.name, photo.task.record()] for photo in self.photos],
            "files": [_about(photo.path) for photo in self.photos],
            "child": self.child,
            "tape": [self.tape_mm, str(self.taped_on), self.tape_care],
            "rider": asdict(self.rider),
            "stock": _stock_digest(self.stock),
            "today": str(self.today),
            "program": _program_digest(),
        }
        return _digest(json.dumps(given, sort_keys=True).encode())


def _about(path: Path) -> list[int] | None:
    try:
        about = path.stat()
    except (OSError, ValueError):
        # A name with NUL in it is a ValueError.
        return None
    return [about.st_size, about.st_mtime_ns]


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:32]


@functools.lru_cache(maxsize=4)
def _stock_digest(stock: Stock) -> str:
    return _digest(repr(stock).encode())


@functools.cache
def _program_digest() -> str:
    """Another release or another error model measures anew."""
    model = files("pose_fit.inseam").joinpath("error_model.json").read_bytes()
    return _digest(version("pose-fit").encode() + model)
