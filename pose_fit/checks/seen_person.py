"""The person's own lengths as the object of known size measures them."""

import math
from typing import Final

import numpy as np

from pose_fit.anthropometry.people import people
from pose_fit.anthropometry.person_likelihood import SeenPerson
from pose_fit.body.body import Body
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.metrology.uncertain import UncertainLength
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import cast
from pose_fit.reference.find_crown import Crown, find_crown
from pose_fit.reference.reference import Reference

__all__ = ["eyes_apart_mm", "has_face", "is_facing", "seen_person", "stature_seen_mm"]

#: The face stands this far before a wall at which the heels stand.
_FACE_DEPTH_MM: Final = 180.0
#: The eyes stand this far before the legs, which stand some 90 mm before that wall.
_FACE_BEFORE_LEGS_MM: Final = 90.0
#: Knees and neck bend, and hair stands up: stature as seen, relative (judgement).
STATURE_LOG_SD: Final = 0.02
#: How far the pose model's eyes are off, relative (rendered photos), one standard deviation.
EYES_LOG_SD: Final = 0.06
#: The nose is this near the middle between the ears, in parts of their distance, in a face that
#: looks at the camera.
_FACING: Final = 0.25
_SEEN: Final = 0.8


def seen_person(
    photo: Photo,
    body: Body,
    plane: PlaneScale,
    reference: Reference,
    legs: LegGeometry,
    length: UncertainLength,
) -> SeenPerson:
    """Inseam, stature and distance between the eyes, as far as each is seen."""
    crown = find_crown(photo, body)
    stature_mm, stature_log_sd = None, STATURE_LOG_SD
    if crown is not None:
        stature_mm = stature_seen_mm(crown, plane, legs, is_beside=reference.placement == "beside")
        crown_sd_mm = crown.sd_px * plane.distance_mm / plane.focal_px
        stature_log_sd = math.hypot(STATURE_LOG_SD, crown_sd_mm / stature_mm)
    faces = has_face(photo, body) and is_facing(body)
    return SeenPerson(
        inseam_mm=length.mean_mm,
        inseam_log_sd=length.sd_mm / length.mean_mm,
        stature_mm=stature_mm,
        stature_log_sd=stature_log_sd,
        pupils_mm=eyes_apart_mm(body, plane, reference) if faces else None,
        pupils_log_sd=EYES_LOG_SD,
    )


def stature_seen_mm(
    crown: Crown, plane: PlaneScale, legs: LegGeometry, *, is_beside: bool
) -> float:
    """From the crown to the sole along the legs; hair and soles are not taken off."""
    depth_mm = 0.0 if is_beside else -float(legs.hips_mm[:, 2].mean())
    crown_mm = cast(plane.parameters, crown.point_px[None], depth_mm)[0]
    ankle = people().ankle_height_from_hip_to_ankle
    above_ankles_mm = float((legs.ankles_mm.mean(axis=0) - crown_mm) @ legs.down)
    return above_ankles_mm + ankle.mean_mm(legs.straight_mm)


def eyes_apart_mm(body: Body, plane: PlaneScale, reference: Reference) -> float:
    """Distance between the eyes as the reference measures it."""
    depth_mm = _FACE_DEPTH_MM if reference.placement == "wall" else _FACE_BEFORE_LEGS_MM
    eyes_mm = cast(plane.parameters, body.points_px(("left_eye", "right_eye")), depth_mm)
    return float(np.linalg.norm(eyes_mm[0] - eyes_mm[1]))


def has_face(photo: Photo, body: Body) -> bool:
    """Whether both eyes are seen inside the picture."""
    eyes_px = body.points_px(("left_eye", "right_eye"))
    inside = ((eyes_px > 0) & (eyes_px < [photo.width_px, photo.height_px])).all()
    return bool(inside) and min(body.seen("left_eye"), body.seen("right_eye")) > _SEEN


def is_facing(body: Body) -> bool:
    """Whether the face looks at the camera, so that the eyes are seen their whole distance apart."""
    left, right = body.point_px("left_ear"), body.point_px("right_ear")
    nose = body.point_px("nose")
    off_px = abs(float(nose[0] - (left[0] + right[0]) / 2))
    return off_px < _FACING * float(np.hypot(*(left - right)))
