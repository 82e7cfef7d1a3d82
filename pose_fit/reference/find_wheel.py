"""A bicycle wheel standing on the floor beside the child: points on its tyre's outer edge."""

from collections.abc import Iterator
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo import Photo
from pose_fit.refusal import Notice, Refusal

__all__ = ["find_rim_points"]

#: Hip to ankle of the smallest and tallest rider beside a wheel of the stated diameter.
LEG_RANGE_MM: Final = (200.0, 950.0)
#: A wheel stands on the floor: its lowest point lies this near the child's soles, in legs.
FLOOR_SLACK_LEGS: Final = 0.22
#: Share of the rim on which an edge must be found.
MIN_RIM_SEEN: Final = 0.55
RAYS: Final = 180
POINTS: Final = 36
_REMEDY: Final = (
    "Stand the wheel upright on the floor beside the child, flat side to the camera and whole"
    " in the picture, or give five or more points on the tyre’s outer edge."
)


def find_rim_points(
    photo: Photo, body: Body, *, diameter_mm: float
) -> NDArray[np.float64] | Refusal:
    """(N, 2) points on the tyre's outer edge in upright pixels, or a refusal."""
    grey = photo.grey
    leg_px = body.leg_px / photo.working_scale
    ankles_px = photo.working_px(body.ankles_px)
    radii_px = (
        diameter_mm / 2 * leg_px / LEG_RANGE_MM[1],
        diameter_mm / 2 * leg_px / LEG_RANGE_MM[0],
    )
    best_points: NDArray[np.float64] | None = None
    best_score = MIN_RIM_SEEN
    for centre_px, radius_px in _circles(grey, radii_px):
        if abs(centre_px[1] + radius_px - ankles_px[1]) > FLOOR_SLACK_LEGS * leg_px:
            continue
        fitted = _fit_rim(grey, centre_px, radius_px)
        if fitted is None:
            continue
        points_px, seen = fitted
        low_px = points_px[:, 1].max()
        if abs(low_px - ankles_px[1]) > FLOOR_SLACK_LEGS * leg_px:
            continue
        if seen > best_score:
            best_points, best_score = points_px, seen
    if best_points is None:
        return Refusal(
            (Notice("reference_missing", "No whole wheel was found standing beside the child."),),
            (_REMEDY,),
        )
    return photo.upright_px(best_points)


def _circles(
    grey: NDArray[np.uint8], radii_px: tuple[float, float]
) -> Iterator[tuple[NDArray[np.float64], float]]:
    """Rough circles, centre and radius in working pixels, likeliest first."""
    # The search is coarse; the edge is then found at the working resolution.
    shrink = min(1.0, 120.0 / radii_px[1])
    small = cv2.resize(
        cv2.GaussianBlur(grey, (0, 0), 1.0),
        None,
        fx=shrink,
        fy=shrink,
        interpolation=cv2.INTER_AREA,
    )
    found = cv2.HoughCircles(
        small,
        cv2.HOUGH_GRADIENT_ALT,
        dp=1.5,
        minDist=4,
        param1=120,
        param2=0.6,
        minRadius=max(8, int(radii_px[0] * shrink)),
        maxRadius=int(radii_px[1] * shrink) + 1,
    )
    if found is None:
        return
    for x_px, y_px, radius_px in found.reshape(-1, found.shape[-1])[:40, :3]:
        yield (np.array([x_px, y_px]) + 0.5) / shrink - 0.5, float(radius_px) / shrink


