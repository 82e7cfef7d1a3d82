"""Faces of a picture that is shown small and not kept: what nobody can know there is not looked for."""

from collections.abc import Sequence
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.photo import Photo
from pose_fit.privacy.faces import Face, FaceDetector, find_faces

__all__ = ["SHOWN_SIDE_PX", "FacesFound", "shown_faces"]

#: Longer side of a picture as a page shows it.
SHOWN_SIDE_PX: Final = 900
#: Longer side at which its faces are looked for: one pixel less than where the detectors would
#: take their smallest tiles, which cost three quarters of the time. Without those a face is found
#: from 11 pixels of the shown picture.
_LOOKED_AT_SIDE_PX: Final = 767


class FacesFound:
    """Stands for the detectors where the faces of the picture are known."""

    def __init__(self, faces: Sequence[Face]) -> None:
        self._faces = tuple(faces)

    def find(self, pixels: NDArray[np.uint8]) -> list[Face]:
        """What was found before."""
        return list(self._faces)


def shown_faces(photo: Photo, detectors: Sequence[FaceDetector]) -> tuple[Face, ...]:
    """Every face that can be known where the longer side is ``SHOWN_SIDE_PX`` at most.

    In pixels of the working picture. A picture that is kept is looked at in full
    (:func:`pose_fit.privacy.hide_faces.with_face_hidden`).
    """
    shrink = min(1.0, _LOOKED_AT_SIDE_PX / max(photo.pixels.shape[:2]))
    small = cv2.resize(photo.pixels, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
    return tuple(
        Face(
            (face.centre_px[0] / shrink, face.centre_px[1] / shrink),
            face.width_px / shrink,
            face.score,
        )
        for face in find_faces(np.asarray(small, np.uint8), detectors)
    )
