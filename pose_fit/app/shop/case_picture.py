"""The photos of a case, those with a kept picture measured again so that marks can be moved."""

import io
from dataclasses import replace
from functools import partial

import numpy as np
import streamlit as st
from PIL import Image

from pose_fit.app.family.case_content import found_points
from pose_fit.app.inputs.correcting import Moves, joints_of, moves_of, offer_correcting
from pose_fit.app.inputs.lengths import length_text
from pose_fit.app.inputs.reference_form import can_be_marked, least_points, mark_object, points_on
from pose_fit.app.measuring import measured
from pose_fit.app.session import Shot
from pose_fit.app.session_pose import session_pose
from pose_fit.app.shop.case_changes import change_case
from pose_fit.app.style import picture
from pose_fit.app.texts.case_texts import CASE
from pose_fit.app.texts.language import day_text, in_language, language, unit
from pose_fit.app.turns import in_turn
from pose_fit.app.views.messages import fault_text, plain, show_refusal
from pose_fit.app.views.photo_view import marks_in_words, show_legend
from pose_fit.casebook.book import CaseBook
from pose_fit.casebook.case import Case, PhotoRecord
from pose_fit.casebook.clue import RemarkClue
from pose_fit.casebook.estimate import estimate_of
from pose_fit.casebook.events import LandmarksAdjusted
from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.overlay import overlay_picture
from pose_fit.errors import InputError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.pairs.pair_texts import PAIR_TEXTS
from pose_fit.photo.photo import Photo, Place
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = ["show_case_picture"]


def show_case_picture(book: CaseBook, case: Case, *, by: str) -> None:
    """The photo that is chosen: its picture with marks, and moving them."""
    say = in_language(CASE)
    photos = case.content.photos
    if not photos:
        st.caption(say.no_photo)
        return
    place = len(photos) - 1
    if len(photos) > 1:
        place = st.radio(
            say.photo,
            range(len(photos)),
            index=_first_shown(photos),
            format_func=lambda each: _photo_words(photos[each], each),
            key=f"staff.photo.{case.case_id}.{case.version}",
            horizontal=True,
        )
    record = photos[place]
    jpeg = book.picture(case.case_id, place)
    if jpeg is None:
        st.caption(say.no_picture)
    else:
        _show_picture(book, case, place, jpeg, by=by)
    _show_facts(record)


def _first_shown(photos: tuple[PhotoRecord, ...]) -> int:
    return next(place for place, photo in enumerate(photos) if not photo.set_aside)


def _photo_words(record: PhotoRecord, place: int) -> str:
    say = in_language(CASE)
    gave = (
        length_text(record.result.mean_mm) if isinstance(record.result, Inseam) else say.no_number
    )
    words = say.photo_words.format(number=place + 1, length=gave)
    return say.earlier.format(words=words) if record.set_aside else words


def _show_picture(book: CaseBook, case: Case, place: int, jpeg: bytes, *, by: str) -> None:
    say, record = in_language(CASE), case.content.photos[place]
    shot = _shot(book, case, place, jpeg)
    task = _task(shot, _asked_of_heels(shot, record.task))
    result = measured(shot.photo, task)
    if isinstance(result, PhotoMeasurement):
        draw = partial(overlay_picture, unit=unit(), texts=DRAWING_TEXTS[language()])
        marked = in_turn(draw, result)
        picture(marked, alt=marks_in_words(say.picture_alt, result))
        show_legend()
    else:
        picture(Image.fromarray(shot.photo.pixels), alt=say.picture_plain)
        if isinstance(result, Refusal):
            show_refusal(result)
        else:
            st.warning(fault_text(result))
    if not isinstance(result, InputError):
        offer_correcting(shot, result)
    kind = task.reference.kind
    if can_be_marked(kind) and st.toggle(say.mark_object, key=f"staff.mark.{shot.key}"):
        mark_object(shot, kind)
    if isinstance(result, PhotoMeasurement) and task != record.task and not record.set_aside:
        st.markdown(say.as_changed.format(length=length_text(result.inseam.mean_mm)))
        if st.button(say.keep_change, type="primary", icon=":material/save:"):
            _keep(book, case, place, task, result, by=by)


def _asked_of_heels(shot: Shot, task: PhotoTask) -> PhotoTask:
    """The task with what the family, asked by the staff, says of the heels."""
    if task.stated.heels_down:
        return task
    said = st.checkbox(in_language(CASE).heels, key=f"heels.{shot.key}")
    return replace(task, stated=replace(task.stated, heels_down=said))


def _show_facts(record: PhotoRecord) -> None:
    say = in_language(CASE).kept_facts
    reference, stated = record.task.reference, record.task.stated
    kinds, legwear = PAIR_TEXTS[language()].objects, PAIR_TEXTS[language()].legwear
    told = [say["object"].format(value=kinds[record.reference or reference.kind])]
    if reference.size_mm is not None:
        told.append(say["size"].format(value=length_text(reference.size_mm)))
    if stated.soles_mm:
        told.append(say["soles"].format(value=length_text(stated.soles_mm)))
    elif stated.soles_mm is not None:
        told.append(say["barefoot"])
    if stated.legwear is not None:
        told.append(say["legwear"].format(value=legwear[stated.legwear]))
    if stated.heels_down:
        told.append(say["heels"])
    if reference.ruler_mm is not None:
        told.append(say["ruler"].format(value=length_text(reference.ruler_mm)))
    if record.taken_on is not None:
        told.append(say["taken"].format(value=day_text(record.taken_on)))
    st.caption(plain(" ".join(told)))


def _shot(book: CaseBook, case: Case, place: int, jpeg: bytes) -> Shot:
    """The picture as it was measured, once a version of the case."""
    key = f"case.{case.case_id}.{case.version}.{place}"
    kept: Shot | None = st.session_state.get(f"staff.shot.{key}")
    if kept is not None:
        return kept
    record = case.content.photos[place]
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
    # Marks stay where the family put them.
    moves_of(shot).update(_stated_moves(record.task))
    points_on(shot, record.task.reference.kind)[:] = record.task.reference.points_px or ()
    return shot


def _stated_moves(task: PhotoTask) -> Moves:
    moves: Moves = dict(task.stated.joints_px)
    if task.stated.crotch_px is not None:
        moves["crotch"] = task.stated.crotch_px
    if task.stated.floor_px is not None:
        moves["floor"] = task.stated.floor_px
    return moves


def _task(shot: Shot, task: PhotoTask) -> PhotoTask:
    """The family's task with the marks as they are on the screen."""
    moves = moves_of(shot)
    stated = replace(
        task.stated,
        crotch_px=moves.get("crotch"),
        floor_px=moves.get("floor"),
        joints_px=tuple(joints_of(moves).items()),
    )
    reference = replace(task.reference, points_px=_marked_points(shot, task))
    return replace(task, reference=reference, stated=stated)


def _marked_points(shot: Shot, task: PhotoTask) -> tuple[Place, ...] | None:
    """The points to measure with; the family's own until others are all marked."""
    kind = task.reference.kind
    if not can_be_marked(kind):
        return None
    points = tuple(points_on(shot, kind))
    return points if len(points) >= least_points(kind) else task.reference.points_px


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
    measured = [
        photo.result for photo in photos if isinstance(photo.result, Inseam) and not photo.set_aside
    ]
    clues = [c.inseam for c in case.content.clues if not isinstance(c, RemarkClue)]
    estimate = estimate_of([*measured, *clues])
    assert estimate is not None
    change_case(book, case, LandmarksAdjusted(estimate, photos[place], place), by=by)
