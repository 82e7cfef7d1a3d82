"""Keeping a child's face out of every picture that is stored or shown to others."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo import Photo

__all__ = ["with_face_hidden"]

#: Radius of the hidden disc, in distances from the ears to the nose: the whole head.
_HEAD_RADII: Final = 3.0
#: Least radius in shoulder widths, for faces turned away whose landmarks lie close together.
_LEAST_SHOULDERS: Final = 0.55
#: Blocks across the hidden disc: too few to tell one child from another.
_BLOCKS: Final = 5


def with_face_hidden(photo: Photo, body: Body) -> NDArray[np.uint8]:
    """(H, W, 3) copy of the working picture with the head reduced to a few coloured blocks."""
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
    low = np.maximum(np.floor(centre - radius), 0).astype(int)
    high = np.minimum(np.ceil(centre + radius), pixels.shape[1::-1]).astype(int)
    if (high <= low).any():
        return pixels
    window = pixels[low[1] : high[1], low[0] : high[0]]
    height, width = window.shape[:2]
    blocks = cv2.resize(window, (_BLOCKS, _BLOCKS), interpolation=cv2.INTER_AREA)
    coarse = cv2.resize(blocks, (width, height), interpolation=cv2.INTER_NEAREST)
    rows, columns = np.mgrid[low[1] : high[1], low[0] : high[0]]
    disc = np.hypot(columns - centre[0], rows - centre[1]) <= radius
    window[disc] = np.asarray(coarse, np.uint8)[disc]
    return pixels
