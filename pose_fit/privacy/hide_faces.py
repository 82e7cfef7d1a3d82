"""Keeping faces out of every picture that is stored or shown to others."""

import functools
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LANDMARKS, LEG_LANDMARKS, Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.privacy.cascade_faces import cascade_faces
from pose_fit.privacy.faces import Face, FaceDetector, find_faces
from pose_fit.privacy.heads_of_people import heads_of_people
from pose_fit.privacy.mediapipe_faces import mediapipe_faces
from pose_fit.privacy.repeated_faces import repeated_faces

__all__ = [
    "company_detectors",
    "face_detectors",
    "faces_seen",
    "picture_of_one",
    "shows_others",
    "with_face_hidden",
]

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
#: A face found by a detector: the disc's radius, and how far it lies above the face's middle, in
#: widths of the face. It covers the chin, the ears and most of the hair.
_FACE_RADII: Final = 0.85
_FOREHEAD: Final = 0.12
#: Where the child is alone, one detector is enough from this score. Among several people, where
#: faces are small and many, every find counts.
_LIKELY: Final = 0.6
#: A face of this score away from the child's head makes it worth while to look for more.
_COMPANY: Final = 0.8
#: From this score it surely is somebody else: none is found in 39 real pictures of one person.
#: So is a head found by its body, from a score of its own.
_SOMEBODY: Final = 0.9
_SOMEBODY_BY_BODY: Final = 0.75
#: Only from this score, in practice that of two detectors, a face is painted over what is measured.
_SURELY: Final = 0.95
#: What is measured, and the margin around it in legs.
_LEGS: Final[tuple[Landmark, ...]] = (
    *LEG_LANDMARKS,
    "left_heel",
    "right_heel",
    "left_toe",
    "right_toe",
)
_LEGS_MARGIN: Final = 0.12
_REFERENCE_MARGIN: Final = 0.03
_RIM: Final = 0.035


def faces_seen(
    photo: Photo,
    body: Body | None,
    *,
    detectors: Sequence[FaceDetector] | None = None,
    in_company: Sequence[FaceDetector] | None = None,
    bodies: FaceDetector | None = None,
) -> tuple[Face, ...]:
    """Every face that may have to be hidden, in pixels of the working picture.

    Parameters
    ----------
    body
        The child; None where nobody was found, which is looked at as company is.
    detectors
        Those of :func:`face_detectors` by default.
    in_company
        Asked as well where there are several people; by default those of
        :func:`company_detectors`, or none where ``detectors`` are given.
    bodies
        Tells by heads beside the child's that there are others; of a child alone it hides nothing.
        By default the pose model's first stage, or none where ``detectors`` are given.
    """
    if detectors is None:
        detectors = face_detectors()
        in_company = company_detectors() if in_company is None else in_company
        bodies = heads_of_people(nearer=True) if bodies is None else bodies
    with ThreadPoolExecutor(max_workers=1) as beside:
        looking = None if bodies is None else beside.submit(bodies.find, photo.pixels)
        faces = find_faces(photo.pixels, detectors)
        heads = [] if looking is None else looking.result()
    others = _beside(heads, photo, body, least_score=_SOMEBODY_BY_BODY)
    faces += tuple(replace(head, score=max(head.score, _SOMEBODY)) for head in others)
    if _is_alone(faces, photo, body):
        return faces
    more = [*heads, *find_faces(photo.pixels, in_company or ())]
    return (*faces, *(face for face in more if not any(face.is_same(one) for one in faces)))


def with_face_hidden(
    photo: Photo,
    body: Body | None,
    *,
    keep_px: NDArray[np.float64] | None = None,
    faces: Sequence[Face] | None = None,
) -> NDArray[np.uint8]:
    """(H, W, 3) copy of the working picture with every head painted over in one colour.

    Heads are those of the child and of the bystanders the pose model sees, and every face that a
    face detector finds. The colour is the usual one beside and above the head. Coarse blocks,
    skin below hair, would still be found as a face by a detector. What is measured stays to be
    seen: a bystander's head is not painted over the child, and what is hardly a face not over the
    legs or the reference.

    Parameters
    ----------
    body
        The child; where that is None every face found is hidden, and no head.
    keep_px
        (N, 2) array: points around the reference, upright pixels.
    faces
        Where they were looked for before; by :func:`faces_seen` otherwise.
    """
    pixels = photo.pixels.copy()
    _hide_found(pixels, faces_seen(photo, body) if faces is None else faces, photo, body, keep_px)
    if body is None:
        return pixels
    # Whole heads last: a disc within a disc looks like an eye.
    child = body.mask > 0.5
    indices = [LANDMARKS.index(landmark) for landmark in _HEAD]
    for bystander in body.bystanders:
        kept = pixels[child]
        _hide_head(pixels, photo.working_px(bystander.points_px[indices]))
        pixels[child] = kept
    _hide_head(pixels, photo.working_px(body.points_px(_HEAD)))
    return pixels


