"""Points that were clicked on something else than the object that was said.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.look_alikes.drawing import sheet_points_px
from calibration.doubtful.look_alikes.look_alike import (
    Asks,
    LookAlike,
    as_it_is,
    beside_feet,
    corners_said,
)
from calibration.observe import wheel_request
from pose_fit.body.body import Body, Landmark
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

__all__ = ["POINTS"]


def _on_the_thighs(_: Photo, body: Body) -> ReferenceRequest:
    """A sheet's corners at hips and knees."""
    marks: tuple[Landmark, ...] = ("right_hip", "left_hip", "left_knee", "right_knee")
    return ReferenceRequest("a4", points_px=body.points_px(marks).tolist())


def _child_as_door(photo: Photo, body: Body) -> ReferenceRequest:
    """A door's corners around the child itself."""
    (x, y), leg = body.ankles_px, body.leg_px
    top = max(float(body.point_px("nose")[1]) - 0.25 * leg, 4.0)
    bottom = min(float(y) + 0.1 * leg, photo.height_px - 5.0)
    corners = np.array([[x - 0.4 * leg, top], [x + 0.4 * leg, top]])
    corners = np.concatenate([corners, [[x + 0.4 * leg, bottom], [x - 0.4 * leg, bottom]]])
    return ReferenceRequest("door", size_mm=2032.0, points_px=corners.tolist())


def _half_picture(photo: Photo, _: Body) -> ReferenceRequest:
    """A door's corners on the picture's left half, three of its sides the border."""
    right, bottom = photo.width_px / 2, photo.height_px - 2.0
    corners = np.array([[1, 1], [right, 1], [right, bottom], [1, bottom]], float)
    return ReferenceRequest("door", size_mm=2032.0, points_px=corners.tolist())


def _corners_of_picture(photo: Photo, _: Body) -> ReferenceRequest:
    right, bottom = photo.width_px - 3, photo.height_px - 3
    return _door(np.array([[2, 2], [right, 2], [right, bottom], [2, bottom]], float))


def _on_the_body(_: Photo, body: Body) -> ReferenceRequest:
    """A letter's corners at shoulders and hips."""
    marks: tuple[Landmark, ...] = ("right_shoulder", "left_shoulder", "left_hip", "right_hip")
    return ReferenceRequest("letter", points_px=body.points_px(marks).tolist())


def _lying_door(photo: Photo, body: Body) -> ReferenceRequest:
    """A door's corners on the floor before the child."""
    (x, y), leg = body.ankles_px, body.leg_px
    corners = np.array([[-0.5, 0.1], [0.5, 0.1], [0.7, 0.45], [-0.7, 0.45]]) * leg + (x, y)
    return _door(np.clip(corners, 3, [photo.width_px - 4, photo.height_px - 4]))


def _shadow_door(photo: Photo, body: Body) -> ReferenceRequest:
    """A door's corners around a patch of wall half as high as the child."""
    (x, y), leg = body.hips_px, body.leg_px
    corners = np.array([[-1.1, -0.4], [-0.6, -0.4], [-0.6, 0.5], [-1.1, 0.5]]) * leg + (x, y)
    return _door(np.clip(corners, 3, [photo.width_px - 4, photo.height_px - 4]))


def _door(corners_px: NDArray[np.float64]) -> ReferenceRequest:
    return ReferenceRequest("door", size_mm=2032.0, points_px=corners_px.tolist())


def _loose_door(part: float, slant: float = 0.0) -> Asks:
    def asked(photo: Photo, body: Body) -> ReferenceRequest:
        corners = _around(body, part)
        corners[:2, 0] += slant * body.leg_px
        inside = np.clip(corners, 8.0, [photo.width_px - 9.0, photo.height_px - 9.0])
        return ReferenceRequest("door", size_mm=2032.0, points_px=inside.tolist())

    return asked


def _around(child: Body, part: float) -> NDArray[np.float64]:
    """(4, 2) corners round the child, this much wider and taller than it."""
    (x, y), leg = child.ankles_px, child.leg_px
    crown, sole = float(child.point_px("nose")[1]) - 0.30 * leg, float(y) + 0.12 * leg
    more = part * (sole - crown)
    half = 0.45 * leg * (1 + 2 * part)
    return np.array(
        [
            [x - half, crown - more],
            [x + half, crown - more],
            [x + half, sole + more],
            [x - half, sole + more],
        ]
    )


def _shirt_as_door(_: Photo, body: Body) -> ReferenceRequest:
    marks: tuple[Landmark, ...] = (
        "right_shoulder",
        "left_shoulder",
        "left_ankle",
        "right_ankle",
    )
    return ReferenceRequest("door", size_mm=1981.0, points_px=body.points_px(marks).tolist())


