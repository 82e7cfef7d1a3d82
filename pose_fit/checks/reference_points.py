"""Do the points lie where such an object can be, and stand camera and child where they can?"""

from typing import Final

import cv2
import numpy as np

from pose_fit.body.body import Body
from pose_fit.checks.door_points import check_door
from pose_fit.checks.outline_seen import is_empty_inside, rim_seen, sides_seen
from pose_fit.checks.reference_seen import MIN_REFERENCE_PX
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.plane import PlaneScale, camera_height_mm
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.reference.reference import CircleReference, PointReference, Reference
from pose_fit.refusal import Refusal

__all__ = ["check_places", "check_points"]

#: A point this near to the picture's edge, in parts of its diagonal, is where the picture ends.
AT_BORDER: Final = 0.005
#: A point this far inside the person's outline, in legs, lies on the person: the mask is coarse.
ON_PERSON: Final = 0.05
#: So many of a sheet's four sides show an edge.
LEAST_PAPER_EDGES: Final = 3
#: A wheel's lowest point lies this near the line of the soles, in legs, and nearer to the side by this
#: part of its distance, since cameras roll; on this share of the rays something ends at its rim.
WHEEL_OFF_FLOOR: Final = 0.35
WHEEL_FLOOR_SLOPE: Final = 0.3
LEAST_RIM: Final = 0.6
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
    match reference:
        case PointReference(kind="door"):
            return check_door(photo, body, reference)
        case PointReference(kind="letter" | "a4"):
            return _check_paper(photo, reference)
        case CircleReference():
            return _check_wheel(photo, body, reference)
    return None


def _check_paper(photo: Photo, paper: PointReference) -> Refusal | None:
    """A refusal where the corners of a sheet lie where no sheet ends, else None."""
    # On a paper too small to be measured by, no edges are looked for.
    is_small = float(np.ptp(paper.image_px, axis=0).max()) < MIN_REFERENCE_PX
    if is_small or sum(sides_seen(photo, paper)) >= LEAST_PAPER_EDGES:
        return None
    return Refusal.because(
        "reference_mismatch",
        f"The picture shows no straight edges along the sides of this {paper.kind} sheet.",
        "Mark the four corners of the sheet itself, and hang it on a wall of another colour.",
    )


def _check_wheel(photo: Photo, body: Body, wheel: CircleReference) -> Refusal | None:
    """A refusal where nothing round stands on the child's floor at these points, else None."""
    soles_px = body.points_px(("left_heel", "right_heel", "left_toe", "right_toe")).mean(axis=0)
    lowest_px = wheel.image_px[:, 1].max()
    aside_px = abs(float(wheel.image_px[:, 0].mean() - soles_px[0]))
    off_px = abs(float(lowest_px - soles_px[1]))
    if off_px > WHEEL_OFF_FLOOR * body.leg_px + WHEEL_FLOOR_SLOPE * aside_px:
        return _no_wheel("This wheel does not stand on the floor on which the child stands")
    if rim_seen(photo, wheel) < LEAST_RIM:
        return _no_wheel("The picture shows no round edge at these points")
    if is_empty_inside(photo, wheel):
        return _no_wheel("Neither spokes nor a hub are seen in this wheel")
    return None


def _no_wheel(found: str) -> Refusal:
    return Refusal.because(
        "reference_mismatch",
        f"{found}: it is another object, or the points lie elsewhere.",
        "Stand the wheel upright on the floor beside the child, and mark its tyre’s outer edge.",
    )


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
