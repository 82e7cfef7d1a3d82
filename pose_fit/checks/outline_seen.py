"""Is there an edge where somebody clicked one? Bare wall has none."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.photo import Photo
from pose_fit.reference.edges import edge_between, linear_light
from pose_fit.reference.reference import CircleReference, PointReference

__all__ = ["is_empty_inside", "rim_seen", "sides_seen"]

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
_RAYS: Final = 120
_RIM_REACH: Final = 0.06
#: What is a step on a ray, in the square root of light from 0 to 1.
_RIM_STEP: Final = 0.04
#: Between hub and rim, in radii; light scatters along these circles by 0.027 and more in 24 rendered
#: wheels, and the hub differs from what lies round it.
_SPOKED: Final = (0.3, 0.45, 0.6)
_SPOKES: Final = 0.012
_HUB: Final = 0.03


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
    radius_px = float(np.ptp(photo.working_px(wheel.image_px), axis=0).mean()) / 2
    clicks = EDGE_REACH_CLICKS * wheel.point_sd_px / photo.working_scale / max(radius_px, 1.0)
    reach = max(_RIM_REACH, clicks)
    light = _along_rays(photo, wheel, np.linspace(1 - reach, 1 + reach, 41))
    soft = np.asarray(cv2.GaussianBlur(light, (0, 0), sigmaX=1.0, sigmaY=0.8), np.float64)
    return float((np.ptp(soft, axis=1) > _RIM_STEP).mean())


def is_empty_inside(photo: Photo, wheel: CircleReference) -> bool:
    """Whether neither spokes nor a hub are in it: a hoop, a ball or a plate."""
    light = _along_rays(photo, wheel, np.array([0.03, *_SPOKED]))
    hub, spoked = light[:, 0], light[:, 1:]
    round_px = np.concatenate([spoked, spoked, spoked])
    smooth = cv2.GaussianBlur(round_px, (0, 0), sigmaX=1e-6, sigmaY=4.0)[len(spoked) :]
    spokes = float((spoked - smooth[: len(spoked)]).std(axis=0).mean())
    return spokes < _SPOKES and abs(float(hub.mean() - np.median(spoked))) < _HUB


def _along_rays(
    photo: Photo, wheel: CircleReference, parts: NDArray[np.float64]
) -> NDArray[np.float32]:
    """(R, P) square root of light at parts of the radius on rays from the wheel's centre."""
    points_px = photo.working_px(wheel.image_px).astype(np.float32)
    middle, diameters, turn_deg = cv2.fitEllipseDirect(points_px)
    angles = np.linspace(0, 2 * np.pi, _RAYS, endpoint=False)
    flat = np.array(diameters) / 2 * np.column_stack([np.cos(angles), np.sin(angles)])
    cos, sin = np.cos(np.deg2rad(turn_deg)), np.sin(np.deg2rad(turn_deg))
    ways_px = flat @ np.array([[cos, sin], [-sin, cos]])
    cuts = (np.array(middle) + ways_px[:, None] * parts[None, :, None]).astype(np.float32)
    light = np.sqrt(linear_light(photo.grey))
    return np.asarray(cv2.remap(light, cuts[..., 0], cuts[..., 1], cv2.INTER_LINEAR), np.float32)
