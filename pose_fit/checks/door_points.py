"""Are four corners those of a door, or of the child, a window, a cupboard or nothing?"""

import math
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM
from pose_fit.body.body import Body
from pose_fit.checks.outline_seen import sides_seen
from pose_fit.notice_codes import NoticeCode
from pose_fit.photo.photo import Photo
from pose_fit.reference.reference import PointReference
from pose_fit.reference.seen_rectangle import seen_rectangles
from pose_fit.refusal import Refusal

__all__ = ["check_door"]

#: The crown is sought this far to either side of the nose, in legs: narrower than a head.
HEAD_REACH: Final = 0.1
#: Two sides of left, right and top show an edge in all of 47 rendered doors. Beside the child one is
#: enough: a white door in a white wall is a door.
LEAST_EDGES: Final = 2
LEAST_EDGES_BESIDE: Final = 1
#: The child's ankles below the door's bottom edge, in the door's own plane: -56 to 105 mm in 330
#: rendered pictures of children at the wall, more for a child that stands well before it.
ANKLES_BELOW_MM: Final = (-250.0, 600.0)
#: Width over height of a leaf: 610 to 915 mm on 1981 to 2134 mm, and what clicks make of it. Cupboards
#: and pairs of doors are wider.
SHAPE: Final = (0.24, 0.52)

_REMEDY: Final = (
    "Mark the four corners of the door itself: its top is far above the child, and its"
    " bottom corners stand on the floor."
)


def check_door(photo: Photo, body: Body, door: PointReference) -> Refusal | None:
    """A refusal where the corners outline something else than a door on the child's floor."""
    below_mm = float(-_above_bottom_mm(photo, door, body.ankles_px[None])[0])
    surrounds = _surrounds(door, body)
    if not surrounds and not ANKLES_BELOW_MM[0] <= below_mm <= ANKLES_BELOW_MM[1]:
        return _no_door(
            "The bottom corners are not on the floor on which the child stands: it may be a window or"
            " a cupboard",
            code="reference_mismatch",
        )
    crown_mm = _crown_by_door_mm(photo, body, door)
    if crown_mm is not None and crown_mm > STATURE_RANGE_MM[1]:
        return _no_door(
            f"By these corners the child’s head would be {crown_mm / 1000:.2f} m above the"
            " door’s bottom edge, where no child’s is"
        )
    if surrounds and _is_before_toes(door, body):
        return _no_door(
            "The bottom corners lie lower than the child’s toes, but a door behind the child meets the"
            " floor behind its feet"
        )
    top, right, _, left = sides_seen(photo, door)
    if top + right + left < (LEAST_EDGES if surrounds else LEAST_EDGES_BESIDE):
        return _no_door("The picture shows no straight edges along the sides of this door")
    if not _has_doors_shape(photo, door):
        return _no_door("It is wider or narrower than a door", code="reference_mismatch")
    return None


def _no_door(found: str, *, code: NoticeCode = "points_on_person") -> Refusal:
    may_be = ": the corners may outline the child, not the door" * (code == "points_on_person")
    return Refusal.because(code, f"{found}{may_be}.", _REMEDY)


def _has_doors_shape(photo: Photo, door: PointReference) -> bool:
    """Whether some focal length that the camera may have makes it as wide as doors are."""
    low, high = SHAPE
    shapes = [1 / max(one.aspect, 1e-6) for one in seen_rectangles(photo, door.image_px)]
    return min(shapes) < high and max(shapes) > low


def _surrounds(door: PointReference, body: Body) -> bool:
    """Whether head and hips of the child are within the corners."""
    corners_px = door.image_px.astype(np.float32)
    places = (body.point_px("nose"), body.hips_px)
    return all(
        cv2.pointPolygonTest(corners_px, (float(place[0]), float(place[1])), False) > 0
        for place in places
    )


def _is_before_toes(door: PointReference, body: Body) -> bool:
    """Whether the door's bottom edge runs below the tips of both feet in the picture.

    In 48 rendered pictures of a door behind a child it runs 0.07 to 0.38 of a leg above them.
    """
    right_px, left_px = door.image_px[2:]
    slope = (right_px[1] - left_px[1]) / (right_px[0] - left_px[0])
    toes_px = body.points_px(("left_toe", "right_toe"))
    bottom_px = left_px[1] + slope * (toes_px[:, 0] - left_px[0])
    return bool((bottom_px > toes_px[:, 1]).all())


def _crown_by_door_mm(photo: Photo, body: Body, door: PointReference) -> float | None:
    """The crown's height over the door's bottom edge, in the door's plane; None where none is seen.

    A door stands on the floor on which the child stands, so this is about the child's height; a
    little more where the child stands nearer to the camera.
    """
    nose_px = photo.working_px(body.point_px("nose"))
    reach_px = HEAD_REACH * body.leg_px / photo.working_scale
    left, right = max(round(nose_px[0] - reach_px), 0), round(nose_px[0] + reach_px) + 1
    rows = np.flatnonzero((body.mask[:, left:right] > 0.5).any(axis=1))
    if not rows.size:
        return None
    crown_px = photo.upright_px(np.array([[nose_px[0], rows[0]]], float))
    return float(_above_bottom_mm(photo, door, crown_px)[0])


def _above_bottom_mm(
    photo: Photo, door: PointReference, points_px: NDArray[np.float64]
) -> NDArray[np.float64]:
    """(N,) heights of points over the door's bottom edge, in its plane; infinite beyond its horizon."""
    to_door = cv2.getPerspectiveTransform(
        photo.working_px(door.image_px).astype(np.float32), door.object_mm.astype(np.float32)
    )
    middle_px = photo.working_px(door.image_px).mean(axis=0)
    to_door = to_door * np.sign(to_door[2] @ [*middle_px, 1.0])
    places = np.column_stack([photo.working_px(points_px), np.ones(len(points_px))])
    _, y, depth = to_door @ places.T
    bottom_mm = float(door.object_mm[:, 1].max())
    heights: NDArray[np.float64] = np.where(
        depth > 0, bottom_mm - y / np.where(depth > 0, depth, 1.0), -math.inf
    )
    return heights