def _fit_rim(
    grey: NDArray[np.uint8], centre_px: NDArray[np.float64], radius_px: float
) -> tuple[NDArray[np.float64], float] | None:
    """Points of an ellipse through the tyre's outer edge, and the share of it that was seen."""
    axes_px, turn_rad = np.array([radius_px, radius_px]), 0.0
    angles = np.linspace(0, 2 * np.pi, RAYS, endpoint=False)
    for reach in (0.35, 0.12, 0.08):
        steps = np.linspace(1 - reach, 1 + reach, 121)
        ring = _ellipse(centre_px, axes_px, turn_rad, angles)
        cuts = centre_px + (ring - centre_px)[:, None, :] * steps[None, :, None]
        inside_picture = (cuts > 1).all(axis=(1, 2)) & (cuts < np.array(grey.shape[::-1]) - 2).all(
            axis=(1, 2)
        )
        shades = cv2.remap(
            grey,
            cuts[..., 0].astype(np.float32),
            cuts[..., 1].astype(np.float32),
            cv2.INTER_LINEAR,
        ).astype(float)
        shades = cv2.GaussianBlur(shades, (0, 0), sigmaX=2.0, sigmaY=0.1)
        edge = _outer_edge(np.asarray(shades, np.float64))
        keep = (edge >= 0) & inside_picture
        if keep.sum() < MIN_RIM_SEEN * RAYS * 0.7:
            return None
        points = cuts[np.arange(RAYS), np.clip(np.round(edge).astype(int), 0, 120)]
        for _ in range(4):
            if keep.sum() < 12:
                return None
            (x_px, y_px), diameters_px, turn_deg = cv2.fitEllipseAMS(
                points[keep].astype(np.float32)
            )
            centre_px = np.array([x_px, y_px])
            axes_px, turn_rad = np.array(diameters_px) / 2, float(np.deg2rad(turn_deg))
            if not np.isfinite([*centre_px, *axes_px]).all() or axes_px.min() < 0.6 * axes_px.max():
                return None
            off = np.abs(_off_ellipse(points, centre_px, axes_px, turn_rad))
            keep = (edge >= 0) & inside_picture & (off < 0.015 * axes_px.mean() + 0.5)
    seen = float(keep.mean())
    rim = _ellipse(centre_px, axes_px, turn_rad, np.linspace(0, 2 * np.pi, POINTS, endpoint=False))
    return rim, seen


def _outer_edge(shades: NDArray[np.float64]) -> NDArray[np.float64]:
    """For each cut from inside to outside the step of the outermost dark-to-bright edge, or -1."""
    rise = np.gradient(shades, axis=1)
    strongest = np.percentile(rise.max(axis=1), 70)
    strong = rise > 0.35 * strongest
    peak = np.full(len(rise), -1.0)
    for row, (cut, high) in enumerate(zip(rise, strong, strict=True)):
        places = np.flatnonzero(high)
        if places.size:
            last = places[-1]
            first = last
            while first > 0 and high[first - 1]:
                first -= 1
            run = np.arange(first, last + 1)
            peak[row] = float((run * cut[run]).sum() / cut[run].sum())
    return peak


def _ellipse(
    centre_px: NDArray[np.float64],
    axes_px: NDArray[np.float64],
    turn_rad: float,
    angles: NDArray[np.float64],
) -> NDArray[np.float64]:
    flat = np.column_stack([axes_px[0] * np.cos(angles), axes_px[1] * np.sin(angles)])
    cos, sin = np.cos(turn_rad), np.sin(turn_rad)
    ring: NDArray[np.float64] = centre_px + flat @ np.array([[cos, sin], [-sin, cos]])
    return ring


def _off_ellipse(
    points_px: NDArray[np.float64],
    centre_px: NDArray[np.float64],
    axes_px: NDArray[np.float64],
    turn_rad: float,
) -> NDArray[np.float64]:
    """Distance from the ellipse along the ray from its centre, pixels."""
    cos, sin = np.cos(turn_rad), np.sin(turn_rad)
    flat = (points_px - centre_px) @ np.array([[cos, -sin], [sin, cos]])
    stretch = np.hypot(*(flat / axes_px).T)
    off: NDArray[np.float64] = np.hypot(*flat.T) * (1 - 1 / np.maximum(stretch, 1e-9))
    return off
