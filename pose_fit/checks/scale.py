"""Is the reference as large as it was said to be, and where it was said to be?

A reference of another size, or one that hangs a step behind the child, gives a
perfectly sharp wrong number. But the distance between the pupils hardly differs
between people: about 50 mm at 3 years, 60 at 14, 52 to 74 in nearly all adults (Dodgson
2004, Proc SPIE 5291, 36; MacLachlan & Howland 2002, Ophthal Physiol Opt 22, 175; from
memory). Measured by the same reference it tells a scale that cannot be.
"""

import math
from typing import Final

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.person_likelihood import (
    SeenPerson,
    is_nobody,
    person_log_likelihood,
)
from pose_fit.body.body import Body
from pose_fit.checks.seen_person import EYES_LOG_SD, eyes_apart_mm, has_face, is_facing
from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.metrology.units import both_units
from pose_fit.notice_codes import NoticeCode
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.reference.reference import Reference
from pose_fit.refusal import Notice, Refusal

__all__ = ["check_person", "check_scale", "person_warnings"]

#: Pupils of children are less far apart than this, and, facing the camera, further than this. The
#: pose model puts a small child's eyes nearer together than they are (32 mm on rendered photos).
WIDEST_MM: Final = 70.0
NARROWEST_MM: Final = 30.0
#: How much likelier the person would be were everything larger or smaller by one factor, as a natural
#: logarithm. At most 3.1 on 214 rendered children; 3.7 to 10 on dolls, statues, pictures of
#: people and objects that are not what they are said to be.
TOLD_FROM: Final = 3.3
REFUSED_FROM: Final = 5.5
_FACTORS: Final = tuple(math.exp(step / 20) for step in range(-18, 19))
#: One-sided 95 %.
_FACTOR: Final = 1.645

_REMEDY: Final = (
    "Check the reference’s kind and size, hang it beside the legs on the wall that the heels"
    " touch, and say whether it is on the wall or beside the child."
)


def check_scale(
    photo: Photo, body: Body, plane: PlaneScale, reference: Reference, reading: PhotoReading
) -> Refusal | None:
    """A refusal where the eyes are too far apart or too near by this reference, else None."""
    if not has_face(photo, body):
        return None
    apart_mm = eyes_apart_mm(body, plane, reference)
    slack = _FACTOR * math.hypot(EYES_LOG_SD, reading.length.sd_mm / reading.length.mean_mm)
    kind = reference.kind
    if apart_mm > WIDEST_MM * (1 + slack):
        return _refused(
            f"By this {kind} the child’s eyes would be {both_units(apart_mm)} apart, more than any"
            f" child’s: the {kind} is smaller than said, or well behind the child."
        )
    if apart_mm < NARROWEST_MM * (1 - slack) and is_facing(body):
        return _refused(
            f"By this {kind} the child’s eyes would be {both_units(apart_mm)} apart, less than any"
            f" child’s: the {kind} is larger than said, or well before the child."
        )
    return None


def check_person(seen: SeenPerson, reference: Reference) -> Refusal | None:
    """A refusal where nobody, child or grown, has these lengths together, else None."""
    if not is_nobody(seen, Child()) and _misfit(seen, reference)[0] < REFUSED_FROM:
        return None
    kind = reference.kind
    tall = "" if seen.stature_mm is None else f" and stand {both_units(seen.stature_mm)} tall"
    return _refused(
        f"By this {kind} the person would have an inseam of {both_units(seen.inseam_mm)}{tall}, in"
        f" proportions that nobody of that size has: it is no {kind}, or another size of it.",
        code="person_unlikely",
    )


def person_warnings(seen: SeenPerson, reference: Reference) -> tuple[Notice, ...]:
    """What is told where the person's proportions are rather those of somebody of another size."""
    misfit, factor = _misfit(seen, reference)
    if misfit < TOLD_FROM:
        return ()
    size = "taller" if factor > 1 else "smaller"
    return (
        Notice(
            "person_unlikely",
            f"By this {reference.kind} the child would have the proportions of somebody {size}."
            f" Please check the {reference.kind}’s size, and that a child stands there, no picture or"
            " doll.",
        ),
    )


def _misfit(seen: SeenPerson, reference: Reference) -> tuple[float, float]:
    """How much likelier another factor of everything is, and which.

    A length alone shows no tilt of the camera, which changes proportions: nothing is said of it.
    """
    if reference.kind == "length":
        return 0.0, 1.0
    by_factor = {factor: person_log_likelihood(seen.scaled(factor), Child()) for factor in _FACTORS}
    best = max(by_factor, key=lambda factor: by_factor[factor])
    return by_factor[best] - person_log_likelihood(seen, Child()), best


def _refused(message: str, *, code: NoticeCode = "reference_scale") -> Refusal:
    return Refusal.because(code, message, _REMEDY)
