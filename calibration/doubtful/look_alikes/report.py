"""A report on what the program says of each look-alike."""

from functools import cache
from pathlib import Path
from typing import Final

import cv2
import numpy as np

from calibration.doubtful import changes as c
from calibration.doubtful.cases import HANGS, base_of, true_inseam_mm
from calibration.doubtful.look_alikes.every import LOOK_ALIKES
from calibration.doubtful.look_alikes.look_alike import (
    Box,
    LookAlike,
    ScoreSet,
    as_it_is,
)
from pose_fit.body.body import Body, PoseModel
from pose_fit.errors import PoseFitError
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["look_alike_report", "picture_of", "told_of", "write_pictures"]

#: Words that say nothing of a wrong object or of a body that is not one standing child.
_ABOUT_SIZE: Final = frozenset({"print_scale_unknown", "size_on_trust", "view_oblique"})
_TITLES: Final[dict[ScoreSet, str]] = {
    "rules": "Looked at while the rules were made",
    "first trial": "First trial: made after the rules were fixed; some were put right by it",
    "second trial": "Second trial: made without knowing any rule; some were put right by it",
    "third trial, first half": "Third trial, first half: made without knowing any rule",
    "third trial, second half": "Third trial, second half: made without knowing any rule",
}
#: What was found when those of the first trial were first looked at, and what was put right by it.
_FIRST_TRIAL: Final = (
    "When these were scored for the first time, 5 of the 30 went out unflagged: a5 as a4, a3"
    " as a4, door more loosely, a foot off the floor 5 and both feet on a box 2. Since then A3 and A5"
    " are weighed beside A4, and a door behind the child has to meet the floor above the child’s"
    " toes. Nothing was done about the two others: in one only the heel of one foot is raised, its toes"
    " down, and in the other both feet stand on one level 6 cm above the floor. Their numbers, 549 and"
    " 603 mm, hold the truth, 528 and 603 mm, in their intervals."
)

#: The same of the second trial.
_SECOND_TRIAL: Final = (
    "When these were scored for the first time, 14 of the 36 gave a number, 8 of them unflagged:"
    " letter with a curled corner, letter on a stool, a second letter cut by the border, skirting"
    " corners for the door’s, trousers that hide the shoes, blanket held before the legs, trousers with"
    " a low fork and a parent close behind. Six of those held the truth; trousers that hide the shoes"
    " missed it (513 mm, truth 571), and of the letter on a stool it is not known. These two and the"
    " blanket were then put right, so that this table is no fresh score of them."
)

#: The same of the third trial's halves.
_THIRD_TRIAL: Final = (
    "When these were scored for the first time, 16 of the 32 gave a number. Seven went out unflagged:"
    " three that may, and door clicked at its frame, astride a balance bicycle, statue on a plinth"
    " and costume with a tail; the truth, where there is one, is in their intervals. Four numbers that"
    " were flagged missed the truth: sheet stretched in height, kitchen roll as letter, door clicked"
    " at its panels and a sibling’s height. The first was then put right: a sheet whose shape fits half"
    " as badly as before is refused, and any object that fits badly is told of."
)
_THIRD_TRIAL_AFTER: Final = (
    "Scored once after that: 8 of the 32 gave a number. One went out unflagged, and it missed the truth:"
    " back on the wall, feet far before it (644 mm, 584 to 705, truth 573). It was put right after,"
    " so that this row is no fresh score: the wall’s foot far above the feet is told of, and the"
    " interval reaches as far. One flagged number missed the truth: tape measure that sags."
)

_FIRST_SCORES: Final[dict[ScoreSet, str]] = {
    "third trial, first half": _THIRD_TRIAL,
    "third trial, second half": _THIRD_TRIAL_AFTER,
    "first trial": _FIRST_TRIAL,
    "second trial": _SECOND_TRIAL,
}


def look_alike_report(pose: PoseModel) -> str:
    """What the program said of each, as a table for each time of looking."""
    lines = [
        "# Look-alikes",
        "",
        "Made by `python -m calibration look-alikes`: bright things in place of the paper, points on"
        " something else, and bodies that are not one child on two straight legs. A number is"
        " *unflagged* where no code is told but those about the object’s size. *May say* is the most"
        " that an honest answer may say: a refusal is always right. The truth is given where the"
        " child is there to be measured and it is known. Nobody states the legwear; the heels are said"
        " to be down.",
    ]
    for score_set, title in _TITLES.items():
        cases = tuple(case for case in LOOK_ALIKES if case.score_set == score_set)
        lines += ["", f"## {title}", "", *_table(cases, pose)]
        if score_set in _FIRST_SCORES:
            lines += ["", _FIRST_SCORES[score_set]]
    return "\n".join([*lines, ""])


