"""Keeping faces out of every picture that is stored or shown to others."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LANDMARKS, Body, Landmark
from pose_fit.photo.photo import Photo

__all__ = ["with_face_hidden"]

_HEAD: Final[tuple[Landmark, ...]] = (
    "nose",
    "left_eye",
    "right_eye",
    "left_ear",
    "right_ear",
    "left_shoulder",
    "right_shoulder",
)
#: Radius of the hidden disc, in distances from the ears to the nose: the whole head.
_HEAD_RADII: Final = 3.0
#: Least radius in shoulder widths, for faces turned away whose landmarks lie close together.
_LEAST_SHOULDERS: Final = 0.55
#: The ring around the disc whose colour it takes, in radii of the disc.
_RING: Final = 1.25
_GREY: Final = 128
_RIM: Final = 0.035


def with_face_hidden(photo: Photo, body: Body) -> NDArray[np.uint8]:
    """(H, W, 3) copy of the working picture with every head painted over in one colour.

    The colour is the usual one beside and above the head. Coarse blocks, skin below hair, would
    still be found as a face by a detector. Bystanders lose their heads too, except where the
    child stands before them.
    """
    pixels = photo.pixels.copy()
    _hide_head(pixels, photo.working_px(body.points_px(_HEAD)))
    child = body.mask > 0.5
    indices = [LANDMARKS.index(landmark) for landmark in _HEAD]
    for bystander in body.bystanders:
        kept = pixels[child]
        _hide_head(pixels, photo.working_px(bystander.points_px[indices]))
        pixels[child] = kept
    return pixels


def _hide_head(pixels: NDArray[np.uint8], points_px: NDArray[np.float64]) -> None:
    """Paint over one head, given by the points of ``_HEAD``, in place."""
    face_px, shoulders_px = points_px[:-2], points_px[-2:]
    # The crown and the hair are further from the face's middle than the chin is.
    up = face_px.mean(axis=0) - shoulders_px.mean(axis=0)
    centre = face_px.mean(axis=0) + 0.15 * up
    radius = max(
        _HEAD_RADII * float(np.linalg.norm(face_px - face_px.mean(axis=0), axis=1).max()),
        _LEAST_SHOULDERS * float(np.linalg.norm(shoulders_px[0] - shoulders_px[1])),
    )
    # Nothing beyond the ring counts.
    low = np.maximum(np.floor(centre - _RING * radius), 0).astype(int)
    high = np.minimum(np.ceil(centre + _RING * radius) + 1, pixels.shape[1::-1]).astype(int)
    if (high <= low).any():
        return
    pixels = pixels[low[1] : high[1], low[0] : high[0]]
    rows, columns = np.mgrid[low[1] : high[1], low[0] : high[0]]
    away = np.hypot(columns - centre[0], rows - centre[1])
    head = away <= radius
    ring = ~head & (away <= _RING * radius)
    above = ring & (rows <= centre[1])
    around = above if above.any() else ring
    paint = np.median(pixels[around], axis=0) if around.any() else np.full(3, _GREY)
    pixels[head] = paint
    # The rim says that something was hidden here.
    pixels[head & (away > (1 - _RIM) * radius)] = np.where(paint < _GREY, paint + 60, paint - 60)
