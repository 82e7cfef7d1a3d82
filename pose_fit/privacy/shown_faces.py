"""Faces of a picture that is shown small and not kept: only those that can be recognised there."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import cv2
import numpy as np

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.privacy.faces import Face, FaceDetector
from pose_fit.privacy.hide_faces import faces_seen

__all__ = ["SHOWN_SIDE_PX", "shown_faces"]

#: Longer side of a picture as a page shows it.
SHOWN_SIDE_PX: Final = 900
#: Longer side at which its faces are looked for: one pixel less than where the detectors would
#: take their smallest tiles, which cost three quarters of the time. Without those a face is found
#: from 11 pixels of the shown picture.
_LOOKED_AT_SIDE_PX: Final = 767


def shown_faces(
    photo: Photo, body: Body | None, *, detectors: Sequence[FaceDetector] | None = None
) -> tuple[Face, ...]:
    """Every face that can be recognised where the longer side is ``SHOWN_SIDE_PX`` at most.

    As :func:`pose_fit.privacy.hide_faces.faces_seen`, in a smaller picture: one that is kept is
    looked at in full.
    """
    shrink = min(1.0, _LOOKED_AT_SIDE_PX / max(photo.pixels.shape[:2]))
    pixels = cv2.resize(photo.pixels, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
    small = replace(photo, pixels=np.asarray(pixels, np.uint8))
    return tuple(
        Face(
            (face.centre_px[0] / shrink, face.centre_px[1] / shrink),
            face.width_px / shrink,
            face.score,
        )
        for face in faces_seen(small, body, detectors=detectors)
    )
