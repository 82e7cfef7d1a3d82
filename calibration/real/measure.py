"""What the program says of each real picture, under each object that it could be asked to find.

No picture holds a sheet of paper of known size on purpose, so every number under `letter` and `a4`
is an error. Under `length` the person's own shoulders to ankles are taken for 1.33 m, a usual
adult's, so that everything but the reference is tried.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal, get_args

import numpy as np

from calibration.real.pictures import STANDING, Picture
from pose_fit.body.body import Body, PoseModel
from pose_fit.body.body_once import BodyOnce
from pose_fit.errors import PoseFitError
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["Answer", "Asked", "answers", "report"]

Asked = Literal["letter", "a4", "length"]
#: Shoulders to ankles of an adult.
_SPAN_MM: Final = 1330.0


#: What was seen when each picture with a number was looked at.
LOOKED_AT: Final = (
    "Each picture with a number was looked at. The one that is not flagged is a man in shorts who"
    " stands straight with his arms stretched out, the crotch found where the legs part. The others"
    " are flagged for what is wrong: dresses and a long jacket hide the crotch, a suit of plush has"
    " none, women walk on a line, men put one foot before the other, and a tennis player bends his"
    " knees. The woman in the printed dress went without a word in the first count of this program:"
    " the network is sure of a crotch in the print, and only a hem is seen. A hem alone is told of"
    " since then. Of the tennis player it is also told that somebody else’s legs seem to be in the"
    " picture, which is wrong."
)


@dataclass(frozen=True, slots=True)
class Answer:
    """What was told: codes of the refusal or warnings, and the inseam with its uncertainty."""

    picture: Picture
    asked: Asked
    codes: tuple[str, ...]
    inseam_mm: float | None = None
    sd_mm: float | None = None


def answers(picture: Picture, photos: Path, pose: PoseModel) -> list[Answer]:
    """The answers to all that is asked of one picture."""
    try:
        photo = read_photo(photos / picture.file)
    except PoseFitError:
        return [Answer(picture, asked, ("no_photo",)) for asked in get_args(Asked)]
    once = BodyOnce(pose)
    return [_answer(picture, photo, asked, once) for asked in get_args(Asked)]


def _answer(picture: Picture, photo: Photo, asked: Asked, pose: PoseModel) -> Answer:
    request: ReferenceRequest | None
    if asked == "length":
        body = pose.find(photo)
        request = None if body is None else _own_length(photo, body)
        if request is None:
            return Answer(picture, asked, ("no_length",))
    else:
        request = ReferenceRequest(asked)
    told = measure_photo(photo, PhotoTask(request, Stated(heels_down=True)), pose=pose)
    if isinstance(told, Refusal):
        return Answer(picture, asked, tuple(reason.code for reason in told.reasons))
    codes = tuple(warning.code for warning in told.inseam.warnings)
    return Answer(picture, asked, codes, told.inseam.mean_mm, told.inseam.sd_mm)


def _own_length(photo: Photo, body: Body) -> ReferenceRequest | None:
    shoulders_px = body.points_px(("left_shoulder", "right_shoulder")).mean(axis=0)
    ends = np.stack([shoulders_px, body.ankles_px])
    if not ((ends >= 0) & (ends < [photo.width_px, photo.height_px])).all():
        return None
    (x0, y0), (x1, y1) = ends.tolist()
    return ReferenceRequest(
        "length", size_mm=_SPAN_MM, points_px=((x0, y0), (x1, y1)), placement="beside"
    )


def report(found: Sequence[Answer]) -> str:
    """The table of all pictures, after a summary."""
    lines = [
        "# Real pictures",
        "",
        "Made by `python -m calibration.real measure`. The pictures are samples of public vision"
        " libraries, listed in `calibration/real/pictures.csv`; none is part of this repository."
        " No sheet of paper hangs in any of them, so that each number under `letter` or `a4` is an"
        " error. Under `length` the person's own shoulders to ankles count as 1.33 m.",
        "",
        "| asked | pictures | numbers | of them unflagged | of them not one standing person |",
        "|---|--:|--:|--:|--:|",
    ]
    for asked in get_args(Asked):
        part = [one for one in found if one.asked == asked]
        numbers = [one for one in part if one.inseam_mm is not None]
        lines.append(
            f"| {asked} | {len(part)} | {len(numbers)} |"
            f" {sum(not one.codes for one in numbers)} |"
            f" {sum(one.picture.seen != STANDING for one in numbers)} |"
        )
    refused = Counter(one.codes[0] for one in found if one.inseam_mm is None)
    told = ", ".join(f"{code} {count}" for code, count in refused.most_common())
    lines += ["", f"First reasons of refusals: {told}.", "", LOOKED_AT, "", "## Numbers", ""]
    lines += _table(one for one in found if one.inseam_mm is not None)
    lines += ["", "## All answers", "", *_table(found)]
    return "\n".join(lines) + "\n"


def _table(found: Iterable[Answer]) -> list[str]:
    rows = ["| picture | seen | asked | inseam | told |", "|---|---|---|---|---|"]
    for one in found:
        number = "" if one.inseam_mm is None else f"{one.inseam_mm:.0f} ± {one.sd_mm:.0f} mm"
        rows.append(
            f"| {one.picture.repository} {one.picture.path} | {one.picture.seen} | {one.asked} |"
            f" {number} | {', '.join(one.codes)} |"
        )
    return rows
