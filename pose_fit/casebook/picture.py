"""The picture of a case: pixels made into a JPEG that holds nothing else."""

import io
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from pose_fit.errors import CaseBookError

__all__ = ["JPEG_QUALITY", "jpeg_of"]

JPEG_QUALITY: Final = 88
#: Longest side that JPEG can hold.
_LONGEST_SIDE_PX: Final = 65_500


def jpeg_of(pixels: NDArray[np.uint8]) -> bytes:
    """A JPEG made from pixels alone: no EXIF, thumbnail, colour profile or comment can survive.

    Parameters
    ----------
    pixels
        (H, W, 3) array of uint8, RGB, face already hidden
        (:func:`pose_fit.privacy.with_face_hidden`).

    Raises
    ------
    CaseBookError
        The array is no such picture.
    """
    if pixels.dtype != np.uint8 or pixels.ndim != 3 or pixels.shape[2] != 3 or not pixels.size:
        raise CaseBookError(
            f"picture: wanted (H, W, 3) uint8 pixels, found {pixels.shape} {pixels.dtype}"
        )
    if max(pixels.shape) > _LONGEST_SIDE_PX:
        raise CaseBookError(
            f"picture: wanted at most {_LONGEST_SIDE_PX} pixels a side, found {max(pixels.shape)}"
        )
    encoded = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels)).save(encoded, "JPEG", quality=JPEG_QUALITY)
    return encoded.getvalue()
