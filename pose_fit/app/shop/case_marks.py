"""The marks of a case's photos as staff move them, and the change that is not kept yet."""

import hashlib
import io
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

import numpy as np
import streamlit as st
from PIL import Image

from pose_fit.app.family.case_content import found_points
from pose_fit.app.inputs.correcting import Moves, joints_of, moves_of
from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.inputs.reference_form import can_be_marked, least_points, points_on
from pose_fit.app.measuring import measured
from pose_fit.app.session import Shot, said_of
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.case_changes import change_case
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import in_language
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case, PhotoRecord
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.estimate import estimate_of
from pose_fit.casebook.events import LandmarksAdjusted
from pose_fit.errors import InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.photo.photo import Photo, Place
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = [
    "case_shot",
    "changed_photos",
    "heels_key",
    "measured_once",
    "offer_to_keep",
    "task_on_screen",
]


def case_shot(book: CaseBook, case: Case, place: int, jpeg: bytes) -> Shot:
    """The picture with its marks where the record has them, until somebody moves them.

    It is the same one as long as the record of this photo is the same, so that another change of
    the case loses no moved mark.
    """
    record = case.content.photos[place]
    key = _key(case, place)
    kept: Shot | None = st.session_state.get(f"staff.shot.{key}")
    if kept is not None:
        return kept
    pixels = np.asarray(Image.open(io.BytesIO(jpeg)).convert("RGB"))
    photo = Photo(
        name=f"case {case.case_id}, photo {place + 1}",
        pixels=pixels,
        width_px=record.width_px,
        height_px=record.height_px,
        focal_35mm=record.focal_35mm,
        reshaped=record.reshaped,
        taken_on=record.taken_on,
    )
    shot = Shot(key, photo.name, photo)
    body = book.body(case.case_id, place)
    if body is not None:
        # As it was seen before the face was hidden.
        session_pose().know(photo, body)
    st.session_state[f"staff.shot.{key}"] = shot
    _put_back(shot, record)
    return shot


def changed_photos(case: Case) -> Iterator[int]:
    """Places of the photos whose marks on the screen are not those that gave the case's number."""
    for place, record in enumerate(case.content.photos):
        shot: Shot | None = st.session_state.get(f"staff.shot.{_key(case, place)}")
        if shot is None or record.set_aside or place not in case.pictures:
            continue
        if task_on_screen(shot, record.task) != record.task or _half_marked(shot, record):
            yield place


def offer_to_keep(
    book: CaseBook, case: Case, place: int, *, by: str, where: Literal["accept", "picture"]
) -> None:
    """What the photo says with its changed marks, to be kept or taken back; nothing without one."""
    if place not in changed_photos(case):
        return
    say, record = in_language(CASE), case.content.photos[place]
    shot: Shot = st.session_state[f"staff.shot.{_key(case, place)}"]
    task = task_on_screen(shot, record.task)
    result = measured_once(shot, task)
    half_marked = task == record.task
    if half_marked:
        st.markdown(say.half_marked)
    elif isinstance(result, PhotoMeasurement):
        st.markdown(say.as_changed.format(length=length_text(result.inseam.mean_mm)))
    else:
        st.markdown(say.as_changed_nothing)
    key = f"{where}.{shot.key}"
    with st.container(horizontal=True):
        if isinstance(result, PhotoMeasurement) and not half_marked:
            keep = st.button(
                say.keep_change, type="primary", icon=":material/save:", key=f"staff.keep.{key}"
            )
            if keep:
                _keep(book, case, place, task, result, by=by)
        st.button(
            say.take_back,
            icon=":material/undo:",
            key=f"staff.back.{key}",
            on_click=_put_back,
            args=(shot, record),
        )


def task_on_screen(shot: Shot, task: PhotoTask) -> PhotoTask:
    """The family's task with marks and heels as they are on the screen."""
    moves = moves_of(shot)
    stated = replace(
        task.stated,
        crotch_px=moves.get("crotch"),
        floor_px=moves.get("floor"),
        joints_px=tuple(joints_of(moves).items()),
        heels_down=task.stated.heels_down or bool(st.session_state.get(heels_key(shot))),
    )
    reference = replace(task.reference, points_px=_marked_points(shot, task))
    return replace(task, reference=reference, stated=stated)


def heels_key(shot: Shot) -> str:
    """The field for what the family, asked by the staff, says of the heels."""
    return f"heels.{shot.key}"


def measured_once(shot: Shot, task: PhotoTask) -> PhotoMeasurement | Refusal | InputError:
    """What the picture gives, measured again only where another thing is asked."""
    said = said_of(shot)
    if said.answer is None or said.answer[0] != task:
        said.answer = task, measured(shot.photo, task)
    result: PhotoMeasurement | Refusal | InputError = said.answer[1]
    return result


def _key(case: Case, place: int) -> str:
    task = hashlib.sha256(repr(case.content.photos[place].task).encode()).hexdigest()
    return f"case.{case.case_id}.{place}.{task[:16]}"


def _put_back(shot: Shot, record: PhotoRecord) -> None:
    """Everything as the record has it; run before the page, whose fields it sets."""
    if heels_key(shot) in st.session_state:
        st.session_state[heels_key(shot)] = False
    moves = moves_of(shot)
    moves.clear()
    moves.update(_stated_moves(record.task))
    points_on(shot, record.task.reference.kind)[:] = record.task.reference.points_px or ()


def _stated_moves(task: PhotoTask) -> Moves:
    moves: Moves = dict(task.stated.joints_px)
    if task.stated.crotch_px is not None:
        moves["crotch"] = task.stated.crotch_px
    if task.stated.floor_px is not None:
        moves["floor"] = task.stated.floor_px
    return moves


def _marked_points(shot: Shot, task: PhotoTask) -> tuple[Place, ...] | None:
    """The points to measure with; the family's own until others are all marked."""
    kind = task.reference.kind
    points = tuple(points_on(shot, kind))
    if can_be_marked(kind) and len(points) >= least_points(kind):
        return points
    return task.reference.points_px


def _half_marked(shot: Shot, record: PhotoRecord) -> bool:
    """Whether somebody began to mark the object anew, and is not done."""
    reference = record.task.reference
    points = tuple(points_on(shot, reference.kind))
    return points != (reference.points_px or ()) and points != _marked_points(shot, record.task)


def _keep(
    book: CaseBook,
    case: Case,
    place: int,
    task: PhotoTask,
    result: PhotoMeasurement,
    *,
    by: str,
) -> None:
    photos = list(case.content.photos)
    photos[place] = replace(
        photos[place],
        task=task,
        result=result.inseam,
        reference=result.observed.reference.kind,
        points=found_points(result),
    )
    readings = [
        photo.result for photo in photos if isinstance(photo.result, Inseam) and not photo.set_aside
    ]
    clues = [c.inseam for c in case.content.clues if not isinstance(c, RemarkClue)]
    estimate = estimate_of([*readings, *clues])
    assert estimate is not None
    change_case(book, case, LandmarksAdjusted(estimate, photos[place], place), by=by)
