"""What worker processes do for the pages; nothing here knows of a page."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from PIL import Image

from pose_fit.app.picture_source import jpeg_source
from pose_fit.app.question import Question
from pose_fit.body.body import Body
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.drawing.drawing_texts import DrawingTexts
from pose_fit.drawing.overlay import overlay_picture, refused_picture
from pose_fit.errors import InputError
from pose_fit.inseam.error_model import error_model
from pose_fit.measure import (
    PhotoMeasurement,
    measure_photo,
    measure_with_heels_open,
    with_heels_down,
)
from pose_fit.metrology.units import Unit
from pose_fit.photo.clip import is_clip, read_clip
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.privacy.faces import Face
from pose_fit.privacy.hide_faces import face_detectors, with_face_hidden
from pose_fit.privacy.shown_faces import SHOWN_SIDE_PX, shown_faces
from pose_fit.refusal import Refusal
from pose_fit.scene import PhotoRefusal
from pose_fit.sights.legs_network import legs_network
from pose_fit.task.photo_task import PhotoTask

__all__ = ["Drawn", "Looked", "Opened", "draw", "find_body", "measure", "open_upload", "warm_up"]

#: Stands in a measurement for its photo, which whoever asked has.
_LEFT_OUT: Final = Photo("", np.zeros((1, 1, 3), np.uint8), 1, 1, None, False, None)


@dataclass(frozen=True, slots=True, eq=False)
class Looked:
    """A photo, and who is in it where it was looked at before."""

    photo: Photo
    body: Body | None
    was_looked_at: bool

    @property
    def pose(self) -> BodyOnce:
        """The pose model, which looks only where that is needed."""
        pose = BodyOnce(pose_model())
        if self.was_looked_at:
            pose.know(self.photo, self.body)
        return pose


@dataclass(frozen=True, slots=True, eq=False)
class Opened:
    """A picture of an upload, and what it gave where a question came with it.

    Attributes
    ----------
    answers
        What was asked, and its result without the photo; where only the heels hindered that, also
        what it gives with both heels down. Empty where nothing was asked.
    """

    photo: Photo
    body: Body | None = None
    answers: tuple[tuple[PhotoTask, PhotoMeasurement | Refusal | InputError], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """A picture with its marks as the page shows it, and the faces hidden in it."""

    source: str
    faces: tuple[Face, ...]


def warm_up() -> None:
    """Load everything that is loaded once."""
    pose_model()
    face_detectors()
    legs_network()
    error_model()


def open_upload(
    name: str, data: bytes, most: int, question: Question | None = None
) -> tuple[Opened, ...]:
    """The picture in a file, or so many of a clip's at most, measured; no disk ever holds them.

    One job, since each turn of a visitor waits for those of all others.

    Raises
    ------
    PhotoFileError
        Neither picture nor clip, or damaged; the text names the upload.
    """
    photos = (
        read_clip(data, name=name, most=most) if is_clip(data) else (read_photo(data, name=name),)
    )
    return tuple(
        Opened(photo) if question is None else _answered(photo, question) for photo in photos
    )


def _answered(photo: Photo, question: Question) -> Opened:
    pose, task = BodyOnce(pose_model()), question.task(photo)
    answers: list[tuple[PhotoTask, PhotoMeasurement | Refusal | InputError]]
    try:
        result, supposed = measure_with_heels_open(photo, task, pose=pose)
    except InputError as error:
        answers = [(task, error)]
    else:
        answers = [(task, _without_photo(result))]
        if supposed is not None:
            answers.append((with_heels_down(task), _without_photo(supposed)))
    # A copy without what was worked out of it meanwhile, which is as large as the photo.
    return Opened(replace(photo), pose.find(photo), tuple(answers))


def _without_photo(result: PhotoMeasurement | Refusal) -> PhotoMeasurement | Refusal:
    """A picture is large, and what it gave goes through a pipe."""
    return replace(result, photo=_LEFT_OUT) if isinstance(result, PhotoMeasurement) else result


def find_body(photo: Photo) -> Body | None:
    """The person in the photo."""
    return pose_model().find(photo)


def measure(looked: Looked, task: PhotoTask) -> tuple[Body | None, PhotoMeasurement | Refusal]:
    """Who is in the photo, and what it gave, without the photo.

    Raises
    ------
    InputError
        As :func:`pose_fit.measure.measure_photo`.
    """
    pose = looked.pose
    result = measure_photo(looked.photo, task, pose=pose)
    return pose.find(looked.photo), _without_photo(result)


def draw(
    looked: Looked,
    result: PhotoMeasurement | Refusal | None,
    unit: Unit,
    texts: DrawingTexts,
    faces: tuple[Face, ...] | None = None,
) -> Drawn:
    """The picture with what was found in it, faces hidden, in the size at which it is shown.

    ``result`` is None where the question was wrong; ``faces`` as they were drawn before, looked
    for where that is None.
    """
    photo, body = looked.photo, looked.pose.find(looked.photo)
    if faces is None:
        faces = shown_faces(photo, body)
    image: Image.Image | None = None
    if isinstance(result, PhotoMeasurement):
        image = overlay_picture(result, unit=unit, texts=texts, faces=faces)
    elif result is not None:
        # The page itself refuses a picture before anything is looked for in it.
        if not isinstance(result, PhotoRefusal):
            result = PhotoRefusal(result.reasons, body=body)
        image = refused_picture(photo, result, texts=texts, faces=faces)
    if image is None:
        image = Image.fromarray(with_face_hidden(photo, body, faces=faces))
    return Drawn(jpeg_source(image, longest_px=SHOWN_SIDE_PX), faces)
