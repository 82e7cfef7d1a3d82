"""Do the points lie where such an object can be, and stand camera and child where they can?"""

from typing import Final

import cv2
import numpy as np

from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale, camera_height_mm
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.reference.edges import edge_between, linear_light
from pose_fit.reference.reference import PointReference, Reference
from pose_fit.refusal import Refusal

__all__ = ["check_places", "check_points"]

#: A point this near to the picture's edge, in parts of its diagonal, is where the picture ends.
AT_BORDER: Final = 0.005
#: A point this far inside the person's outline, in legs, lies on the person: the mask is coarse.
ON_PERSON: Final = 0.05
#: The crown is sought this far to either side of the nose, in legs: narrower than a head.
HEAD_REACH: Final = 0.1
#: A door's leaf shows at its left, right and top side a straight edge this near to where it was
#: clicked, in parts of its height and in standard uncertainties of a click, over at least this part
#: of the side and of this contrast in linear light; two sides of three do in all of 47 rendered doors.
EDGE_REACH: Final = 0.012
EDGE_REACH_CLICKS: Final = 3.0
EDGE_SEEN: Final = 0.88
EDGE_CONTRAST: Final = 0.005
LEAST_EDGES: Final = 2
#: The camera's height above the child's ankles, and its distance from the object: from a phone
#: on the floor to a raised arm, from arm's length to the end of a hall.
CAMERA_RANGE_MM: Final = (-100.0, 2300.0)
DISTANCE_RANGE_MM: Final = (700.0, 12000.0)


def check_points(photo: Photo, body: Body, reference: Reference) -> Refusal | None:
    """A refusal where points lie on the picture's border, or on the child for the wall, else None."""
    points_px = reference.image_px
    kind = reference.kind
    size_px = np.array([photo.width_px, photo.height_px])
    edge_px = AT_BORDER * photo.diagonal_px
    if ((points_px < edge_px) | (points_px > size_px - 1 - edge_px)).any():
        return Refusal.because(
            "points_on_border",
            f"A point of the {kind} lies on the picture’s edge: the {kind} is cut off"
            " there, or it is the picture’s own corner.",
            f"Mark the {kind} itself, whole in the picture, or use another object.",
        )
    if reference.placement == "wall" and _are_on_person(photo, body, reference):
        return Refusal.because(
            "points_on_person",
            f"A point of the {kind} lies on the child, but the {kind} is said to be on the wall.",
            f"Mark the {kind} on the wall beside the child, with no part of it covered.",
        )
    if isinstance(reference, PointReference) and kind == "door":
        return _check_door(photo, body, reference)
    return None


def _check_door(photo: Photo, body: Body, door: PointReference) -> Refusal | None:
    """A refusal where the corners outline the child, closely or loosely, and no door, else None."""
    crown_mm = _crown_by_door_mm(photo, body, door)
    if crown_mm is not None and crown_mm > STATURE_RANGE_MM[1]:
        return _no_door(
            f"By these corners the child’s head would be {crown_mm / 1000:.2f} m above the"
            " door’s bottom edge, where no child’s is"
        )
    if not _surrounds(door, body):
        return None
    if _is_before_toes(door, body):
        return _no_door(
            "The bottom corners lie lower than the child’s toes, but a door behind the child meets the"
            " floor behind its feet"
        )
    if _edges_seen(photo, door) < LEAST_EDGES:
        return _no_door("The picture shows no straight edges along the sides of this door")
    return None


def _no_door(found: str) -> Refusal:
    return Refusal.because(
        "points_on_person",
        f"{found}: the corners may outline the child, not the door.",
        "Mark the four corners of the door itself: its top is far above the child, and its"
        " bottom corners stand on the floor.",
    )


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


def _edges_seen(photo: Photo, door: PointReference) -> int:
    """How many of the left, right and top side are straight edges, from dark to bright or back."""
    light = linear_light(photo.grey)
    corners_px = photo.working_px(door.image_px)
    height_px = float(np.ptp(corners_px[:, 1]))
    clicks_px = EDGE_REACH_CLICKS * door.point_sd_px / photo.working_scale
    reach_px = max(EDGE_REACH * height_px, clicks_px)

    def is_seen(start: int, end: int) -> bool:
        edges = (
            edge_between(
                shade,
                corners_px[start],
                corners_px[end],
                inside_px=corners_px.mean(axis=0),
                reach_px=reach_px,
            )
            for shade in (light, 1 - light)
        )
        return any(
            edge is not None and edge.seen >= EDGE_SEEN and abs(edge.contrast) >= EDGE_CONTRAST
            for edge in edges
        )

    return sum(is_seen(*side) for side in ((0, 1), (1, 2), (3, 0)))


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
    to_door = cv2.getPerspectiveTransform(
        photo.working_px(door.image_px).astype(np.float32), door.object_mm.astype(np.float32)
    )
    crown = cv2.perspectiveTransform(np.array([[[nose_px[0], rows[0]]]], np.float64), to_door)
    return float(door.object_mm[:, 1].max() - crown[0, 0, 1])


def _are_on_person(photo: Photo, body: Body, reference: Reference) -> bool:
    places = np.round(photo.working_px(reference.image_px)).astype(int)
    columns, rows = np.clip(places, 0, np.array(body.mask.shape[::-1]) - 1).T
    if not (body.mask[rows, columns] > 0.5).any():
        return False
    inside = np.pad((body.mask > 0.5).astype(np.uint8), 1)
    depths_px = cv2.distanceTransform(inside, cv2.DIST_L2, 3)[1:-1, 1:-1]
    return bool(depths_px[rows, columns].max() > ON_PERSON * body.leg_px / photo.working_scale)


def check_places(reference: Reference, plane: PlaneScale, stance: Stance) -> Refusal | None:
    """A refusal where the camera would be where none can be, else None."""
    kind = reference.kind
    height_mm, distance_mm = camera_height_mm(plane, stance), plane.distance_mm
    low_mm, high_mm = CAMERA_RANGE_MM
    if (
        low_mm <= height_mm <= high_mm
        and DISTANCE_RANGE_MM[0] <= distance_mm <= DISTANCE_RANGE_MM[1]
    ):
        return None
    return Refusal.because(
        "camera_nowhere",
        f"By this {kind} the camera would be {distance_mm / 1000:.1f} m away and"
        f" {height_mm / 1000:.1f} m above the child’s feet, where nobody holds one: it is"
        " another object, or its points lie elsewhere.",
        f"Check the {kind}’s size, and mark its corners or ends exactly.",
    )
