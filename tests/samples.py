"""The sample photos and what is true of them, each read and looked at once in a process."""

import json
from functools import cache
from pathlib import Path
from typing import Any, Final

from pose_fit.body.body import Body
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.measure import is_about_heels_alone, measure_photo
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.task.photo_task import PhotoTask

__all__ = ["NAMES", "SAMPLES", "KnownBody", "body", "facts", "heels_open", "photo", "pose"]

SAMPLES: Final = Path(__file__).parents[1] / "sample_images"
NAMES: Final = tuple(sorted(path.stem for path in SAMPLES.glob("*.json")))


class KnownBody:
    """A pose model that has looked already, whatever the picture."""

    def __init__(self, found: Body | None) -> None:
        self._found = found

    def find(self, photo: Photo) -> Body | None:
        return self._found


@cache
def facts(name: str) -> dict[str, Any]:
    """What is true of a sample, and the words with which its command measures it."""
    known: dict[str, Any] = json.loads((SAMPLES / f"{name}.json").read_text("utf-8"))
    return known


@cache
def photo(name: str) -> Photo:
    """A sample; whoever changes its pixels takes a copy."""
    read = read_photo(SAMPLES / f"{name}.jpg")
    read.pixels.setflags(write=False)
    return read


@cache
def pose() -> BodyOnce:
    """The program's pose model, which looks at each of these photos once."""
    return BodyOnce(pose_model())


def body(name: str) -> Body:
    """The child of a sample."""
    found = pose().find(photo(name))
    assert found is not None
    return found


@cache
def heels_open() -> Path:
    """A picture of which only the heels are asked, whatever network is shipped."""
    doubtful = Path(__file__).with_name("doubtful") / "pictures"
    for path in (*sorted(SAMPLES.glob("*.jpg")), *sorted(doubtful.glob("[rts]*.jpg"))):
        picture = photo(path.stem) if path.parent == SAMPLES else read_photo(path)
        looked = pose() if path.parent == SAMPLES else pose_model()
        if is_about_heels_alone(measure_photo(picture, PhotoTask(), pose=looked)):
            return path
    raise LookupError("wanted a picture that leaves the heels open, found none")
