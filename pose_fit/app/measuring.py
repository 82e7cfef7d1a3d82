"""Measure the pictures of a page and keep what came out until something changes."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.correcting import joints_of, moves_of
from pose_fit.app.inputs.reference_form import marked_points
from pose_fit.app.inputs.which_child import child_pointed_at
from pose_fit.app.inputs.worn import stated_of_next
from pose_fit.app.known_object import ObjectOfKnownSize
from pose_fit.app.question import Question
from pose_fit.app.session import Shot, said_of
from pose_fit.app.session_pose import looked_at, session_pose
from pose_fit.app.turns import Turns
from pose_fit.app.views.progress_view import Progress
from pose_fit.app.worker_jobs import Opened, measure
from pose_fit.body.body import Body
from pose_fit.body.looks import looks_of
from pose_fit.errors import InputError, WorkStoppedError
from pose_fit.growth.dated_readings import Dated, combined, picture_day
from pose_fit.measure import PhotoMeasurement, with_heels_down
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Notice, Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from pose_fit.workers.worker_pool import Job

__all__ = [
    "Outcome",
    "asks_for_object",
    "first_question",
    "keep_answers",
    "measure_shots",
    "measured",
    "supposing_heels_down",
    "together",
]

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
_STOPPED: Final = Refusal(
    (Notice("worker_crashed", "The program that measures stopped at this picture, twice."),),
    ("Remove the picture and take another one, or choose it again.",),
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
    progress: Progress,
    use_child: bool = True,
) -> tuple[Outcome, ...]:
    """Measure each picture once for each question; later runs answer from the session.

    ``progress`` is shown while pictures are measured, not where all answers are known. Without
    ``use_child`` body height and age take no part in the inseam.
    """
    asked = [_asked(shot, known, child, use_child=use_child) for shot in shots]
    with Turns() as turns:
        # All at once, so that several workers share them.
        jobs = {
            place: turns.submit(measure, looked_at(shot.photo), task)
            for place, (shot, task) in enumerate(zip(shots, asked, strict=True))
            if isinstance(task, PhotoTask)
        }
        outcomes = []
        for place, (shot, task) in enumerate(zip(shots, asked, strict=True)):
            if isinstance(task, Outcome):
                outcomes.append(task)
                continue
            tell = progress.teller(number=place + 1, count=len(shots), name=shot.name)
            outcome = Outcome(shot, task, _result(turns, jobs[place], shot.photo, tell))
            said_of(shot).answer = task, outcome
            outcomes.append(outcome)
    return tuple(outcomes)


def first_question(
    known: ObjectOfKnownSize | None, child: Child, *, before: Sequence[Shot], use_child: bool = True
) -> Question | None:
    """What :func:`measure_shots` is going to ask of a picture that comes next.

    So it is measured while it is open. None where that is not known yet: the object has to be
    marked, or is described wrongly. ``before`` are the pictures that are there.
    """
    try:
        reference = _SEARCH if known is None else known.request(None)
    except InputError:
        return None
    if known is not None and known.least_points:
        return None
    return Question(reference, stated_of_next(before), child, dt.date.today(), use_child)


def keep_answers(shot: Shot, opened: Opened) -> None:
    """Take over what a picture gave when it was opened."""
    if not opened.answers:
        return
    session_pose().know(opened.photo, opened.body)
    said = said_of(shot)
    outcomes = [
        (task, Outcome(shot, task, _with_photo(result, opened.photo)))
        for task, result in opened.answers
    ]
    said.answer = outcomes[0]
    if len(outcomes) > 1:
        said.supposed = outcomes[1]


def measured(photo: Photo, task: PhotoTask) -> PhotoMeasurement | Refusal | InputError:
    """What one picture gives, measured when it is this visitor's turn."""
    with Turns() as turns:
        return _result(turns, turns.submit(measure, looked_at(photo), task), photo)


def supposing_heels_down(outcome: Outcome) -> Outcome:
    """What a picture gives once somebody says that both heels were down; kept for that answer."""
    said, task = said_of(outcome.shot), with_heels_down(outcome.task)
    if said.supposed is None or said.supposed[0] != task:
        result = measured(outcome.shot.photo, task)
        said.supposed = task, Outcome(outcome.shot, task, result)
    supposed: Outcome = said.supposed[1]
    return supposed


def together(outcomes: Sequence[Outcome], *, is_one_child: bool = False) -> Dated | Refusal | None:
    """All measured pictures as one reading on the latest of their days; None where none is.

    A refusal where they cannot be of one child, or one is too old to be carried to that day.
    """
    today = dt.date.today()
    readings = [
        Dated(
            outcome.result.inseam,
            picture_day(outcome.shot.photo, outcome.task.stated, today=today)[0],
            outcome.task.child,
            looks_of(outcome.shot.photo, outcome.result.observed.body),
        )
        for outcome in outcomes
        if isinstance(outcome.result, PhotoMeasurement)
    ]
    return combined(readings, is_one_child=is_one_child) if readings else None


def asks_for_object(result: object) -> bool:
    """Whether the visitor can help by saying what is beside the child."""
    return isinstance(result, Refusal) and bool(
        _ABOUT_OBJECT & {reason.code for reason in result.reasons}
    )


def _asked(
    shot: Shot, known: ObjectOfKnownSize | None, child: Child, *, use_child: bool
) -> PhotoTask | Outcome:
    """What is to be asked of a picture; its outcome where that is known already."""
    said = said_of(shot)
    known, child = said.known_object or known, said.child or child
    today = dt.date.today()
    question = Question(_SEARCH, _stated(shot), child, today, use_child)
    search = question.task(shot.photo)
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
        return task
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


def _result(
    turns: Turns,
    job: Job[tuple[Body | None, PhotoMeasurement | Refusal]],
    photo: Photo,
    tell: Callable[[int], object] | None = None,
) -> PhotoMeasurement | Refusal | InputError:
    try:
        body, result = turns.outcome(job, tell=tell)
    except InputError as error:
        return error
    except WorkStoppedError:
        return _STOPPED
    session_pose().know(photo, body)
    return _with_photo(result, photo)


def _with_photo(
    result: PhotoMeasurement | Refusal | InputError, photo: Photo
) -> PhotoMeasurement | Refusal | InputError:
    """Workers leave the photo out, of which one copy is enough."""
    return replace(result, photo=photo) if isinstance(result, PhotoMeasurement) else result
