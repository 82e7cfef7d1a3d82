"""What worker processes do for the pages; nothing here knows of a page."""

from dataclasses import dataclass

from PIL import Image

from pose_fit.body.body import Body
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.drawing.drawing_texts import DrawingTexts
from pose_fit.drawing.overlay import overlay_picture
from pose_fit.drawing.refused import refused_picture
from pose_fit.inseam.error_model import error_model
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.metrology.units import Unit
from pose_fit.photo.clip import is_clip, read_clip
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.privacy.hide_faces import face_detectors
from pose_fit.refusal import Refusal
from pose_fit.sights.legs_network import legs_network
from pose_fit.task.photo_task import PhotoTask

__all__ = ["Looked", "draw", "find_body", "measure", "read_upload", "warm_up"]


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


def warm_up() -> None:
    """Load everything that is loaded once."""
    pose_model()
    face_detectors()
    legs_network()
    error_model()


def read_upload(name: str, data: bytes, most: int) -> tuple[Photo, ...]:
    """The picture in a file, or so many of a clip's at most; no disk ever holds them.

    Raises
    ------
    PhotoFileError
        Neither picture nor clip, or damaged; the text names the upload.
    """
    return (
        read_clip(data, name=name, most=most) if is_clip(data) else (read_photo(data, name=name),)
    )


def find_body(photo: Photo) -> Body | None:
    """The person in the photo."""
    return pose_model().find(photo)


def measure(looked: Looked, task: PhotoTask) -> tuple[Body | None, PhotoMeasurement | Refusal]:
    """Who is in the photo, and what it gave.

    Raises
    ------
    InputError
        As :func:`pose_fit.measure.measure_photo`.
    """
    pose = looked.pose
    result = measure_photo(looked.photo, task, pose=pose)
    return pose.find(looked.photo), result


def draw(
    looked: Looked,
    task: PhotoTask,
    result: PhotoMeasurement | Refusal,
    unit: Unit,
    texts: DrawingTexts,
) -> Image.Image | None:
    """The picture with what was found in it, faces hidden; None where nobody was."""
    if isinstance(result, PhotoMeasurement):
        return overlay_picture(result, unit=unit, texts=texts)
    return refused_picture(looked.photo, task, pose=looked.pose, texts=texts)
