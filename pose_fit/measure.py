"""The main job: one photo and what is said of it become an inseam, or a refusal."""

from dataclasses import dataclass

from pose_fit.body.body import PoseModel
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.checks.covered_legs import check_legs_seen
from pose_fit.checks.find_person import find_person
from pose_fit.checks.known_child import plausibilities
from pose_fit.checks.picture_origin import check_seams, origin_of
from pose_fit.checks.picture_quality import quality_of, refusal_for
from pose_fit.checks.posture import check_posture, posture_warnings
from pose_fit.checks.reading import (
    CHECK_WHO,
    check_one_answer,
    check_reading,
    reading_warnings,
)
from pose_fit.checks.reference_points import check_places, check_points
from pose_fit.checks.reference_seen import check_reference, reference_warnings
from pose_fit.checks.retake import retake_advice
from pose_fit.checks.scale import check_person, check_scale
from pose_fit.checks.second_head import check_one_head
from pose_fit.checks.seen_person import seen_person
from pose_fit.checks.stance import check_stance, stance_warnings, with_raised_heels
from pose_fit.checks.which_size import (
    SizeWeight,
    check_size,
    size_warnings,
    weigh_sizes,
    with_sizes,
)
from pose_fit.inseam.error_model import ErrorModel, error_model
from pose_fit.inseam.from_child import known_of
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.observe_sights import observe_sights
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.inseam.photo_reading import PhotoReading, read_inseam
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale, Stance
from pose_fit.photogrammetry.seen_object import see_object
from pose_fit.reference.find_object import find_object
from pose_fit.refusal import Refusal
from pose_fit.sights.clicked import check_clicks
from pose_fit.task.photo_task import PhotoTask

__all__ = ["PhotoMeasurement", "measure_photo"]


@dataclass(frozen=True, slots=True)
class PhotoMeasurement:
    """Everything one photo gave, from what was found to the inseam.

    Attributes
    ----------
    observed
        All candidates of every sight.
    reading
        With what is known of the child, where that is not left out.
    """

    photo: Photo
    observed: PhotoSights
    legs: LegGeometry
    reading: PhotoReading
    inseam: Inseam
    sizes: tuple[SizeWeight, ...] = ()

    @property
    def sights(self) -> PhotoSights:
        """The candidates of the likeliest hypothesis alone."""
        likeliest = self.reading.likeliest
        return self.observed.only(likeliest.crotch, likeliest.toes, likeliest.wall_base)


def measure_photo(
    photo: Photo,
    task: PhotoTask,
    *,
    pose: PoseModel | None = None,
    model: ErrorModel | None = None,
) -> PhotoMeasurement | Refusal:
    """The inseam of the child in the photo, or why it cannot be measured.

    ``pose`` and ``model`` are those of the program where none is given.

    Raises
    ------
    ReferenceObjectError
        The points given for the reference are unusable.
    InputError
        A point given for crotch, floor or person lies outside the picture.
    """
    pose, model = pose or pose_model(), model or error_model()
    said, child = task.stated, task.child
    if said.joints_px:
        pose = MovedJoints(pose, dict(said.joints_px))
    person = find_person(photo, pose, person_px=said.person_px)
    if isinstance(person, Refusal):
        return person
    body, quality = person.body, quality_of(photo, person.body)
    refusal = check_posture(photo, body)
    if refusal is None:
        refusal = quality.refusal
    if refusal is None:
        refusal = check_one_head(photo, body)
    if refusal is None:
        refusal = check_legs_seen(photo, body)
    if refusal is None:
        refusal = check_clicks(photo, body, crotch_px=said.crotch_px, floor_px=said.floor_px)
    if refusal is not None:
        return refusal
    thing = find_object(photo, body, task.reference, child=child, soles_mm=said.soles_mm)
    if isinstance(thing, Refusal):
        return refusal_for(quality.doubts, thing)
    origin = origin_of(photo)
    refusal = check_seams(photo, origin, body, thing.reference)
    if refusal is None:
        refusal = check_points(photo, body, thing.reference)
    if refusal is not None:
        return refusal
    stance = Stance(body.hips_px, body.ankles_px)
    seen = see_object(thing, camera_prior(photo), stance)
    reference, plane = seen.reference, seen.plane
    refusal = check_reference(reference, plane)
    if refusal is None:
        refusal = check_places(reference, plane, stance)
    if refusal is not None:
        return refusal
    legs = legs_of(plane, body, beside=seen.is_beside, model=model)
    observed = observe_sights(photo, body, reference, plane, legs, said, model=model)
    # Checks and plausibility judge the picture alone; what is known of the child joins last.
    reading = read_inseam(observed, model=model)
    refusal = check_reading(observed, reading)
    if refusal is None:
        refusal = check_scale(photo, body, plane, reference, reading)
    if refusal is not None:
        return refusal

    def taller_by(other: PlaneScale) -> float:
        others = legs_of(other, body, beside=seen.is_beside, model=model)
        return others.straight_mm / legs.straight_mm

    somebody = seen_person(photo, body, plane, reference, legs, reading.length)
    sizes = weigh_sizes(seen, somebody, child, taller_by=taller_by)
    refusal = check_size(sizes, reading.length)
    if refusal is None:
        refusal = check_person(somebody, reference)
    if refusal is not None:
        return refusal
    length = with_sizes(with_raised_heels(legs, reading), sizes)
    warnings = (
        *person.notices,
        *quality.doubts,
        *origin.notices,
        *stance_warnings(legs, reading),
        *posture_warnings(body),
        *reference_warnings(reference, plane, thing.request),
        *size_warnings(sizes, length),
        *reading_warnings(observed, reading),
    )
    judged = plausibilities(Inseam(length, "photo"), child)
    implausible = [entry.notice for entry in judged if entry.band == "implausible" and entry.notice]
    if implausible:
        return Refusal(tuple(implausible), (CHECK_WHO,))
    refusal = check_stance(body, plane, legs, reading, heels_down=said.heels_down)
    if refusal is None:
        # A stance that is not the usual one is as a rule why the picture gives two answers.
        refusal = check_one_answer(observed, reading, also=stance_warnings(legs, reading))
    if refusal is not None:
        return refusal
    known = known_of(child) if task.use_child else None
    if known is not None:
        reading = read_inseam(observed, model=model, known=known)
        length = with_sizes(with_raised_heels(legs, reading), sizes)
    inseam = Inseam(
        length,
        "photo",
        (*warnings, *(entry.notice for entry in judged if entry.notice)),
        retake_advice(length, legwear=said.legwear),
    )
    return PhotoMeasurement(photo, observed, legs, reading, inseam, sizes)
