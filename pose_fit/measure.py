"""The main job: one photo and what is said of it become an inseam, or a refusal."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.person_likelihood import SeenPerson
from pose_fit.anthropometry.plausibility import (
    Plausibility,
    implausible_notices,
    plausibilities,
)
from pose_fit.body.body import Body, PoseModel
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.body.moved_joints import MovedJoints
from pose_fit.checks.book_seen import book_crotch, check_book
from pose_fit.checks.covered_legs import check_legs_seen, feet_seen_warnings
from pose_fit.checks.feet_level import feet_level_warnings
from pose_fit.checks.feet_on_floor import feet_on_floor_warnings
from pose_fit.checks.find_person import Person, find_person
from pose_fit.checks.leaning import leaning_warnings
from pose_fit.checks.other_legs import other_legs_warnings
from pose_fit.checks.picture_origin import check_seams, origin_of
from pose_fit.checks.picture_quality import quality_of, refusal_for
from pose_fit.checks.posture import check_posture, posture_warnings
from pose_fit.checks.reading import CHECK_WHO, check_reading, reading_warnings
from pose_fit.checks.reference_points import check_places, check_points
from pose_fit.checks.reference_seen import check_reference, reference_warnings
from pose_fit.checks.retake import retake_advice
from pose_fit.checks.scale import check_person, check_scale, person_warnings
from pose_fit.checks.second_head import check_one_head, other_heads, smaller_heads_warnings
from pose_fit.checks.seen_person import seen_person
from pose_fit.checks.stance import (
    HEELS_UNSEEN,
    check_stance,
    stance_warnings,
    with_raised_heels,
)
from pose_fit.checks.two_answers import check_one_answer, second_answer
from pose_fit.checks.two_legs import two_legs_warnings
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
from pose_fit.metrology.uncertain import UncertainLength
from pose_fit.photo.camera_prior import CameraPrior, camera_prior
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.photogrammetry.seen_object import SeenObject, see_object
from pose_fit.photogrammetry.uprights import find_convergence
from pose_fit.reference.find_book_label import find_book_label
from pose_fit.reference.find_object import FoundObject, find_object
from pose_fit.reference.reference import PointReference, Reference
from pose_fit.refusal import Notice, Refusal
from pose_fit.sights.clicked import check_clicks
from pose_fit.task.photo_task import PhotoTask

__all__ = [
    "PhotoMeasurement",
    "is_about_heels_alone",
    "measure_photo",
    "measure_with_heels_open",
    "told_length",
    "with_heels_down",
]


_NOTHING_SAID: Final = PhotoTask()


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
    task: PhotoTask = _NOTHING_SAID,
    *,
    pose: PoseModel | None = None,
    model: ErrorModel | None = None,
) -> PhotoMeasurement | Refusal:
    """The inseam of the child, or why not; ``pose`` and ``model`` are the program's by default.

    Without a task whatever object of known size is there is used, and nothing is known of the child.

    Raises
    ------
    ReferenceObjectError
        The points given for the reference are unusable.
    InputError
        A point given for crotch, floor or person lies outside the picture.
    """
    model = model or error_model()
    seen = _seen(photo, task, pose or pose_model(), model)
    return seen if isinstance(seen, Refusal) else _judged(seen, task, model)


def measure_with_heels_open(
    photo: Photo,
    task: PhotoTask,
    *,
    pose: PoseModel | None = None,
    model: ErrorModel | None = None,
) -> tuple[PhotoMeasurement | Refusal, PhotoMeasurement | Refusal | None]:
    """The same as :func:`measure_photo`, and where only the heels hinder it, with both down.

    The picture is looked at once: whether the heels were down is asked last.
    """
    model = model or error_model()
    seen = _seen(photo, task, pose or pose_model(), model)
    if isinstance(seen, Refusal):
        return seen, None
    result = _judged(seen, task, model)
    if not is_about_heels_alone(result):
        return result, None
    return result, _judged(seen, with_heels_down(task), model)


def is_about_heels_alone(result: object) -> bool:
    """Whether only the heels kept a picture from being measured."""
    return isinstance(result, Refusal) and [one.code for one in result.reasons] == [HEELS_UNSEEN]


def with_heels_down(task: PhotoTask) -> PhotoTask:
    """The same task, had somebody said that both heels were down."""
    return replace(task, stated=replace(task.stated, heels_down=True))


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """Everything that a picture shows; what is stated of the heels takes no part in it."""

    scene: "_Scene"
    legs: LegGeometry
    observed: PhotoSights
    reading: PhotoReading
    sizes: tuple[SizeWeight, ...]
    somebody: SeenPerson


def _seen(photo: Photo, task: PhotoTask, pose: PoseModel, model: ErrorModel) -> _Seen | Refusal:
    scene = _scene(photo, task, pose)
    if isinstance(scene, Refusal):
        return scene
    legs = scene.legs(scene.seen.plane, model)
    observed = _observed(scene, legs, task, model)
    if isinstance(observed, Refusal):
        return observed
    # Checks and plausibility judge the picture alone; what is known of the child joins last.
    reading = read_inseam(observed, model=model)
    refusal = _first(
        lambda: check_reading(observed, reading),
        lambda: check_scale(photo, scene.body, scene.seen.plane, scene.seen.reference, reading),
    )
    if refusal is not None:
        return refusal
    somebody = seen_person(
        photo, scene.body, scene.seen.plane, scene.seen.reference, legs, reading.length
    )
    sizes = _sizes(scene, legs, reading, somebody, task.child, model)
    if isinstance(sizes, Refusal):
        return sizes
    return _Seen(scene, legs, observed, reading, sizes, somebody)


def _judged(seen: _Seen, task: PhotoTask, model: ErrorModel) -> PhotoMeasurement | Refusal:
    scene, legs, observed = seen.scene, seen.legs, seen.observed
    reading, sizes = seen.reading, seen.sizes
    length = told_length(legs, reading, sizes)
    judged = plausibilities(length.mean_mm, sd_mm=length.sd_mm, child=task.child)
    refusal = _first(
        lambda: _implausible(judged),
        lambda: check_stance(
            scene.body, scene.seen.plane, legs, reading, heels_down=task.stated.heels_down
        ),
        # A stance that is not the usual one is as a rule why the picture gives two answers.
        lambda: check_one_answer(
            observed,
            reading,
            also=(*stance_warnings(legs, reading), *posture_warnings(scene.body, legs)),
        ),
    )
    if refusal is not None:
        return refusal
    warnings = _warnings(seen, length)
    known = known_of(task.child) if task.use_child else None
    if known is not None:
        reading = read_inseam(observed, model=model, known=known)
        length = told_length(legs, reading, sizes)
    inseam = Inseam(
        length,
        "photo",
        (*warnings, *(entry.notice for entry in judged if entry.notice)),
        retake_advice(length, legwear=task.stated.legwear),
    )
    return PhotoMeasurement(scene.photo, observed, legs, reading, inseam, sizes)


def told_length(
    legs: LegGeometry, reading: PhotoReading, sizes: Sequence[SizeWeight]
) -> UncertainLength:
    """The inseam of a reading, less sure by heels and sizes that the picture leaves open."""
    return with_sizes(with_raised_heels(legs, reading), sizes)


@dataclass(frozen=True, slots=True, eq=False)
class _Scene:
    """Who and what is in the picture, and the plane by each size the object may have."""

    photo: Photo
    person: Person
    thing: FoundObject
    seen: SeenObject
    notices: tuple[Notice, ...]

    @property
    def body(self) -> Body:
        return self.person.body

    def legs(self, plane: PlaneScale, model: ErrorModel) -> LegGeometry:
        """The legs by a plane."""
        return legs_of(plane, self.body, beside=self.seen.is_beside, model=model)


def _scene(photo: Photo, task: PhotoTask, pose: PoseModel) -> _Scene | Refusal:
    """Person, object and planes; the first check that fails ends it."""
    stated = task.stated
    if stated.joints_px:
        pose = MovedJoints(pose, dict(stated.joints_px))
    person = find_person(photo, pose, person_px=stated.person_px)
    if isinstance(person, Refusal):
        return person
    body = person.body
    # The object is looked for beside the checks, whose libraries leave the interpreter free.
    with ThreadPoolExecutor(max_workers=1) as beside:
        looking = beside.submit(
            find_object, photo, body, task.reference, child=task.child, soles_mm=stated.soles_mm
        )
        quality = quality_of(photo, body)
        heads = other_heads(photo, body)
        refusal = _first(
            lambda: check_posture(photo, body),
            lambda: quality.refusal,
            lambda: check_one_head(heads),
            lambda: check_legs_seen(photo, body),
            lambda: check_clicks(photo, body, crotch_px=stated.crotch_px, floor_px=stated.floor_px),
        )
        if refusal is not None:
            return refusal
        thing = looking.result()
    if isinstance(thing, Refusal):
        return refusal_for(quality.doubts, thing)
    origin, reference = origin_of(photo), thing.reference
    refusal = _first(
        lambda: check_seams(photo, origin, body, reference),
        lambda: check_points(photo, body, reference),
    )
    if refusal is not None:
        return refusal
    stance = Stance(body.hips_px, body.ankles_px)
    seen = see_object(thing, _camera(photo, body, reference), stance)
    refusal = _first(
        lambda: check_reference(seen.reference, seen.plane),
        lambda: check_places(seen.reference, seen.plane, stance),
    )
    if refusal is not None:
        return refusal
    notices = (
        *person.notices,
        *quality.doubts,
        *origin.notices,
        *smaller_heads_warnings(heads),
        *feet_seen_warnings(photo, body),
    )
    return _Scene(photo, person, thing, seen, notices)


def _camera(photo: Photo, body: Body, reference: Reference) -> CameraPrior:
    """What is known of the camera; a length in the picture tells no tilt, so the room is asked."""
    camera = camera_prior(photo)
    if isinstance(reference, PointReference) and len(reference.object_mm) == 2:
        return replace(camera, convergence=find_convergence(photo, body, camera))
    return camera


def _observed(
    scene: _Scene, legs: LegGeometry, task: PhotoTask, model: ErrorModel
) -> PhotoSights | Refusal:
    """Crotch, toes and wall base; a book between the legs shows the crotch in their place."""
    seen = scene.seen
    observed = observe_sights(
        scene.photo, scene.body, seen.reference, seen.plane, legs, task.stated, model=model
    )
    label = find_book_label(scene.photo, scene.body)
    if isinstance(label, Refusal):
        return label
    if label is None:
        return observed
    book = book_crotch(label, seen.plane, legs, is_reference=seen.reference.kind == "book")
    refusal = check_book(label, book, seen.plane, legs)
    return refusal if refusal is not None else replace(observed, crotches=(), book=book)


def _sizes(
    scene: _Scene,
    legs: LegGeometry,
    reading: PhotoReading,
    somebody: SeenPerson,
    child: Child,
    model: ErrorModel,
) -> tuple[SizeWeight, ...] | Refusal:
    """Every size the object may have, weighed; a refusal where another is as likely."""
    seen = scene.seen
    sizes = weigh_sizes(
        seen,
        somebody,
        child,
        taller_by=lambda other: scene.legs(other, model).straight_mm / legs.straight_mm,
    )
    refusal = _first(
        lambda: check_size(sizes, reading.length),
        lambda: check_person(somebody, seen.reference),
    )
    return sizes if refusal is None else refusal


def _warnings(seen: _Seen, length: UncertainLength) -> tuple[Notice, ...]:
    scene, legs, observed, reading = seen.scene, seen.legs, seen.observed, seen.reading
    photo, body, plane = scene.photo, scene.body, scene.seen.plane
    reference = scene.seen.reference
    return (
        *scene.notices,
        *stance_warnings(legs, reading),
        *posture_warnings(body, legs),
        *leaning_warnings(body, plane, legs, reference),
        *feet_level_warnings(body, plane, legs, observed.toes),
        *feet_on_floor_warnings(body, plane, legs, observed.wall_bases),
        *two_legs_warnings(photo, body),
        *other_legs_warnings(photo, body, reference),
        *reference_warnings(reference, plane, scene.thing.request),
        *person_warnings(seen.somebody, reference),
        *size_warnings(seen.sizes, length),
        *reading_warnings(observed, reading),
        *second_answer(reading),
    )


def _implausible(judged: tuple[Plausibility, ...]) -> Refusal | None:
    notices = implausible_notices(judged)
    return Refusal(notices, (CHECK_WHO,)) if notices else None


def _first(*checks: Callable[[], Refusal | None]) -> Refusal | None:
    """What the first check that fails says; those after it are not asked."""
    return next((refusal for check in checks if (refusal := check()) is not None), None)
