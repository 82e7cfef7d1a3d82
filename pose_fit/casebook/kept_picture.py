"""The picture of a case: pixels made into a JPEG that holds nothing else, and the body in it."""

import io
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from pose_fit.body.body import Body
from pose_fit.casebook.body_record import bytes_of_body
from pose_fit.errors import CaseBookError
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal

__all__ = ["JPEG_QUALITY", "KeptPicture", "Picture", "jpeg_of", "kept_picture", "shows_several"]

JPEG_QUALITY: Final = 88
#: Refused for these or measured with these warnings, a photo shows others who were not asked.
_SEVERAL: Final = frozenset(
    {"several_people", "people_overlap", "others_in_picture", "person_chosen"}
)
#: Longest side that JPEG can hold.
_LONGEST_SIDE_PX: Final = 65_500


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """A picture that the family lets the shop keep.

    Attributes
    ----------
    pixels
        (H, W, 3) array of uint8, RGB, faces already hidden.
    body
        What was seen in it before they were hidden, for measuring it again.
    """

    pixels: NDArray[np.uint8]
    body: Body | None = None


@dataclass(frozen=True, slots=True)
class KeptPicture:
    """A picture as the database keeps it; ``body`` is None where none was given."""

    jpeg: bytes
    body: bytes | None


def kept_picture(picture: Picture | None) -> KeptPicture | None:
    """What the database keeps of a picture and the body seen in it; None of none.

    Raises
    ------
    CaseBookError
        The pixels are no picture.
    """
    if picture is None:
        return None
    body = None if picture.body is None else bytes_of_body(picture.body)
    return KeptPicture(jpeg_of(picture.pixels), body)


def shows_several(result: Inseam | Refusal) -> bool:
    """Whether more than one person was seen in a photo; its picture is never kept."""
    told = result.reasons if isinstance(result, Refusal) else result.warnings
    return any(notice.code in _SEVERAL for notice in told)


def jpeg_of(pixels: NDArray[np.uint8]) -> bytes:
    """A JPEG made from pixels alone: no EXIF, thumbnail, colour profile or comment can survive.

    Parameters
    ----------
    pixels
        (H, W, 3) array of uint8, RGB, face already hidden
        (:func:`pose_fit.privacy.hide_faces.with_face_hidden`).

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
