"""A report on what the program says of each look-alike."""

from functools import cache
from typing import Final

import numpy as np

from calibration.doubtful import changes as c
from calibration.doubtful.cases import base_of
from calibration.doubtful.family_look_alikes import FAMILY_LOOK_ALIKES
from calibration.doubtful.fresh_look_alikes import FRESH_LOOK_ALIKES
from calibration.doubtful.later_look_alikes import LATER_LOOK_ALIKES
from calibration.doubtful.look_alike import Box, LookAlike
from calibration.doubtful.look_alikes import LOOK_ALIKES
from calibration.doubtful.untouched_look_alikes import UNTOUCHED_LOOK_ALIKES
from pose_fit.body.body import Body, PoseModel
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["look_alike_report", "told_of"]

#: Words that say nothing of a wrong object or of a body that is not one standing child.
_ABOUT_SIZE: Final = frozenset({"print_scale_unknown", "size_on_trust", "view_oblique"})
#: Where the object of each sample hangs.
_HANGS: Final[dict[str, Box]] = {
    "sheet_1": (0.590, 0.535, 0.735, 0.670),
    "sheet_2": (0.600, 0.510, 0.727, 0.637),
    "sheet_3": (0.265, 0.465, 0.435, 0.630),
    "letter_1": (0.588, 0.476, 0.708, 0.596),
    "letter_2": (0.688, 0.460, 0.788, 0.556),
    "a4_1": (0.570, 0.482, 0.706, 0.618),
}
#: What was found when the last ones were first looked at, and what was put right by it.
_FIRST_SCORED: Final = (
    "When the last ones were scored for the first time, 5 of the 30 went out unflagged: a5 as a4, a3"
    " as a4, door more loosely, a foot off the floor 5 and both feet on a box 2. Since then A3 and A5"
    " are weighed beside A4, and a door behind the child has to meet the floor above the child’s"
    " toes. Nothing was done about the two others: in one only the heel of one foot is raised, its toes"
    " down, and in the other both feet stand on one level 6 cm above the floor. Their numbers, 549 and"
    " 603 mm, hold the truth, 528 and 603 mm, in their intervals."
)


def look_alike_report(pose: PoseModel) -> str:
    """What the program said of each, as a table."""
    lines = [
        "# Look-alikes",
        "",
        "Made by `python -m calibration look-alikes`: bright things in place of the paper, points on"
        " something else, and bodies that are not one child on two straight legs. A number is"
        " *unflagged* where no code is told but those about the object’s size. Nobody states the"
        " legwear; the heels are said to be down.",
    ]
    for title, cases in (
        (
            "Looked at while the rules were made",
            (*LOOK_ALIKES, *LATER_LOOK_ALIKES, *FRESH_LOOK_ALIKES, *FAMILY_LOOK_ALIKES),
        ),
        ("Made after the rules were fixed", UNTOUCHED_LOOK_ALIKES),
    ):
        lines += ["", f"## {title}", "", *_table(cases, pose)]
    lines += ["", _FIRST_SCORED]
    return "\n".join([*lines, ""])


def _table(cases: tuple[LookAlike, ...], pose: PoseModel) -> list[str]:
    rows, unflagged, numbers = [], list[str](), 0
    for case in cases:
        codes, inseam_mm = told_of(case, pose)
        numbers += inseam_mm is not None
        if inseam_mm is not None and not set(codes) - _ABOUT_SIZE:
            unflagged.append(case.name)
        number = "none" if inseam_mm is None else f"{inseam_mm:.0f} mm"
        rows.append(f"| {case.name} | {case.base} | {', '.join(codes) or 'nothing'} | {number} |")
    return [
        f"{len(cases)} pictures, {numbers} with a number, {len(unflagged)} of them unflagged:"
        f" {', '.join(unflagged) or 'none'}.",
        "",
        "| picture | made of | told | number |",
        "|---|---|---|---|",
        *rows,
    ]


def told_of(case: LookAlike, pose: PoseModel) -> tuple[tuple[str, ...], float | None]:
    """The codes told, and the inseam given, or None."""
    # A model is hashed by its identity, which its protocol does not say.
    photo, body = _seen(case.base, pose)  # type: ignore[arg-type]
    _, question = base_of(case.base)
    request = question.request
    if case.paper is not None:
        request = ReferenceRequest(case.paper)
        photo = c.covered_at(*_object_box(case.base, photo))(photo)
    if case.request is not None:
        request = case.request(photo, body)
    photo = c.with_pixels(photo, case.change(photo.pixels, body))
    stated = Stated(soles_mm=question.said.soles_mm, heels_down=True)
    told = measure_photo(photo, PhotoTask(request, stated, question.child), pose=pose)
    if isinstance(told, Refusal):
        return tuple(reason.code for reason in told.reasons), None
    return tuple(warning.code for warning in told.inseam.warnings), told.inseam.mean_mm


@cache
def _seen(base: str, pose: PoseModel) -> tuple[Photo, Body]:
    photo, _ = base_of(base)
    body = pose.find(photo)
    assert body is not None
    return photo, body


def _object_box(base: str, photo: Photo) -> Box:
    """Where the base's object hangs, with the paper around a sheet's marks."""
    if base in _HANGS:
        return _HANGS[base]
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