def shows_others(photo: Photo, body: Body, faces: Sequence[Face]) -> bool:
    """Whether somebody beside the child is surely seen; ``faces`` as :func:`faces_seen` gives them."""
    return bool(body.bystanders or _beside(faces, photo, body, least_score=_SOMEBODY))


def picture_of_one(
    photo: Photo, body: Body, *, keep_px: NDArray[np.float64] | None = None
) -> NDArray[np.uint8] | None:
    """The picture as it may be kept, face hidden; None where somebody else is seen.

    Others were not asked, and of many faces one may be overlooked. ``keep_px`` as for
    :func:`with_face_hidden`.
    """
    faces = faces_seen(photo, body)
    if shows_others(photo, body, faces):
        return None
    return with_face_hidden(photo, body, keep_px=keep_px, faces=faces)


def _is_alone(faces: Sequence[Face], photo: Photo, body: Body | None) -> bool:
    """Whether nobody else seems to be there: the child's own face may be found more than once."""
    if body is None or body.bystanders:
        return False
    return not _beside(faces, photo, body, least_score=_COMPANY)


def _beside(
    faces: Sequence[Face], photo: Photo, body: Body | None, *, least_score: float
) -> list[Face]:
    """Faces of this score and more away from the child's head."""
    sure = [face for face in faces if face.score >= least_score]
    if body is None:
        return sure
    head_px, radius_px = _head_disc(photo.working_px(body.points_px(_HEAD)))
    return [face for face in sure if np.hypot(*(np.array(face.centre_px) - head_px)) > radius_px]


def _hide_found(
    pixels: NDArray[np.uint8],
    faces: Sequence[Face],
    photo: Photo,
    body: Body | None,
    keep_px: NDArray[np.float64] | None,
) -> None:
    """Paint over what the detectors found, in place."""
    alone = _is_alone(faces, photo, body)
    hips_row = np.inf if body is None else float(photo.working_px(body.hips_px)[1])
    measured = _measured(photo, body, keep_px)
    for face in faces:
        is_sure = face.score >= _SURELY
        reaches_row = face.centre_px[1] + _FACE_RADII * face.width_px
        # Beside the legs of a child alone there is nobody's face.
        if alone and not is_sure and (face.score < _LIKELY or reaches_row > hips_row):
            continue
        kept = pixels[measured]
        _hide_face(pixels, face)
        if not is_sure:
            pixels[measured] = kept


@functools.cache
def face_detectors() -> tuple[FaceDetector, ...]:
    """All detectors of this program: they miss different faces."""
    return mediapipe_faces("short"), mediapipe_faces("full"), cascade_faces(), heads_of_people()


@functools.cache
def company_detectors() -> tuple[FaceDetector, ...]:
    """Asked where there are several people; a child alone should not wait for them."""
    return (repeated_faces(),)


def _measured(
    photo: Photo, body: Body | None, keep_px: NDArray[np.float64] | None
) -> NDArray[np.bool_]:
    """(H, W) true on the legs, and on the reference."""
    kept = np.zeros(photo.pixels.shape[:2], np.uint8)
    if body is None:
        return kept > 0
    leg_px = body.leg_px
    for points_px, margin_px in (
        (body.points_px(_LEGS), _LEGS_MARGIN * leg_px),
        (keep_px, _REFERENCE_MARGIN * leg_px),
    ):
        if points_px is None:
            continue
        low, high = points_px.min(axis=0) - margin_px, points_px.max(axis=0) + margin_px
        corners = np.round(photo.working_px(np.stack([low, high]))).astype(int)
        cv2.rectangle(kept, corners[0].tolist(), corners[1].tolist(), (1,), cv2.FILLED)
    return kept > 0


def _hide_face(pixels: NDArray[np.uint8], face: Face) -> None:
    """Paint over a face and the head around it, in place."""
    centre = np.array(face.centre_px) - [0.0, _FOREHEAD * face.width_px]
    _paint_over(pixels, centre, _FACE_RADII * face.width_px)


def _hide_head(pixels: NDArray[np.uint8], points_px: NDArray[np.float64]) -> None:
    """Paint over one head, given by the points of ``_HEAD``, in place."""
    _paint_over(pixels, *_head_disc(points_px))


def _head_disc(points_px: NDArray[np.float64]) -> tuple[NDArray[np.float64], float]:
    """Centre and radius of the disc over one head, given by the points of ``_HEAD``."""
    face_px, shoulders_px = points_px[:-2], points_px[-2:]
    # The crown and the hair are further from the face's middle than the chin is.
    up = face_px.mean(axis=0) - shoulders_px.mean(axis=0)
    centre = face_px.mean(axis=0) + 0.15 * up
    radius = max(
        _HEAD_RADII * float(np.linalg.norm(face_px - face_px.mean(axis=0), axis=1).max()),
        _LEAST_SHOULDERS * float(np.linalg.norm(shoulders_px[0] - shoulders_px[1])),
    )
    return centre, radius


def _paint_over(pixels: NDArray[np.uint8], centre: NDArray[np.float64], radius: float) -> None:
    """A disc of the colour around it, in place."""
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