def _table(cases: tuple[LookAlike, ...], pose: PoseModel) -> list[str]:
    told = [(case, *told_of(case, pose)) for case in cases]
    numbers = [(case, codes, inseam) for case, codes, inseam in told if inseam is not None]
    unflagged = [case.name for case, codes, _ in numbers if not set(codes) - _ABOUT_SIZE]
    unwanted = [case.name for case, _, _ in numbers if case.may_say == "no number"]
    known = [(case, inseam) for case, _, inseam in numbers if _true_mm(case) is not None]
    missed = [case.name for case, inseam in known if not _holds(inseam, _true_mm(case))]
    return [
        f"{len(cases)} pictures, {len(numbers)} with a number, {len(unflagged)} of them unflagged:"
        f" {', '.join(unflagged) or 'none'}. With a number though none may be given:"
        f" {', '.join(unwanted) or 'none'}. The truth is known of {len(known)} numbers and outside"
        f" the 95 % interval of {len(missed)}: {', '.join(missed) or 'none'}.",
        "",
        "| picture | made of | may say | told | number, mm | truth, mm |",
        "|---|---|---|---|---|---|",
        *(_row(case, codes, inseam) for case, codes, inseam in told),
    ]


def _holds(inseam: Inseam, truth_mm: float | None) -> bool:
    low_mm, high_mm = inseam.interval95_mm
    return truth_mm is not None and low_mm <= truth_mm <= high_mm


def _row(case: LookAlike, codes: tuple[str, ...], inseam: Inseam | None) -> str:
    number, truth_mm = "none", _true_mm(case)
    if inseam is not None:
        low_mm, high_mm = inseam.interval95_mm
        number = f"{inseam.mean_mm:.0f} ({low_mm:.0f} to {high_mm:.0f})"
    cells = (
        case.name,
        case.base,
        case.may_say or "",
        ", ".join(codes) or "nothing",
        number,
        "" if truth_mm is None else f"{truth_mm:.0f}",
    )
    return f"| {' | '.join(cells)} |"


def _true_mm(case: LookAlike) -> float | None:
    """True inseam of the base's child, where it is there and the truth was kept."""
    return true_inseam_mm(case.base) if case.shows_child else None


def write_pictures(folder: Path, pose: PoseModel) -> None:
    """Every look-alike as a picture to look at, with a ring round each point that is clicked."""
    folder.mkdir(parents=True, exist_ok=True)
    for case in LOOK_ALIKES:
        photo, request = picture_of(case, pose)
        marked = np.ascontiguousarray(photo.pixels[..., ::-1])
        for x_px, y_px in request.points_px or ():
            cv2.circle(marked, (round(x_px), round(y_px)), 6, (0, 0, 255), 2, cv2.LINE_AA)
        name = "".join(letter if letter.isalnum() else "_" for letter in case.name)
        cv2.imwrite(str(folder / f"{case.score_set.replace(' ', '_')}_{name}.jpg"), marked)


def told_of(case: LookAlike, pose: PoseModel) -> tuple[tuple[str, ...], Inseam | None]:
    """The codes told, and the inseam given, or None."""
    _, question = base_of(case.base)
    photo, request = picture_of(case, pose)
    stated = Stated(soles_mm=question.said.soles_mm, heels_down=True)
    try:
        told = measure_photo(photo, PhotoTask(request, stated, question.child), pose=pose)
    except PoseFitError:
        return ("arguments_unusable",), None
    if isinstance(told, Refusal):
        return tuple(reason.code for reason in told.reasons), None
    return tuple(warning.code for warning in told.inseam.warnings), told.inseam


def picture_of(case: LookAlike, pose: PoseModel) -> tuple[Photo, ReferenceRequest]:
    """The look-alike itself, and what is said of the object in it."""
    if (case.change, case.paper, case.request) == (as_it_is, None, None):
        # Some of these show nobody, so that no body can be looked for.
        photo, question = base_of(case.base)
        return photo, question.request
    # A model is hashed by its identity, which its protocol does not say.
    photo, body = _seen(case.base, pose)  # type: ignore[arg-type]
    request = base_of(case.base)[1].request
    if case.paper is not None:
        request = ReferenceRequest(case.paper)
        photo = c.covered_at(*_object_box(case.base, photo))(photo)
    if case.request is not None:
        request = case.request(photo, body)
    return c.with_pixels(photo, case.change(photo.pixels, body)), request


@cache
def _seen(base: str, pose: PoseModel) -> tuple[Photo, Body]:
    photo, _ = base_of(base)
    body = pose.find(photo)
    assert body is not None
    return photo, body


def _object_box(base: str, photo: Photo) -> Box:
    """Where the base's object hangs, with the paper around a sheet's marks."""
    if base in HANGS:
        return HANGS[base]
    sheet = find_sheet(photo, placement="wall", ruler_mm=None)
    assert isinstance(sheet, PointReference)
    low, high = sheet.image_px.min(axis=0), sheet.image_px.max(axis=0)
    x, y = np.stack([low - 0.4 * (high - low), high + 0.4 * (high - low)]).T
    return (
        float(x[0] / photo.width_px),
        float(y[0] / photo.height_px),
        float(x[1] / photo.width_px),
        float(y[1] / photo.height_px),
    )
