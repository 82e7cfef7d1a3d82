"""Measure the pictures of a page, with progress, and keep what came out until something changes."""

from collections.abc import Sequence
from dataclasses import dataclass

import streamlit as st

from pose_fit.child import Child
from pose_fit.errors import ReferenceObjectError
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.pages.pose import session_pose
from pose_fit.pages.reference_form import ObjectOfKnownSize, marked_points
from pose_fit.pages.session import Shot
from pose_fit.refusal import Refusal

__all__ = ["Outcome", "Question", "measure_shots"]


@dataclass(frozen=True, slots=True)
class Question:
    """Everything a measurement depends on besides the picture; equal questions, equal answers."""

    asked: ObjectOfKnownSize
    points_px: tuple[tuple[float, float], ...] | None
    child: Child


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one picture gave: a measurement, a refusal, or what is wrong with the question."""

    shot: Shot
    result: PhotoMeasurement | Refusal | ReferenceObjectError


def measure_shots(
    shots: Sequence[Shot], asked: ObjectOfKnownSize, child: Child
) -> tuple[Outcome, ...]:
    """Measure each picture once for each question; later runs answer from the session."""
    questions = [(shot, _question(shot, asked, child)) for shot in shots]
    waiting = [shot for shot, question in questions if not _is_known(shot, question)]
    if waiting:
        bar = st.progress(0.0, text="Measuring …")
        for place, (shot, question) in enumerate(questions):
            bar.progress(place / len(questions), text=f"Measuring {shot.name} …")
            _answer(shot, question)
        bar.empty()
    return tuple(Outcome(shot, _answer(shot, question)) for shot, question in questions)


def _question(shot: Shot, asked: ObjectOfKnownSize, child: Child) -> Question:
    points_px = marked_points(shot, asked)
    return Question(asked, None if points_px is None else tuple(points_px), child)


def _is_known(shot: Shot, question: Question) -> bool:
    kept = st.session_state.get(f"answer.{shot.key}")
    return kept is not None and kept[0] == question


def _answer(shot: Shot, question: Question) -> PhotoMeasurement | Refusal | ReferenceObjectError:
    if not _is_known(shot, question):
        st.session_state[f"answer.{shot.key}"] = question, _measured(shot, question)
    answer: PhotoMeasurement | Refusal | ReferenceObjectError
    answer = st.session_state[f"answer.{shot.key}"][1]
    return answer


def _measured(shot: Shot, question: Question) -> PhotoMeasurement | Refusal | ReferenceObjectError:
    try:
        request = question.asked.request(question.points_px)
        return measure_photo(shot.photo, request, pose=session_pose(), child=question.child)
    except ReferenceObjectError as error:
        return error
