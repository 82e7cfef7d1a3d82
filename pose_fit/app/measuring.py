"""Measure the pictures of a page, with progress, and keep what came out until something changes."""

import os
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import streamlit as st

from pose_fit.anthropometry.child import Child
from pose_fit.app.inputs.correcting import Mark, joints_of, moves_of
from pose_fit.app.inputs.reference_form import ObjectOfKnownSize, marked_points
from pose_fit.app.inputs.which_child import child_pointed_at
from pose_fit.app.session import Shot
from pose_fit.app.session_pose import session_pose
from pose_fit.errors import ReferenceObjectError
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.photo import Place
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["Outcome", "Question", "measure_marked", "task_of"]

#: More measurements at once would be done no sooner, and would keep every other page waiting.
_ONE_A_CORE: Final = threading.BoundedSemaphore(os.cpu_count() or 1)


@dataclass(frozen=True, slots=True)
class Question:
    """Everything a measurement depends on besides the picture; equal questions, equal answers."""

    asked: ObjectOfKnownSize
    points_px: tuple[Place, ...] | None
    moved_px: tuple[tuple[Mark, Place], ...]
    child_px: Place | None
    child: Child
    worn: Stated


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one picture gave: a measurement, a refusal, or what is wrong with the question."""

    shot: Shot
    question: Question
    result: PhotoMeasurement | Refusal | ReferenceObjectError


def measure_marked(
    shots: Sequence[Shot],
    asked: ObjectOfKnownSize | None,
    child: Child,
    *,
    worn: Stated,
) -> tuple[Outcome, ...]:
    """Measure the pictures that have everything they need; say what the others lack."""
    if not shots:
        return ()
    if asked is None:
        st.caption("The object’s size is still missing.")
        return ()
    ready = [shot for shot in shots if len(marked_points(shot, asked) or ()) >= asked.least_points]
    if len(ready) < len(shots):
        st.caption("Points are still to be marked above.")
    return _measure(ready, [_question(shot, asked, child, worn) for shot in ready])


def _measure(shots: Sequence[Shot], questions: Sequence[Question]) -> tuple[Outcome, ...]:
    """Measure each picture once for each question; later runs answer from the session."""
    asked = list(zip(shots, questions, strict=True))
    if not all(_is_known(shot, question) for shot, question in asked):
        bar = st.progress(0.0, text="Measuring …")
        for place, (shot, question) in enumerate(asked):
            bar.progress(place / len(asked), text=f"Measuring {shot.name} …")
            _answer(shot, question)
        bar.empty()
    return tuple(Outcome(shot, question, _answer(shot, question)) for shot, question in asked)


def _question(shot: Shot, asked: ObjectOfKnownSize, child: Child, worn: Stated) -> Question:
    points_px = marked_points(shot, asked)
    return Question(
        asked=asked,
        points_px=None if points_px is None else tuple(points_px),
        moved_px=tuple(sorted(moves_of(shot).items())),
        child_px=child_pointed_at(shot),
        child=child,
        worn=worn,
    )


def _is_known(shot: Shot, question: Question) -> bool:
    kept = st.session_state.get(f"answer.{shot.key}")
    return kept is not None and kept[0] == question


def _answer(shot: Shot, question: Question) -> PhotoMeasurement | Refusal | ReferenceObjectError:
    if not _is_known(shot, question):
        st.session_state[f"answer.{shot.key}"] = question, _measured(shot, question)
    answer: PhotoMeasurement | Refusal | ReferenceObjectError
    answer = st.session_state[f"answer.{shot.key}"][1]
    return answer


def task_of(question: Question) -> PhotoTask:
    """The same as the library's record; ``ReferenceObjectError`` where the points are unusable."""
    moves = dict(question.moved_px)
    stated = replace(
        question.worn,
        crotch_px=moves.get("crotch"),
        floor_px=moves.get("floor"),
        person_px=question.child_px,
        joints_px=tuple(joints_of(moves).items()),
    )
    return PhotoTask(question.asked.request(question.points_px), stated, question.child)


def _measured(shot: Shot, question: Question) -> PhotoMeasurement | Refusal | ReferenceObjectError:
    try:
        task = task_of(question)
        with _ONE_A_CORE:
            return measure_photo(shot.photo, task, pose=session_pose())
    except ReferenceObjectError as error:
        return error
