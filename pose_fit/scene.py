"""Who and what is in a photo: the child, the object of known size and its plane."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from pose_fit.body.body import Body, PoseModel
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.checks.covered_legs import check_legs_seen, feet_seen_warnings
from pose_fit.checks.find_person import Person, find_person
from pose_fit.checks.picture_origin import check_seams, origin_of
from pose_fit.checks.picture_quality import quality_of, refusal_for
from pose_fit.checks.posture import check_posture
from pose_fit.checks.reference_points import check_places, check_points
from pose_fit.checks.reference_seen import check_reference
from pose_fit.checks.second_head import check_one_head, other_heads, smaller_heads_warnings
from pose_fit.errors import ReferenceObjectError
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.inseam.photo_sights import legs_of
from pose_fit.photo.camera_prior import CameraPrior, camera_prior
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.photogrammetry.seen_object import SeenObject, see_object
from pose_fit.photogrammetry.uprights import find_convergence
from pose_fit.reference.find_object import FoundObject, find_object
from pose_fit.reference.reference import PointReference, Reference
from pose_fit.refusal import Notice, Refusal
from pose_fit.sights.clicked import check_clicks
from pose_fit.task.photo_task import PhotoTask

__all__ = ["Found", "PhotoRefusal", "Scene", "find_in", "first_refusal", "see_scene"]


@dataclass(frozen=True, slots=True, eq=False)
class PhotoRefusal(Refusal):
    """A refusal with what was found in the photo, for a picture that shows it.

    Attributes
    ----------
    body
        The person; None where nobody was found.
    reference
        The object of known size; None where it was not looked for or not found.
    has_no_object
        The object was looked for and not found.
    """

    body: Body | None = None
    reference: Reference | None = None
    has_no_object: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """The person and the object, as far as they were found.

    Attributes
    ----------
    body
        The person, also one who cannot be measured; None where nobody was found.
    person
        The person to measure, or why there is none.
    thing
        The object, or why there is none; None where it was not looked for.
    doubts
        What makes this picture of the person less sure.
    """

    photo: Photo
    body: Body | None
    person: Person | Refusal
    thing: FoundObject | Refusal | None = None
    doubts: tuple[Notice, ...] = ()

    def refused(self, refusal: Refusal) -> PhotoRefusal:
        """The refusal, with what was found in this photo."""
        return PhotoRefusal(
            refusal.reasons,
            refusal.remedies,
            refusal.asks,
            body=self.body,
            reference=self.thing.reference if isinstance(self.thing, FoundObject) else None,
            has_no_object=isinstance(self.thing, Refusal),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Who and what is in the picture, and the plane by each size the object may have."""

    photo: Photo
    body: Body
    thing: FoundObject
    seen: SeenObject
    notices: tuple[Notice, ...]

    @property
    def reference(self) -> Reference:
        """The object as it is measured by."""
        return self.seen.reference

    @property
    def plane(self) -> PlaneScale:
        """Its plane."""
        return self.seen.plane

    def legs_by(self, plane: PlaneScale) -> LegGeometry:
        """The legs by the plane of one size of the object."""
        return legs_of(plane, self.body, beside=self.seen.is_beside, model=error_model())


def find_in(photo: Photo, task: PhotoTask, pose: PoseModel) -> Found:
    """Look for the person, and for the object beside one who can be measured.

    Raises
    ------
    ReferenceObjectError
        The points given for the reference are unusable.
    InputError
        A point given for crotch, floor or person lies outside the picture.
    """
    stated = task.stated
    pose = BodyOnce(MovedJoints(pose, dict(stated.joints_px)) if stated.joints_px else pose)
    person = find_person(photo, pose, person_px=stated.person_px)
    if isinstance(person, Refusal):
        return Found(photo, pose.find(photo), person)
    body = person.body
    # The object is looked for beside the checks, whose libraries leave the interpreter free.
    with ThreadPoolExecutor(max_workers=1) as beside:
        looking = beside.submit(
            find_object, photo, body, task.reference, child=task.child, soles_mm=stated.soles_mm
        )
        quality = quality_of(photo, body)
        heads = other_heads(photo, body)
        refusal = first_refusal(
            lambda: check_posture(photo, body),
            lambda: quality.refusal,
            lambda: check_one_head(heads),
            lambda: check_legs_seen(photo, body),
            lambda: check_clicks(photo, body, crotch_px=stated.crotch_px, floor_px=stated.floor_px),
        )
    if refusal is None:
        also = (*smaller_heads_warnings(heads), *feet_seen_warnings(photo, body))
        person = replace(person, notices=(*person.notices, *also))
        return Found(photo, body, person, looking.result(), quality.doubts)
    try:
        return Found(photo, body, refusal, looking.result())
    except ReferenceObjectError:
        # What is wrong with the person is said before what is wrong with the points given.
        return Found(photo, body, refusal)


def see_scene(found: Found) -> Scene | Refusal:
    """The scene with its planes; the first check that fails ends it."""
    photo, person, thing = found.photo, found.person, found.thing
    if isinstance(person, Refusal):
        return person
    assert thing is not None, "the object is looked for beside every person"
    if isinstance(thing, Refusal):
        return refusal_for(found.doubts, thing)
    body, origin, reference = person.body, origin_of(photo), thing.reference
    refusal = first_refusal(
        lambda: check_seams(photo, origin, body, reference),
        lambda: check_points(photo, body, reference),
    )
    if refusal is not None:
        return refusal
    stance = Stance(body.hips_px, body.ankles_px)
    seen = see_object(thing, _camera(photo, body, reference), stance)
    refusal = first_refusal(
        lambda: check_reference(seen.reference, seen.plane),
        lambda: check_places(seen.reference, seen.plane, stance),
    )
    if refusal is not None:
        return refusal
    notices = (*person.notices, *found.doubts, *origin.notices)
    return Scene(photo, body, thing, seen, notices)


def first_refusal(*checks: Callable[[], Refusal | None]) -> Refusal | None:
    """What the first check that fails says; those after it are not asked."""
    return next((refusal for check in checks if (refusal := check()) is not None), None)


def _camera(photo: Photo, body: Body, reference: Reference) -> CameraPrior:
    """What is known of the camera; a length in the picture tells no tilt, so the room is asked."""
    camera = camera_prior(photo)
    if isinstance(reference, PointReference) and len(reference.object_mm) == 2:
        return replace(camera, convergence=find_convergence(photo, body, camera))
    return camera
