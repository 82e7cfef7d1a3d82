"""The main job: one photo and what is said of it become an inseam, or a refusal."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.person_likelihood import SeenPerson
from pose_fit.anthropometry.plausibility import (
    Plausibility,
    implausible_notices,
    plausibilities,
)
from pose_fit.body.body import PoseModel
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.checks.before_wall import before_wall_warnings
from pose_fit.checks.book_seen import book_crotch, check_book
from pose_fit.checks.feet_level import feet_level_warnings
from pose_fit.checks.feet_on_floor import feet_on_floor_warnings
from pose_fit.checks.leaning import leaning_warnings
from pose_fit.checks.other_legs import other_legs_warnings
from pose_fit.checks.paper_hangs import check_paper_hangs
from pose_fit.checks.posture import posture_warnings
from pose_fit.checks.reading import CHECK_WHO, check_reading, reading_warnings
from pose_fit.checks.reference_seen import reference_warnings
from pose_fit.checks.retake import retake_advice
from pose_fit.checks.scale import check_person, check_scale, person_warnings
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
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.from_child import known_of
from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.observe_sights import observe_sights
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.inseam.photo_reading import PhotoReading, read_inseam
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.uncertain import UncertainLength
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_book_label import find_book_label
from pose_fit.refusal import Notice, Refusal
from pose_fit.scene import Found, PhotoRefusal, Scene, find_in, first_refusal, see_scene
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

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
) -> PhotoMeasurement | PhotoRefusal:
    """The inseam of the child, or why not; ``pose`` is the program's by default.

    Without a task whatever object of known size is there is used, and nothing is known of the child.

    Raises
    ------
    ReferenceObjectError
        The points given for the reference are unusable.
    InputError
        A point given for crotch, floor or person lies outside the picture.
    """
    found = find_in(photo, task, pose or pose_model())
    seen = _seen(found, task)
    return _told(found, seen if isinstance(seen, Refusal) else _judged(seen, task))


def measure_with_heels_open(
    photo: Photo,
    task: PhotoTask,
    *,
    pose: PoseModel | None = None,
) -> tuple[PhotoMeasurement | PhotoRefusal, PhotoMeasurement | PhotoRefusal | None]:
    """The same as :func:`measure_photo`, and where only the heels hinder it, with both down.

    The picture is looked at once: whether the heels were down is asked last.
    """
    found = find_in(photo, task, pose or pose_model())
    seen = _seen(found, task)
    if isinstance(seen, Refusal):
        return found.refused(seen), None
    result = _told(found, _judged(seen, task))
    if not is_about_heels_alone(result):
        return result, None
    return result, _told(found, _judged(seen, with_heels_down(task)))


def is_about_heels_alone(result: object) -> bool:
    """Whether only the heels kept a picture from being measured."""
    return isinstance(result, Refusal) and [one.code for one in result.reasons] == [HEELS_UNSEEN]


def with_heels_down(task: PhotoTask) -> PhotoTask:
    """The same task, had somebody said that both heels were down."""
    return replace(task, stated=replace(task.stated, heels_down=True))


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """Everything that a picture shows; what is stated of the heels takes no part in it."""

    scene: Scene
    legs: LegGeometry
    observed: PhotoSights
    reading: PhotoReading
    sizes: tuple[SizeWeight, ...]
    somebody: SeenPerson


def _told(found: Found, result: PhotoMeasurement | Refusal) -> PhotoMeasurement | PhotoRefusal:
    return found.refused(result) if isinstance(result, Refusal) else result


def _seen(found: Found, task: PhotoTask) -> _Seen | Refusal:
    scene = see_scene(found)
    if isinstance(scene, Refusal):
        return scene
    legs = scene.legs_by(scene.plane)
    observed = _observed(scene, legs, task.stated)
    if isinstance(observed, Refusal):
        return observed
    refusal = check_paper_hangs(scene.reference, scene.thing.request, observed.wall_bases)
    if refusal is not None:
        return refusal
    # Checks and plausibility judge the picture alone; what is known of the child joins last.
    reading = read_inseam(observed, model=error_model())
    refusal = first_refusal(
        lambda: check_reading(observed, reading),
        lambda: check_scale(scene.photo, scene.body, scene.plane, scene.reference, reading),
    )
    if refusal is not None:
        return refusal
    somebody = seen_person(
        scene.photo, scene.body, scene.plane, scene.reference, legs, reading.length
    )
    sizes = _sizes(scene, legs, reading, somebody, task.child)
    if isinstance(sizes, Refusal):
        return sizes
    return _Seen(scene, legs, observed, reading, sizes, somebody)


def _judged(seen: _Seen, task: PhotoTask) -> PhotoMeasurement | Refusal:
    scene, legs, observed = seen.scene, seen.legs, seen.observed
    reading, sizes = seen.reading, seen.sizes
    length = told_length(legs, reading, sizes)
    judged = plausibilities(length.mean_mm, sd_mm=length.sd_mm, child=task.child)
    refusal = first_refusal(
        lambda: _implausible(judged),
        lambda: check_stance(
            scene.body, scene.plane, legs, reading, heels_down=task.stated.heels_down
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
        reading = read_inseam(observed, model=error_model(), known=known)
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


def _observed(scene: Scene, legs: LegGeometry, stated: Stated) -> PhotoSights | Refusal:
    """Crotch, toes and wall base; a book between the legs shows the crotch in their place."""
    plane, reference = scene.plane, scene.reference
    observed = observe_sights(
        scene.photo, scene.body, reference, plane, legs, stated, model=error_model()
    )
    label = find_book_label(scene.photo, scene.body)
    if isinstance(label, Refusal):
        return label
    if label is None:
        return observed
    book = book_crotch(label, plane, legs, is_reference=reference.kind == "book")
    refusal = check_book(label, book, plane, legs)
    return refusal if refusal is not None else replace(observed, crotches=(), book=book)


def _sizes(
    scene: Scene, legs: LegGeometry, reading: PhotoReading, somebody: SeenPerson, child: Child
) -> tuple[SizeWeight, ...] | Refusal:
    """Every size the object may have, weighed; a refusal where another is as likely."""
    sizes = weigh_sizes(
        scene.seen,
        somebody,
        child,
        taller_by=lambda other: scene.legs_by(other).straight_mm / legs.straight_mm,
    )
    refusal = first_refusal(
        lambda: check_size(sizes, reading.length),
        lambda: check_person(somebody, scene.reference),
    )
    return sizes if refusal is None else refusal


def _warnings(seen: _Seen, length: UncertainLength) -> tuple[Notice, ...]:
    scene, legs, observed, reading = seen.scene, seen.legs, seen.observed, seen.reading
    photo, body, plane, reference = scene.photo, scene.body, scene.plane, scene.reference
    return (
        *scene.notices,
        *stance_warnings(legs, reading),
        *posture_warnings(body, legs),
        *leaning_warnings(body, plane, legs, reference),
        *before_wall_warnings(observed),
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
