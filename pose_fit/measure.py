"""The main job: one photo and what is said of it become an inseam, or a refusal."""

from dataclasses import dataclass

from pose_fit.body.body import PoseModel
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.checks.covered_legs import check_legs_seen
from pose_fit.checks.find_person import find_person
from pose_fit.checks.known_child import plausibilities
from pose_fit.checks.picture_origin import check_seams, origin_of
from pose_fit.checks.picture_quality import quality_of, refusal_for
from pose_fit.checks.posture import check_posture, posture_warnings
from pose_fit.checks.reading import CHECK_WHO, check_reading, reading_warnings
from pose_fit.checks.reference_points import check_places, check_points
from pose_fit.checks.reference_seen import check_reference, reference_warnings
from pose_fit.checks.retake import retake_advice
from pose_fit.checks.scale import check_person, check_scale
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
from pose_fit.inseam.find_sights import find_sights
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.inseam.photo_reading import PhotoReading, PhotoSights, legs_of
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale, Stance, solve_plane
from pose_fit.reference.find_reference import find_reference
from pose_fit.reference.size_hypotheses import SizeHypothesis, size_hypotheses
from pose_fit.refusal import Refusal
from pose_fit.sights.clicked import check_clicks
from pose_fit.task.photo_task import PhotoTask

__all__ = ["PhotoMeasurement", "measure_photo"]


@dataclass(frozen=True, slots=True)
class PhotoMeasurement:
    """Everything one photo gave, from what was found to the inseam."""

    photo: Photo
    sights: PhotoSights
    legs: LegGeometry
    reading: PhotoReading
    inseam: Inseam
    sizes: tuple[SizeWeight, ...] = ()


def measure_photo(
    photo: Photo,
    task: PhotoTask,
    *,
    pose: PoseModel,
    model: ErrorModel | None = None,
) -> PhotoMeasurement | Refusal:
    """The inseam of the child in the photo, or why it cannot be measured.

    Raises
    ------
    ReferenceObjectError
        The points given for the reference are unusable.
    InputError
        A point given for crotch, floor or person lies outside the picture.
    """
    model = model or error_model()
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
        refusal = check_legs_seen(photo, body)
    if refusal is None:
        refusal = check_clicks(photo, body, crotch_px=said.crotch_px, floor_px=said.floor_px)
    if refusal is not None:
        return refusal
    reference = find_reference(photo, body, task.reference, child=child, soles_mm=said.soles_mm)
    if isinstance(reference, Refusal):
        return refusal_for(quality.doubts, reference)
    origin = origin_of(photo)
    refusal = check_seams(photo, origin, body, reference)
    if refusal is None:
        refusal = check_points(photo, body, reference)
    if refusal is not None:
        return refusal
    camera, stance = camera_prior(photo), Stance(body.hips_px, body.ankles_px)
    plane = solve_plane(reference, camera, stance=stance)
    refusal = check_reference(reference, plane)
    if refusal is None:
        refusal = check_places(reference, plane, stance)
    if refusal is not None:
        return refusal
    is_beside = reference.placement == "beside"
    legs = legs_of(plane, body, beside=is_beside, model=model)
    found = find_sights(photo, body, reference, plane, legs, said, model=model)
    reading = found.reading
    refusal = check_reading(reading, legwear=said.legwear)
    if refusal is None:
        refusal = check_scale(photo, body, plane, reference, reading)
    if refusal is not None:
        return refusal
    seen = seen_person(photo, body, plane, reference, legs, reading.length)

    def other_shape(other: SizeHypothesis) -> tuple[PlaneScale, float]:
        own = solve_plane(other.reference, camera, stance=stance)
        taller = legs_of(own, body, beside=is_beside, model=model).straight_mm / legs.straight_mm
        return own, taller

    hypotheses = size_hypotheses(reference, task.reference)
    sizes = weigh_sizes(hypotheses, plane, stance, seen, child, other_shape=other_shape)
    refusal = check_size(sizes, reading.length)
    if refusal is None:
        refusal = check_person(seen, reference)
    if refusal is not None:
        return refusal
    length = with_sizes(with_raised_heels(legs, reading), sizes)
    warnings = (
        *person.notices,
        *quality.doubts,
        *origin.notices,
        *stance_warnings(legs, reading),
        *posture_warnings(body),
        *([] if found.crotch_doubt is None else [found.crotch_doubt]),
        *reference_warnings(reference, plane, task.reference),
        *size_warnings(sizes, length),
        *reading_warnings(reading),
    )
    inseam = Inseam(length, "photo", warnings, retake_advice(length, legwear=said.legwear))
    judged = plausibilities(inseam, child)
    implausible = [entry.notice for entry in judged if entry.band == "implausible" and entry.notice]
    if implausible:
        return Refusal(tuple(implausible), (CHECK_WHO,))
    refusal = check_stance(body, plane, legs, reading, heels_down=said.heels_down)
    if refusal is not None:
        return refusal
    inseam = inseam.with_warnings(*(entry.notice for entry in judged if entry.notice))
    return PhotoMeasurement(photo, found.sights, legs, reading, inseam, sizes)
