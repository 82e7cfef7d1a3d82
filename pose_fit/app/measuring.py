"""Measure the pictures of a page and keep what came out until something changes."""

import os
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.correcting import joints_of, moves_of
from pose_fit.app.inputs.reference_form import marked_points
from pose_fit.app.inputs.which_child import child_pointed_at
from pose_fit.app.known_object import ObjectOfKnownSize
from pose_fit.app.session import Shot, said_of
from pose_fit.app.session_pose import session_pose
from pose_fit.errors import InputError
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.photo import Photo
from pose_fit.reference.reference import ReferenceKind
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["Outcome", "asks_for_object", "measure_shots"]

#: More measurements at once would be done no sooner, and would keep every other page waiting.
_ONE_A_CORE: Final = threading.BoundedSemaphore(os.cpu_count() or 1)

#: Codes of refusals that another object, or its points, may end.
_ABOUT_OBJECT: Final = frozenset(
    {"reference_missing", "reference_several", "reference_mismatch", "reference_scale"}
)
_MISSING: Final = "reference_missing"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one picture gave: a measurement, a refusal, or what is wrong with the question.

    ``task`` is what was asked in the end; None where no object of known size was found.
    """

    shot: Shot
    task: PhotoTask | None
    result: PhotoMeasurement | Refusal | InputError


@dataclass(frozen=True, slots=True)
class _Search:
    """The object is to be looked for."""

    stated: Stated
    child: Child


def measure_shots(
    shots: Sequence[Shot],
    known: ObjectOfKnownSize | None,
    child: Child,
    *,
    before_each: Callable[[int, Shot], None],
) -> tuple[Outcome, ...]:
    """Measure each picture once for each question; later runs answer from the session.

    ``before_each`` is called before a picture is measured, not where the answer is known.
    """
    return tuple(
        _outcome(place, shot, known, child, before_each) for place, shot in enumerate(shots)
    )


def asks_for_object(result: object) -> bool:
    """Whether the visitor can help by saying what is beside the child."""
    return isinstance(result, Refusal) and bool(
        _ABOUT_OBJECT & {reason.code for reason in result.reasons}
    )


def _outcome(
    place: int,
    shot: Shot,
    known: ObjectOfKnownSize | None,
    child: Child,
    before_each: Callable[[int, Shot], None],
) -> Outcome:
    said = said_of(shot)
    try:
        question = _question(shot, said.known_object or known, said.child or child)
    except InputError as error:
        return Outcome(shot, None, error)
    if isinstance(question, Refusal):
        return Outcome(shot, None, question)
    if said.answer is None or said.answer[0] != question:
        before_each(place, shot)
        said.answer = question, _answer(shot, question)
    outcome: Outcome = said.answer[1]
    return outcome


def _question(
    shot: Shot, known: ObjectOfKnownSize | None, child: Child
) -> PhotoTask | _Search | Refusal:
    """What is asked of the picture; a refusal while the object's points are missing."""
    moves = moves_of(shot)
    stated = replace(
        said_of(shot).stated,
        crotch_px=moves.get("crotch"),
        floor_px=moves.get("floor"),
        person_px=child_pointed_at(shot),
        joints_px=tuple(sorted(joints_of(moves).items())),
    )
    if known is None:
        return _Search(stated, child)
    points = marked_points(shot, known)
    if points is not None and len(points) < known.least_points:
        return Refusal((Notice("points_missing", "The object is not marked in this picture yet."),))
    return PhotoTask(known.request(points), stated, child)


def _answer(shot: Shot, question: PhotoTask | _Search) -> Outcome:
    with _ONE_A_CORE:
        try:
            if isinstance(question, PhotoTask):
                result = measure_photo(shot.photo, question, pose=session_pose())
                return Outcome(shot, question, result)
            task, found = _found(shot.photo, question)
            return Outcome(shot, task, found)
        except InputError as error:
            return Outcome(shot, None, error)


def _found(photo: Photo, search: _Search) -> tuple[PhotoTask | None, PhotoMeasurement | Refusal]:
    """The sheet, else the paper; where paper may be either size, which one is asked."""

    def measured(kind: ReferenceKind) -> tuple[PhotoTask, PhotoMeasurement | Refusal]:
        task = PhotoTask(ReferenceRequest(kind), search.stated, search.child)
        return task, measure_photo(photo, task, pose=session_pose())

    task, result = measured("sheet")
    if not _is_missing(result):
        return task, result
    papers = [measured("letter"), measured("a4")]
    seen = [(task, found) for task, found in papers if not _is_missing(found)]
    if len(seen) == 1:
        return seen[0]
    if not seen:
        return None, papers[0][1]
    reason = Notice(
        "reference_several", "The paper beside the child may be Letter or A4. Say which it is."
    )
    return None, Refusal((reason,))


def _is_missing(result: PhotoMeasurement | Refusal) -> bool:
    return isinstance(result, Refusal) and _MISSING in {reason.code for reason in result.reasons}
