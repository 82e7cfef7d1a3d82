"""The picture of a refused photo: what was found before it was refused."""

from collections.abc import Sequence

from PIL import Image

from pose_fit.body.body import PoseModel
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.checks.find_person import find_person
from pose_fit.drawing.drawing_texts import ENGLISH, DrawingTexts
from pose_fit.drawing.overlay import found_picture
from pose_fit.errors import ReferenceObjectError
from pose_fit.photo.photo import Photo
from pose_fit.privacy.faces import Face
from pose_fit.reference.find_object import find_object
from pose_fit.reference.reference import Reference
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = ["refused_picture"]


def refused_picture(
    photo: Photo,
    task: PhotoTask,
    *,
    pose: PoseModel,
    texts: DrawingTexts = ENGLISH,
    faces: Sequence[Face] | None = None,
) -> Image.Image | None:
    """Person, legs and, where it is found, the reference; None where nobody is found.

    Looks once more, so that a refusal need not carry what led to it.
    """
    stated = task.stated
    if stated.joints_px:
        pose = MovedJoints(pose, dict(stated.joints_px))
    person = find_person(photo, pose, person_px=stated.person_px)
    body = pose.find(photo) if isinstance(person, Refusal) else person.body
    if body is None:
        return None
    reference: Reference | None = None
    try:
        found = find_object(photo, body, task.reference, child=task.child, soles_mm=stated.soles_mm)
    except ReferenceObjectError:
        pass
    else:
        reference = None if isinstance(found, Refusal) else found.reference
    return found_picture(photo, body, reference, texts=texts, faces=faces)
