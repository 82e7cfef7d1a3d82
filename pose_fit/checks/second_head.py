"""Two people in one place: the pose model then makes one body of the limbs of both.

Dancers, or a parent who holds a child, overlap so much that the search for others takes both for
one person. Their heads stay apart, so a second face at one trunk tells of them.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.privacy.faces import Face, find_faces
from pose_fit.privacy.mediapipe_faces import mediapipe_faces
from pose_fit.refusal import Notice, Refusal

__all__ = ["OtherHeads", "check_one_head", "other_heads", "smaller_heads_warnings"]

#: Around the trunk and above the nose this much is looked at, in legs.
_AROUND: Final = 0.60
#: A second head belongs to this trunk within this of its axis, in legs, and where it is not much
#: smaller than the first: a face on a shirt or a poster is.
_ASIDE: Final = 0.60
_SIZE: Final = 0.6
#: Smaller ones are told of, down to this.
_SMALLER: Final = 0.3
#: A face this sure (none of 200 rendered children alone shows one from 0.6; the second of two real
#: dancers has 0.68), and one on the trunk itself, which may be printed there.
_SURE: Final = 0.64
_SURE_ON_TRUNK: Final = 0.95
#: Nearer than this to the child's own nose, in the mean width of both faces, it is the child's: heads
#: side by side are as far apart.
_OWN: Final = 1.0
#: Without a face of the child's, its width in parts of the leg: a fifth in small children, an eighth
#: in large ones.
_FACE_PART: Final = 0.15


@dataclass(frozen=True, slots=True)
class OtherHeads:
    """Heads at the child's trunk that are not the child's: as large as its own, or smaller."""

    as_large: bool
    smaller: bool


def other_heads(photo: Photo, body: Body) -> OtherHeads:
    """Look for faces around the child's trunk."""
    nose_px, hips_px = photo.working_px(np.stack([body.point_px("nose"), body.hips_px]))
    shoulders_px = photo.working_px(body.points_px(("left_shoulder", "right_shoulder")))
    leg_px = body.leg_px / photo.working_scale
    rows, columns = window_around(
        photo.pixels.shape, np.stack([nose_px, hips_px]), margin_px=_AROUND * leg_px
    )
    part = np.ascontiguousarray(photo.pixels[rows, columns])
    faces = find_faces(
        part, [mediapipe_faces(reach, only_large=True) for reach in ("short", "full")]
    )
    corner = np.array([columns.start, rows.start], float)

    def from_nose_px(face: Face) -> float:
        return float(np.hypot(*(np.array(face.centre_px) + corner - nose_px)))

    own = next((face for face in faces if from_nose_px(face) < _OWN * face.width_px), None)
    own_px = _FACE_PART * leg_px if own is None else own.width_px
    trunk_px = shoulders_px.mean(axis=0)
    sizes = []
    for face in faces:
        place_px = np.array(face.centre_px) + corner
        is_on_trunk = bool(place_px[1] > trunk_px[1] + 0.05 * leg_px)
        if (
            face is not own
            and from_nose_px(face) > _OWN * (own_px + face.width_px) / 2
            and face.score > (_SURE_ON_TRUNK if is_on_trunk else _SURE)
            and abs(float(place_px[0] - (nose_px[0] + hips_px[0]) / 2)) < _ASIDE * leg_px
        ):
            sizes.append(face.width_px / own_px)
    return OtherHeads(
        as_large=any(size > _SIZE for size in sizes),
        smaller=any(_SMALLER < size <= _SIZE for size in sizes),
    )


def check_one_head(heads: OtherHeads) -> Refusal | None:
    """A refusal where a second head is at the child's trunk, else None."""
    if not heads.as_large:
        return None
    return Refusal.because(
        "several_people",
        "A second head is beside the child’s: whose legs are seen cannot be told.",
        "Take the picture with one child alone.",
    )


def smaller_heads_warnings(heads: OtherHeads) -> tuple[Notice, ...]:
    """What is told of a smaller head beside the child's: a baby, a doll, or a picture of somebody."""
    if not heads.smaller:
        return ()
    return (
        Notice(
            "others_in_picture",
            "A second, smaller face is beside the child. The person with the larger one was measured.",
        ),
    )
