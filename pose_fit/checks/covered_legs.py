"""Legs under a blanket, a long skirt or a table: where shanks should part, one thing is seen."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.refusal import Refusal

__all__ = ["check_legs_seen", "parting_part"]

#: From knee to ankle, the rows that are looked at, and how many.
_ROWS: Final = np.linspace(0.15, 0.9, 24)
#: From one shank to the other, where something must part them.
_ACROSS: Final = np.linspace(0.1, 0.9, 25)
#: In the gap the mask sees no person; a crease or shadow differs by this from what is
#: usual in its row, in units of CIELAB.
_GAP: Final = 0.5
_DIFFERS: Final = 6.0
#: With fewer such rows than this share the shanks are not two.
LEAST_PARTING: Final = 0.25


def check_legs_seen(photo: Photo, body: Body) -> Refusal | None:
    """A refusal where something hides both shanks, else None."""
    if parting_part(photo, body) >= LEAST_PARTING:
        return None
    return Refusal.because(
        "legs_hidden",
        "Below the knees the legs cannot be told apart: a blanket, a long skirt or something"
        " in front hides them.",
        "Take the picture in close-fitting legwear, feet a hand apart, nothing before the legs.",
    )


def parting_part(photo: Photo, body: Body) -> float:
    """Share of the rows between knees and ankles in which something parts the two shanks."""
    knees = photo.working_px(body.points_px(("left_knee", "right_knee")))
    ankles = photo.working_px(body.points_px(("left_ankle", "right_ankle")))
    along = knees[:, None] + (ankles - knees)[:, None] * _ROWS[None, :, None]
    across = along[0][:, None] + (along[1] - along[0])[:, None] * _ACROSS[None, :, None]
    spots = across.astype(np.float32)
    # Three pixels more on each side serve the smoothing and the interpolation.
    rows, columns = window_around(photo.pixels.shape, spots.reshape(-1, 2), margin_px=3.0)
    spots -= np.array([columns.start, rows.start], np.float32)
    soft = np.asarray(cv2.GaussianBlur(photo.pixels[rows, columns], (3, 3), 0.8), np.uint8)
    colours = cv2.cvtColor(_sampled(soft, spots) / 255, cv2.COLOR_RGB2LAB)
    off = np.linalg.norm(colours - np.median(colours, axis=1, keepdims=True), axis=2)
    person = _sampled(body.mask[rows, columns], spots)
    parts = (person.min(axis=1) < _GAP) | (off.max(axis=1) > _DIFFERS)
    return float(parts.mean())


def _sampled(
    image: NDArray[np.uint8] | NDArray[np.float32], spots: NDArray[np.float32]
) -> NDArray[np.float32]:
    sampled = cv2.remap(
        image, spots[..., 0], spots[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(sampled, np.float32)
