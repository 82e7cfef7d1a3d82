"""A doubtful picture: what it is made of, what is said beside it, and what the program tells of it."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any, Final

import numpy as np

from calibration.doubtful import changes as c
from pose_fit.anthropometry.child import Child
from pose_fit.body.body import PoseModel
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import NOTHING_STATED, Stated
from pose_fit.task.typed import task_of

__all__ = [
    "HANGS",
    "PICTURES",
    "SAMPLES",
    "SIZE",
    "Case",
    "Question",
    "Told",
    "base_of",
    "look_at",
    "sample_question",
]

_ROOT: Final = Path(__file__).parents[2]
SAMPLES: Final = _ROOT / "sample_images"
PICTURES: Final = _ROOT / "tests" / "doubtful" / "pictures"
#: The samples are used at this size, so that all cases are looked at in a minute.
SIZE: Final = 0.75
#: Where the object of each sample hangs: left, top, right and bottom, parts of the picture's sides.
HANGS: Final[Mapping[str, tuple[float, float, float, float]]] = {
    "sheet_1": (0.590, 0.535, 0.735, 0.670),
    "sheet_2": (0.600, 0.510, 0.727, 0.637),
    "sheet_3": (0.265, 0.465, 0.435, 0.630),
    "letter_1": (0.588, 0.476, 0.708, 0.596),
    "letter_2": (0.688, 0.460, 0.788, 0.556),
    "a4_1": (0.570, 0.482, 0.706, 0.618),
}


@dataclass(frozen=True, slots=True)
class Question:
    """What is said beside the picture."""

    request: ReferenceRequest
    child: Child
    said: Stated = NOTHING_STATED


@dataclass(frozen=True, slots=True)
class Case:
    """One doubtful picture.

    Attributes
    ----------
    base
        A sample, or a rendered picture of `pictures.PICTURES`.
    expected
        The right codes: one of them has to be told.
    hopeless
        No number may be given.
    """

    name: str
    base: str
    expected: frozenset[str]
    hopeless: bool
    change: c.Change | None
    ask: Callable[[Question], Question] | None


@dataclass(frozen=True, slots=True)
class Told:
    """What the program said: its codes, and the inseam it gave, or None."""

    codes: tuple[str, ...]
    inseam_mm: float | None


def look_at(case: Case, pose: PoseModel, *, silent: bool = False) -> Told:
    """Make the picture, ask the question, and take down the answer.

    Nobody says that the heels were down in a hopeless picture, nor in any where ``silent``.
    """
    photo, question = base_of(case.base)
    if case.change is not None:
        photo = case.change(photo)
    if case.ask is not None:
        question = case.ask(question)
    result = measure_photo(
        photo,
        PhotoTask(
            question.request,
            replace(question.said, heels_down=not (case.hopeless or silent)),
            question.child,
        ),
        pose=pose,
    )
    if isinstance(result, Refusal):
        return Told(tuple(reason.code for reason in result.reasons), None)
    codes = tuple(warning.code for warning in result.inseam.warnings)
    return Told(codes, result.inseam.mean_mm)


@cache
def base_of(name: str) -> tuple[Photo, Question]:
    """A sample at the size used here, or a rendered picture, and what is said of it."""
    if (SAMPLES / f"{name}.json").exists():
        return _sample(name), sample_question(name, scale=SIZE)
    question = Question(ReferenceRequest("sheet"), Child())
    return read_photo(PICTURES / f"{name}.jpg"), question


@cache
def _sample(name: str) -> Photo:
    return c.resized(SIZE)(read_photo(SAMPLES / f"{name}.jpg"))


def sample_question(name: str, *, scale: float = 1.0) -> Question:
    """What the sample's own file says of it, points at the picture's scale."""
    truth: dict[str, Any] = json.loads((SAMPLES / f"{name}.json").read_text("utf-8"))
    pairs = [word for word in truth["arguments"] if word != "--heels-down"]
    told = dict(zip(pairs[::2], pairs[1::2], strict=True))
    typed = {word[2:]: text for word, text in told.items()}
    wanted = ("reference", "size", "points", "placement", "ruler")
    request = task_of({name: typed[name] for name in wanted if name in typed}).reference
    if request.points_px is not None:
        scaled_px = scale * np.array(request.points_px)
        request = replace(request, points_px=scaled_px.tolist())
    child = Child(age_y=float(told["--age"]), sex=told["--sex"])
    return Question(request, child, Stated(soles_mm=float(told["--soles"])))
