"""Who is measured: the one person in the picture, or the one that was pointed at.

Nobody is chosen silently. Another person who stands there as large as the first could be
the child that is meant, so that the picture is refused until somebody points. Smaller
people, in the background or on a poster, are told of.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body, Bystander, PoseModel
from pose_fit.body.cover import covered
from pose_fit.checks.picture_quality import quality_of_all
from pose_fit.errors import InputError
from pose_fit.photo.photo import Photo, Place
from pose_fit.refusal import Notice, Refusal

__all__ = ["Person", "find_person"]

#: Somebody whose legs are at least this long in the picture, in parts of the first one's, and
#: whose feet are at most this far above the first one's, in legs, could be meant too. Children
#: of 3 and 12 years side by side differ by a factor of 2.
RIVAL_LEGS: Final = 0.5
RIVAL_FEET: Final = 0.5
#: The point must be this near the person it chooses, in legs.
NEAR_ENOUGH: Final = 0.6
#: Two people whose hips are nearer than this, in legs, hide each other's legs.
TOO_NEAR: Final = 0.35
_QUARTERS: Final = (1, 3, 2)
_TURN: Final = ("", "a quarter turn to the left", "upside down", "a quarter turn to the right")
#: The legs of a child in an upright picture hang down to within this.
_UPRIGHT_RAD: Final = float(np.radians(50.0))

_ALONE: Final = "Take the picture with one child alone."
_WHOLE_CHILD: Final = (
    "Take the whole child from head to feet, in good light, facing the camera and alone."
)


@dataclass(frozen=True, slots=True)
class Person:
    """The person to be measured, and what is to be told of the choice."""

    body: Body
    notices: tuple[Notice, ...]


def find_person(
    photo: Photo, pose: PoseModel, *, person_px: Place | None = None
) -> Person | Refusal:
    """The person in the picture, or why there is none to be measured.

    Parameters
    ----------
    person_px
        (x, y) on or near the person meant, upright pixels; None where nobody pointed.

    Raises
    ------
    InputError
        The point is outside the picture.
    """
    point_px = None if person_px is None else _point(photo, person_px)
    body = pose.find(photo)
    if body is None:
        return _nobody(photo, pose)
    quarters = _quarters_turned(body)
    if quarters:
        return _turned(quarters)
    if point_px is None:
        return _alone(photo, body)
    return _pointed_at(photo, body, pose, point_px)


def _point(photo: Photo, person_px: Place) -> NDArray[np.float64]:
    x_px, y_px = person_px
    if not (0 <= x_px <= photo.width_px and 0 <= y_px <= photo.height_px):
        raise InputError(
            f"person: wanted one point inside the upright picture of {photo.width_px} x"
            f" {photo.height_px} pixels, found {x_px:g},{y_px:g}"
        )
    return np.array([x_px, y_px])


def _nobody(photo: Photo, pose: PoseModel) -> Refusal:
    for quarters in _QUARTERS:
        body = pose.find(_rotated(photo, quarters))
        if body is not None and _quarters_turned(body) == 0:
            return _turned(quarters)
    nobody = Refusal.because("nobody", "No person was found in the picture.", _WHOLE_CHILD)
    faults = quality_of_all(photo).refusal
    if faults is None:
        return nobody
    return Refusal((*faults.reasons, *nobody.reasons), (*faults.remedies, *nobody.remedies))


def _rotated(photo: Photo, quarters: int) -> Photo:
    """The picture turned by quarters to the left."""
    width_px, height_px = photo.width_px, photo.height_px
    if quarters % 2:
        width_px, height_px = height_px, width_px
    pixels = np.ascontiguousarray(np.rot90(photo.pixels, quarters))
    return replace(photo, pixels=pixels, width_px=width_px, height_px=height_px)


def _quarters_turned(body: Body) -> int:
    """Quarters by which the picture has to be turned to the left for the body to stand."""
    # The trunk hangs like the legs do, but also where the child sits.
    shoulders_px = body.points_px(("left_shoulder", "right_shoulder")).mean(axis=0)
    for down in (body.ankles_px - body.hips_px, body.hips_px - shoulders_px):
        angle_rad = float(np.arctan2(down[0], down[1]))
        if abs(angle_rad) < _UPRIGHT_RAD:
            return 0
    return round(-angle_rad / (np.pi / 2)) % 4


def _turned(quarters: int) -> Refusal:
    return Refusal.because(
        "picture_rotated",
        "The child does not stand upright in the picture: the picture seems to be"
        f" {_TURN[(4 - quarters) % 4]}.",
        "Turn the picture so that the child stands on its feet, save it, and send it again.",
    )


def _alone(photo: Photo, body: Body) -> Person | Refusal:
    rivals = [other for other in body.bystanders if _could_be_meant(other, body)]
    if rivals:
        count = len(rivals) + 1
        return Refusal.because(
            "several_people",
            f"{_NUMBERS.get(count, str(count))} people are in the picture, at"
            f" {_places(photo, body, *rivals)}: which one is meant cannot be told.",
            _ALONE,
            asks=("person",),
        )
    if not body.bystanders:
        return Person(body, ())
    return Person(
        body,
        (
            Notice(
                "others_in_picture",
                "Somebody else is in the picture, smaller or higher up, at"
                f" {_places(photo, *body.bystanders)}; the person at {_place(photo, body)} was"
                " measured.",
            ),
        ),
    )


def _pointed_at(
    photo: Photo, body: Body, pose: PoseModel, person_px: NDArray[np.float64]
) -> Person | Refusal:
    people: list[Body | Bystander] = [body, *body.bystanders]
    distances = [_distance(person, person_px) for person in people]
    nearest = people[int(np.argmin(distances))]
    if min(distances) > NEAR_ENOUGH:
        return Refusal.because(
            "nobody_there",
            f"Nobody is at the point {person_px[0]:.0f},{person_px[1]:.0f}; people are at"
            f" {_places(photo, *people)}.",
            "Point at the middle of the child to be measured.",
            asks=("person",),
        )
    rest = [person for person in people if person is not nearest]
    if any(_apart(person, nearest) < TOO_NEAR for person in rest):
        return Refusal.because(
            "people_overlap", "Another person stands before or behind the child’s legs.", _ALONE
        )
    if not rest:
        return Person(body, ())
    chosen: Body | None = body
    if isinstance(nearest, Bystander):
        chosen = _without(photo, body, nearest, pose)
        if chosen is None:
            return Refusal.because(
                "nobody_there", "The person pointed at is not seen well enough.", _ALONE
            )
    told = Notice(
        "person_chosen",
        f"{len(people)} people are in the picture; the one at {_place(photo, nearest)} was"
        " measured, as pointed at.",
    )
    return Person(chosen or body, (told,))


def _without(photo: Photo, body: Body, meant: Bystander, pose: PoseModel) -> Body | None:
    """The person meant, looked at with all others covered."""
    rest = [body.passes_px.mean(axis=0)]
    rest += [other.points_px for other in body.bystanders if other is not meant]
    pixels = covered(photo.pixels, [photo.working_px(points_px) for points_px in rest])
    found = pose.find(replace(photo, pixels=pixels))
    is_meant = found is not None and _apart(found, meant) < TOO_NEAR
    return found if is_meant else None


_NUMBERS: Final = {2: "Two", 3: "Three", 4: "Four"}


def _could_be_meant(other: Bystander, body: Body) -> bool:
    hangs_px = float(body.ankles_px[1] - other.ankles_px[1])
    return other.leg_px > RIVAL_LEGS * body.leg_px and hangs_px < RIVAL_FEET * body.leg_px


def _distance(person: Body | Bystander, point_px: NDArray[np.float64]) -> float:
    """From the point to the line from the head's end of the trunk to the ankles, in legs."""
    along = person.ankles_px - person.hips_px
    top, bottom = person.hips_px - 1.1 * along, person.ankles_px
    part = float(
        np.clip((point_px - top) @ (bottom - top) / ((bottom - top) @ (bottom - top)), 0, 1)
    )
    return float(np.hypot(*(point_px - top - part * (bottom - top)))) / person.leg_px


def _apart(one: Body | Bystander, other: Body | Bystander) -> float:
    """Distance between the hips, in legs of the larger."""
    return float(np.hypot(*(one.hips_px - other.hips_px))) / max(one.leg_px, other.leg_px)


def _place(photo: Photo, person: Body | Bystander) -> str:
    part = float(person.hips_px[0]) / photo.width_px
    side = "left" if part < 0.4 else "right" if part > 0.6 else "middle"
    return f"the {side} ({person.hips_px[0]:.0f},{person.hips_px[1]:.0f})"


def _places(photo: Photo, *people: Body | Bystander) -> str:
    return " and ".join(_place(photo, person) for person in people)
