"""Is the reference as large as it was said to be, and where it was said to be?

A reference of another size, or one that hangs a step behind the child, gives a
perfectly sharp wrong number. But the distance between the pupils hardly differs
between people: about 50 mm at 3 years, 60 at 14, 52 to 74 in nearly all adults (Dodgson
2004, Proc SPIE 5291, 36; MacLachlan & Howland 2002, Ophthal Physiol Opt 22, 175; from
memory). Measured by the same reference it tells a scale that cannot be.
"""

import math
from typing import Final

import numpy as np

from pose_fit.body.body import Body
from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.metrology.units import both_units
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale, cast
from pose_fit.reference.reference import Reference
from pose_fit.refusal import Notice, Refusal

__all__ = ["check_scale", "eyes_apart_mm"]

#: Pupils of children are less far apart than this, and, facing the camera, further than this. The
#: pose model puts a small child's eyes nearer together than they are (32 mm on rendered photos).
WIDEST_MM: Final = 70.0
NARROWEST_MM: Final = 30.0
#: How far the pose model's eyes are off, relative (rendered photos), one standard deviation.
EYES_SD: Final = 0.05
#: One-sided 95 %.
_FACTOR: Final = 1.645
#: The face stands this far before a wall at which the heels stand.
_FACE_DEPTH_MM: Final = 180.0
#: The nose is this near the middle between the ears, in parts of their distance, in a face that
#: looks at the camera.
_FACING: Final = 0.25
_SEEN: Final = 0.8

_REMEDY: Final = (
    "Check the reference’s kind and size, hang it beside the legs on the wall that the heels"
    " touch, and say whether it is on the wall or beside the child."
)


def check_scale(
    photo: Photo, body: Body, plane: PlaneScale, reference: Reference, reading: PhotoReading
) -> Refusal | None:
    """A refusal where the eyes are too far apart or too near by this reference, else None."""
    if not _has_face(photo, body):
        return None
    apart_mm = eyes_apart_mm(body, plane, reference)
    slack = _FACTOR * math.hypot(EYES_SD, reading.length.sd_mm / reading.length.mean_mm)
    kind = reference.kind
    if apart_mm > WIDEST_MM * (1 + slack):
        return _refused(
            f"By this {kind} the child’s eyes would be {both_units(apart_mm)} apart, more than any"
            f" child’s: the {kind} is smaller than said, or well behind the child."
        )
    if apart_mm < NARROWEST_MM * (1 - slack) and _is_facing(body):
        return _refused(
            f"By this {kind} the child’s eyes would be {both_units(apart_mm)} apart, less than any"
            f" child’s: the {kind} is larger than said, or well before the child."
        )
    return None


def eyes_apart_mm(body: Body, plane: PlaneScale, reference: Reference) -> float:
    """Distance between the eyes as the reference measures it."""
    depth_mm = _FACE_DEPTH_MM if reference.placement == "wall" else 0.0
    eyes_mm = cast(plane.parameters, body.points_px(("left_eye", "right_eye")), depth_mm)
    return float(np.linalg.norm(eyes_mm[0] - eyes_mm[1]))


def _has_face(photo: Photo, body: Body) -> bool:
    eyes_px = body.points_px(("left_eye", "right_eye"))
    inside = ((eyes_px > 0) & (eyes_px < [photo.width_px, photo.height_px])).all()
    return bool(inside) and min(body.seen("left_eye"), body.seen("right_eye")) > _SEEN


def _is_facing(body: Body) -> bool:
    left, right = body.point_px("left_ear"), body.point_px("right_ear")
    nose = body.point_px("nose")
    off_px = abs(float(nose[0] - (left[0] + right[0]) / 2))
    return off_px < _FACING * float(np.hypot(*(left - right)))


def _refused(message: str) -> Refusal:
    return Refusal((Notice("reference_scale", message),), (_REMEDY,))