def _head_as_wheel(_: Photo, body: Body) -> ReferenceRequest:
    """A rim's points round the head."""
    middle = body.point_px("nose") - [0.0, 0.05 * body.leg_px]
    angles = np.linspace(0, 2 * np.pi, 8, endpoint=False)
    rim = middle + 0.22 * body.leg_px * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return wheel_request("47-203", rim)


def _child_as_length(_: Photo, body: Body) -> ReferenceRequest:
    """A stick's ends at crown and sole, said to be beside the child and 1 m long."""
    (x, y), leg = body.ankles_px, body.leg_px
    top = float(body.point_px("nose")[1]) - 0.28 * leg
    ends = np.array([[x, top], [x, y + 0.1 * leg]])
    return ReferenceRequest("length", size_mm=1000.0, placement="wall", points_px=ends.tolist())


def _floor_tile(photo: Photo, body: Body) -> ReferenceRequest:
    """A sheet's corners on the floor before the feet."""
    (x, y), leg = body.ankles_px, body.leg_px
    corners = np.array([[0.35, 0.10], [0.70, 0.10], [0.78, 0.24], [0.38, 0.24]]) * leg + (x, y)
    inside = np.clip(corners, 5.0, [photo.width_px - 6.0, photo.height_px - 6.0])
    return ReferenceRequest("letter", points_px=inside.tolist())


def _of_a_larger_copy(_photo: Photo, _: Body) -> ReferenceRequest:
    """The sheet's corners as they were clicked before the picture was made smaller."""
    points = 4 / 3 * sheet_points_px("letter_1")
    return ReferenceRequest("letter", points_px=points.tolist())


def _length(place: tuple[float, float, float], size_mm: float) -> Asks:
    """Two ends over each other beside the child where nothing is."""

    def asked(_: Photo, body: Body) -> ReferenceRequest:
        aside, top, bottom = place
        ends = [beside_feet(body, aside, top), beside_feet(body, aside, bottom)]
        return ReferenceRequest("length", size_mm=size_mm, placement="wall", points_px=tuple(ends))

    return asked


POINTS: Final[tuple[LookAlike, ...]] = (
    LookAlike("a4 on the thighs", "flat_3", as_it_is, request=_on_the_thighs),
    LookAlike("door around the child", "flat_6", as_it_is, request=_child_as_door),
    LookAlike("door of half the picture", "flat_8", as_it_is, request=_half_picture),
    LookAlike("corners of the picture", "flat_2", as_it_is, request=_corners_of_picture),
    LookAlike("letter on the trunk", "flat_4", as_it_is, request=_on_the_body),
    LookAlike("door on the floor", "flat_5", as_it_is, request=_lying_door),
    LookAlike("door of bare wall", "flat_7", as_it_is, request=_shadow_door),
    LookAlike(
        "door loosely around",
        "flat_3",
        as_it_is,
        request=_loose_door(0.07),
        score_set="first trial",
    ),
    LookAlike(
        "door more loosely", "flat_5", as_it_is, request=_loose_door(0.16), score_set="first trial"
    ),
    LookAlike(
        "slanted door around",
        "flat_1",
        as_it_is,
        request=_loose_door(0.10, 0.15),
        score_set="first trial",
    ),
    LookAlike(
        "shoulders to ankles as door",
        "flat_4",
        as_it_is,
        request=_shirt_as_door,
        score_set="first trial",
    ),
    LookAlike("head as wheel", "flat_7", as_it_is, request=_head_as_wheel, score_set="first trial"),
    LookAlike(
        "child as a stick", "flat_6", as_it_is, request=_child_as_length, score_set="first trial"
    ),
    LookAlike(
        "floor tile as letter", "flat_8", as_it_is, request=_floor_tile, score_set="first trial"
    ),
    LookAlike(
        "points of a larger copy of the picture",
        "letter_1",
        as_it_is,
        request=_of_a_larger_copy,
        score_set="second trial",
        may_say="no number",
    ),
    LookAlike(
        "bare wall as letter",
        "flat_3",
        as_it_is,
        request=corners_said((-0.9, -0.6, 1.3, 0.9), "letter"),
    ),
    LookAlike(
        "part of the wall as a4",
        "flat_7",
        as_it_is,
        request=corners_said((0.5, 0.9, 1.9, 1.35), "a4"),
    ),
    LookAlike("nothing as a length", "flat_4", as_it_is, request=_length((0.6, 1.5, 0.3), 500.0)),
    LookAlike(
        "nothing as a length 2", "flat_8", as_it_is, request=_length((-0.6, 1.0, 0.2), 1000.0)
    ),
)
