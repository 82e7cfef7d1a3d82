"""Is there an edge where somebody clicked one? Bare wall has none."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.photo import Photo
from pose_fit.reference.edges import edge_between, linear_light
from pose_fit.reference.reference import CircleReference, PointReference

__all__ = ["rim_seen", "sides_seen"]

#: A side shows a straight edge this near to where it was clicked, in parts of the object's height and
#: in standard uncertainties of a click, over at least this part of the side and of this contrast in
#: linear light.
EDGE_REACH: Final = 0.012
EDGE_REACH_CLICKS: Final = 3.0
EDGE_SEEN: Final = 0.88
EDGE_CONTRAST: Final = 0.005
#: Where the picture is burnt out along a side, it shows no edge and no lack of one.
BURNT_OUT: Final = 250
#: So many rays are looked along from a wheel's centre, and this far in and out of its rim, in radii.
_RAYS: Final = 72
_RIM_REACH: Final = 0.06
#: What is a step on a ray, in the square root of light from 0 to 1.
_RIM_STEP: Final = 0.04


def sides_seen(photo: Photo, quad: PointReference) -> tuple[bool, ...]:
    """Whether the top, right, bottom and left side are straight edges, dark to bright or back.

    A side along which the picture is burnt out counts as seen.
    """
    light = linear_light(photo.grey)
    corners_px = photo.working_px(quad.image_px)
    height_px = float(np.ptp(corners_px[:, 1]))
    clicks_px = EDGE_REACH_CLICKS * quad.point_sd_px / photo.working_scale
    reach_px = max(EDGE_REACH * height_px, clicks_px)

    def is_burnt_out(start: int, end: int) -> bool:
        along = np.linspace(corners_px[start], corners_px[end], 50)
        columns, rows = np.clip(along.astype(int), 0, np.array(photo.grey.shape[::-1]) - 1).T
        return bool(np.median(photo.grey[rows, columns]) >= BURNT_OUT)

    def is_seen(start: int, end: int) -> bool:
        if is_burnt_out(start, end):
            return True
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

    return tuple(is_seen(side, (side + 1) % 4) for side in range(4))


def rim_seen(photo: Photo, wheel: CircleReference) -> float:
    """Share of the rays on which something ends at the rim."""
    points_px = photo.working_px(wheel.image_px)
    middle, diameters, turn_deg = cv2.fitEllipseDirect(points_px.astype(np.float32))
    angles = np.linspace(0, 2 * np.pi, _RAYS, endpoint=False)
    flat = np.array(diameters) / 2 * np.column_stack([np.cos(angles), np.sin(angles)])
    cos, sin = np.cos(np.deg2rad(turn_deg)), np.sin(np.deg2rad(turn_deg))
    ways_px = flat @ np.array([[cos, sin], [-sin, cos]])
    radius_px = max(float(np.mean(diameters)) / 2, 1.0)
    clicks = EDGE_REACH_CLICKS * wheel.point_sd_px / photo.working_scale / radius_px
    reach = max(_RIM_REACH, clicks)
    parts = np.linspace(1 - reach, 1 + reach, 41)
    cuts = (np.array(middle) + ways_px[:, None] * parts[None, :, None]).astype(np.float32)
    light = np.sqrt(linear_light(photo.grey))
    shades = cv2.remap(light, cuts[..., 0], cuts[..., 1], cv2.INTER_LINEAR)
    soft: NDArray[np.float32] = np.asarray(
        cv2.GaussianBlur(shades, (0, 0), sigmaX=1.0, sigmaY=0.8), np.float32
    )
    return float((np.ptp(soft, axis=1) > _RIM_STEP).mean())
