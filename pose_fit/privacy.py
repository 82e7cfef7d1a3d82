"""Keeping a child's face out of every picture that is stored or shown to others."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo import Photo

__all__ = ["with_face_hidden"]

#: Radius of the hidden disc, in distances from the ears to the nose: the whole head.
_HEAD_RADII: Final = 3.0
#: Least radius in shoulder widths, for faces turned away whose landmarks lie close together.
_LEAST_SHOULDERS: Final = 0.55
#: The ring around the disc whose colour it takes, in radii of the disc.
_RING: Final = 1.25
_GREY: Final = 128


def with_face_hidden(photo: Photo, body: Body) -> NDArray[np.uint8]:
    """(H, W, 3) copy of the working picture with the head painted over in one colour.

    The colour is the usual one beside and above the head. Coarse blocks, skin below hair, would
    still be found as a face by a detector, while a pose model finds the body better before its
    own background than below a patch of another colour.
    """
    pixels = photo.pixels.copy()
    face_px = photo.working_px(
        body.points_px(("nose", "left_eye", "right_eye", "left_ear", "right_ear"))
    )
    shoulders_px = photo.working_px(body.points_px(("left_shoulder", "right_shoulder")))
    # The crown and the hair are further from the face's middle than the chin is.
    up = face_px.mean(axis=0) - shoulders_px.mean(axis=0)
    centre = face_px.mean(axis=0) + 0.15 * up
    radius = max(
        _HEAD_RADII * float(np.linalg.norm(face_px - face_px.mean(axis=0), axis=1).max()),
        _LEAST_SHOULDERS * float(np.linalg.norm(shoulders_px[0] - shoulders_px[1])),
    )
    rows, columns = np.indices(pixels.shape[:2])
    away = np.hypot(columns - centre[0], rows - centre[1])
    head = away <= radius
    ring = ~head & (away <= _RING * radius)
    above = ring & (rows <= centre[1])
    around = above if above.any() else ring
    pixels[head] = np.median(pixels[around], axis=0) if around.any() else _GREY
    return pixels
