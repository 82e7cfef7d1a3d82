"""Faces that detectors find in the pictures of several people, before and after hiding."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.real.pictures import Picture
from pose_fit.body.body import PoseModel
from pose_fit.photo.photo import read_photo
from pose_fit.privacy.faces import Face, FaceDetector, find_faces
from pose_fit.privacy.hide_faces import with_face_hidden

__all__ = ["Hidden", "half", "hide_in", "report", "sheet_of_remains"]

_CELL_PX: Final = 120
_COLUMNS: Final = 12
#: How much is shown of what is left, in widths of the face.
_SHOWN: Final = 1.6
#: Smaller faces tell nobody from another at the working size of 2048 pixels at most.
_LEAST_FACE_PX: Final = 12.0


#: What was seen when the pictures and all that was left were looked at.
LOOKED_AT: Final = (
    "Looked at: every picture of both halves with its faces hidden, before faces were looked for"
    " again and again and after it; every place that was hidden before and no longer is; and every"
    " find that was left. Nearly all finds are hands, knees, folds, signs and letters. Limits were"
    " chosen on the first half alone, and the second was looked at when they were fixed; its"
    " pictures had been seen for the searches of earlier versions. Faces that stay to the eye were"
    " counted alike before and after, with those out of focus or half covered, from some 8 pixels."
    "\n\n"
    "In the first half 52 stayed in 9 pictures and 24 stay in 8: 5 blurred spectators of a dance; 4"
    " of a wrestling match, from the side or behind hair; 3 of a fight; 3 at the border or with a"
    " detector's frame drawn over them; 3 far hockey players; 3 motorcyclists in helmets, in a"
    " picture that is taken for one of a person alone; an official; 2 far players. In the second"
    " half 12 stayed in 6 pictures and 7 stay in 4: 2 passers-by of 10 pixels; a boy out of focus; a"
    " man and a woman beside cyclists; a woman behind her hair; and a cyclist of 10 pixels who was"
    " hidden before. Heads from behind are not counted. In one more, a stadium in a picture of 640"
    " pixels, hundreds of faces of 4 to 10 pixels stay; they are not counted either."
    "\n\n"
    "Discs on clothes and hands are the price: a picture of a group has 20 discs, 8 more than"
    " before. The 11 samples of a child alone look as before, without a disc beside the head."
    " Earlier counts (18 in 7 pictures and 10 in 4) were made with a milder eye and do not compare."
)


@dataclass(frozen=True, eq=False, slots=True)
class Hidden:
    """One picture, with what each judge finds in it before and after.

    ``pixels`` and ``hidden`` are (H, W, 3) RGB at the working size.
    """

    picture: Picture
    pixels: NDArray[np.uint8]
    hidden: NDArray[np.uint8]
    before: Mapping[str, tuple[Face, ...]]
    after: Mapping[str, tuple[Face, ...]]


def hide_in(
    picture: Picture, photos: Path, pose: PoseModel, judges: Mapping[str, FaceDetector]
) -> Hidden | None:
    """None where the pose model finds nobody: such a picture is never kept."""
    photo = read_photo(photos / picture.file)
    body = pose.find(photo)
    if body is None:
        return None
    hidden = with_face_hidden(photo, body)
    before, after = (
        {
            name: tuple(
                face for face in find_faces(pixels, [judge]) if face.width_px >= _LEAST_FACE_PX
            )
            for name, judge in judges.items()
        }
        for pixels in (photo.pixels, hidden)
    )
    return Hidden(picture, photo.pixels, hidden, before, after)


def report(several: Sequence[Picture], hidden: Sequence[Hidden]) -> str:
    """The table of finds before and after, for the pictures limits were chosen on and the others."""
    judges = list(hidden[0].before) if hidden else []
    lines = [
        "# Faces after hiding",
        "",
        "Made by `python -m calibration.real faces`, on the pictures of several people among"
        f" `calibration/real/pictures.csv`. In {len(several) - len(hidden)} of {len(several)} the"
        " pose model finds nobody, so that they are never kept. Pictures of several people"
        " are not kept either; here their faces are hidden all the same. Counted are finds of"
        f" {_LEAST_FACE_PX:.0f} pixels and more. Most finds that are left are no faces: see below.",
        "",
        f"| pictures | count | {' | '.join(f'{name} before | after' for name in judges)} |",
        "|---|--:|" + "--:|--:|" * len(judges),
    ]
    for name, odd in (("looked at while limits were chosen", 0), ("scored once", 1)):
        part = [one for one in hidden if half(one.picture) == odd]
        counts = (
            f"{sum(len(one.before[judge]) for one in part)} |"
            f" {sum(len(one.after[judge]) for one in part)}"
            for judge in judges
        )
        lines.append(f"| {name} | {len(part)} | {' | '.join(counts)} |")
    return "\n".join([*lines, "", LOOKED_AT]) + "\n"


def half(picture: Picture) -> int:
    """0 or 1 by the hash of the file's name, so that a longer list moves no picture."""
    return hashlib.sha256(picture.file.encode()).digest()[0] % 2


def sheet_of_remains(all_hidden: Iterable[Hidden]) -> NDArray[np.uint8]:
    """(H, W, 3) RGB: each remaining find, above it the same place before, to be looked at."""
    cells = [
        np.vstack([_cell(one.pixels, face), _cell(one.hidden, face)])
        for one in all_hidden
        for faces in one.after.values()
        for face in faces
    ]
    blank = np.full((2 * _CELL_PX, _CELL_PX, 3), 255, np.uint8)
    cells += [blank] * (-len(cells) % _COLUMNS or (0 if cells else _COLUMNS))
    rows = [np.hstack(cells[at : at + _COLUMNS]) for at in range(0, len(cells), _COLUMNS)]
    return np.vstack(rows)


def _cell(pixels: NDArray[np.uint8], face: Face) -> NDArray[np.uint8]:
    centre, reach = np.array(face.centre_px), _SHOWN * face.width_px
    low = np.clip(np.round(centre - reach), 0, None).astype(int)
    high = np.round(centre + reach).astype(int)
    part = pixels[low[1] : high[1], low[0] : high[0]]
    return np.asarray(cv2.resize(part, (_CELL_PX, _CELL_PX)), np.uint8)
