"""Measure the pictures of a page and keep what came out until something changes."""

import datetime as dt
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
from pose_fit.growth.dated_readings import Dated, child_on, combined, picture_day
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["Outcome", "asks_for_object", "measure_shots", "supposing_heels_down", "together"]

#: More measurements at once would be done no sooner, and would keep every other page waiting.
_ONE_A_CORE: Final = threading.BoundedSemaphore(os.cpu_count() or 1)

#: Codes of refusals that another object, or its points, may end.
_ABOUT_OBJECT: Final = frozenset(
    {
        "camera_nowhere",
        "paper_unsure",
        "points_on_border",
        "points_on_person",
        "reference_mismatch",
        "reference_missing",
        "reference_none",
        "reference_scale",
        "size_unsure",
        "tyre_code_wanted",
    }
)
#: The object is looked for.
_SEARCH: Final = ReferenceRequest("auto")
_NOT_MARKED: Final = Refusal(
    (Notice("points_missing", "The object is not marked in this picture yet."),)
)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one picture gave: a measurement, a refusal, or what is wrong with the question.

    ``task`` is what was asked in the end. ``heels_open`` where nobody said whether the heels were
    down and the result counts with both.
    """

    shot: Shot
    task: PhotoTask
    result: PhotoMeasurement | Refusal | InputError
    heels_open: bool = False


def measure_shots(
    shots: Sequence[Shot],
    known: ObjectOfKnownSize | None,
    child: Child,
    *,
    before_each: Callable[[int, Shot], None],
    use_child: bool = True,
) -> tuple[Outcome, ...]:
    """Measure each picture once for each question; later runs answer from the session.

    ``before_each`` is called before a picture is measured, not where the answer is known. Without
    ``use_child`` body height and age take no part in the inseam.
    """
    return tuple(
        _outcome(place, shot, known, child, before_each, use_child=use_child)
        for place, shot in enumerate(shots)
    )


def supposing_heels_down(outcome: Outcome) -> Outcome:
    """What a picture gives once somebody says that both heels were down; kept for that answer."""
    said, task = said_of(outcome.shot), outcome.task
    task = replace(task, stated=replace(task.stated, heels_down=True))
    if said.supposed is None or said.supposed[0] != task:
        said.supposed = task, _answer(outcome.shot, task)
    supposed: Outcome = said.supposed[1]
    return supposed


def together(outcomes: Sequence[Outcome]) -> Dated | Refusal | None:
    """All measured pictures as one reading on the latest of their days; None where none is.

    A refusal where they cannot be of one child, or one is too old to be carried to that day.
    """
    today = dt.date.today()
    readings = [
        Dated(
            outcome.result.inseam,
            picture_day(outcome.shot.photo, outcome.task.stated, today=today)[0],
            outcome.task.child,
        )
        for outcome in outcomes
        if isinstance(outcome.result, PhotoMeasurement)
    ]
    return combined(readings) if readings else None


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
    *,
    use_child: bool,
) -> Outcome:
    said = said_of(shot)
    known, child = said.known_object or known, said.child or child
    today = dt.date.today()
    stated = _stated(shot)
    on, _ = picture_day(shot.photo, stated, today=today)
    search = PhotoTask(
        _SEARCH, stated, child_on(child, stated_on=today, on=on), use_child=use_child
    )
    points = None if known is None else marked_points(shot, known)
    if known is not None and points is not None and len(points) < known.least_points:
        return Outcome(shot, search, _NOT_MARKED)
    try:
        task = search if known is None else replace(search, reference=known.request(points))
    except InputError as error:
        return Outcome(shot, search, error)
    if said.supposed is not None and said.supposed[0] == task:
        said.answer = said.supposed
    if said.answer is None or said.answer[0] != task:
        before_each(place, shot)
        said.answer = task, _answer(shot, task)
    outcome: Outcome = said.answer[1]
    return outcome


def _stated(shot: Shot) -> Stated:
    """Everything said of the picture, its marks included."""
    moves = moves_of(shot)
    return replace(
        said_of(shot).stated,
        crotch_px=moves.get("crotch"),
        floor_px=moves.get("floor"),
        person_px=child_pointed_at(shot),
        joints_px=tuple(sorted(joints_of(moves).items())),
    )


def _answer(shot: Shot, task: PhotoTask) -> Outcome:
    with _ONE_A_CORE:
        try:
            return Outcome(shot, task, measure_photo(shot.photo, task, pose=session_pose()))
        except InputError as error:
            return Outcome(shot, task, error)
