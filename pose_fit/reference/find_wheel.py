"""A bicycle wheel standing on the floor beside the child: points on its tyre's outer edge.

A tyre is a closed dark band of known thickness whose outer edge is an ellipse. Circles
found by Hough's transform say where to look; rays from there outwards pass the band, and
where it ends they give a point each; an ellipse is drawn through most of these points.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import maximum_filter1d, uniform_filter1d

from pose_fit.anthropometry.known_ranges import LEG_RANGE_MM
from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.edges import linear_light
from pose_fit.refusal import Refusal

__all__ = ["find_tyre_points"]

#: A wheel stands on the floor: its lowest point lies this near the line of the child's soles,
#: in legs, and nearer to the side by this part of its distance, since cameras roll.
FLOOR_SLACK_LEGS: Final = 0.3
FLOOR_SLOPE: Final = 0.3
#: Share of the outline on which an edge must be found.
MIN_OUTLINE_SEEN: Final = 0.5
#: With this share no better look at the same wheel is needed.
SURE_OUTLINE_SEEN: Final = 0.75
#: On this share of the rays something inside the tyre is brighter than the tyre.
MIN_OPEN: Final = 0.6
#: Axis ratio of a wheel seen too obliquely to tell its own scale.
MIN_AXIS_RATIO: Final = 0.6
#: What lies behind the tyre is brighter by this, in the square root of light from 0 to 1.
MIN_CONTRAST: Final = 0.03
#: The tyre is darker than this part of the way from darkest to brightest on the ray.
MAX_DARK: Final = 0.5
#: The first step outwards of this part of the ray's highest is the tyre's edge.
FIRST_PART: Final = 0.25
#: A point belongs to the ellipse within this part of the radius, or this many pixels.
INLIER_PART: Final = 0.008
INLIER_PX: Final = 0.5
RAYS: Final = 180
POINTS: Final = 36
#: The search for circles is coarse; the edge is then found at the working resolution.
SEARCH_RADIUS_PX: Final = 120.0
_REMEDY: Final = (
    "Stand the wheel upright on the floor beside the child, flat side to the camera and whole"
    " in the picture."
)


@dataclass(frozen=True, eq=False, slots=True)
class _Ellipse:
    """Centre and half axes in working pixels, and the turn of the first axis."""

    centre_px: NDArray[np.float64]
    axes_px: NDArray[np.float64]
    turn_rad: float

    @classmethod
    def through(cls, points_px: NDArray[np.float64]) -> "_Ellipse":
        """Least squares by Taubin's distance (Fitzgibbon and Fisher 1995)."""
        centre, diameters, turn_deg = cv2.fitEllipseAMS(points_px.astype(np.float32))
        return cls(np.array(centre), np.array(diameters) / 2, float(np.deg2rad(turn_deg)))

    @property
    def is_round(self) -> bool:
        """Whether it can be a wheel that is measured."""
        finite = np.isfinite([*self.centre_px, *self.axes_px]).all()
        return bool(finite and self.axes_px.min() > MIN_AXIS_RATIO * self.axes_px.max())

    def holds(self, point_px: NDArray[np.float64]) -> bool:
        """Whether a point lies inside."""
        return bool(self.off(point_px[None])[0] < 0)

    def ring(self, angles: NDArray[np.float64]) -> NDArray[np.float64]:
        """(N, 2) points at the angles."""
        flat = self.axes_px * np.column_stack([np.cos(angles), np.sin(angles)])
        cos, sin = np.cos(self.turn_rad), np.sin(self.turn_rad)
        points: NDArray[np.float64] = self.centre_px + flat @ np.array([[cos, sin], [-sin, cos]])
        return points

    @property
    def tolerance(self) -> float:
        """How far off a point may lie that belongs to it, as a part of the radius."""
        return max(INLIER_PART, INLIER_PX / float(self.axes_px.mean()))

    def off(self, points_px: NDArray[np.float64]) -> NDArray[np.float64]:
        """How far points lie outside along the ray from the centre, as parts of the radius."""
        cos, sin = np.cos(self.turn_rad), np.sin(self.turn_rad)
        flat = (points_px - self.centre_px) @ np.array([[cos, -sin], [sin, cos]])
        return np.asarray(np.hypot(*(flat / self.axes_px).T) - 1)


def find_tyre_points(
    photo: Photo, body: Body, *, diameter_mm: float, width_mm: float
) -> NDArray[np.float64] | Refusal:
    """(N, 2) points on the tyre's outer edge in upright pixels, or a refusal."""
    grey = photo.grey
    light = linear_light(grey)
    leg_px = body.leg_px / photo.working_scale
    soles_px = photo.working_px(body.points_px(("left_heel", "right_heel"))).mean(axis=0)
    low_px, high_px = (diameter_mm / 2 * leg_px / leg_mm for leg_mm in reversed(LEG_RANGE_MM))
    best: tuple[float, _Ellipse] | None = None
    for circle in _circles(grey, low_px, high_px):
        # Many circles belong to one wheel: within an outline that was seen well one is enough.
        if best is not None and best[0] > SURE_OUTLINE_SEEN and best[1].holds(circle.centre_px):
            continue
        fitted = _fit_outermost(light, circle, band=2 * width_mm / diameter_mm)
        if fitted is None or not low_px < fitted[1].axes_px.max() < high_px:
            continue
        seen, outline = fitted
        lowest_px = outline.ring(np.linspace(0, 2 * np.pi, 90))[:, 1].max()
        aside_px = abs(outline.centre_px[0] - soles_px[0])
        slack_px = FLOOR_SLACK_LEGS * leg_px + FLOOR_SLOPE * aside_px
        if abs(lowest_px - soles_px[1]) < slack_px and seen > (best or (MIN_OUTLINE_SEEN,))[0]:
            best = fitted
    if best is None:
        return Refusal.because(
            "reference_missing",
            "No whole wheel was found standing beside the child.",
            _REMEDY,
            asks=("points",),
        )
    return photo.upright_px(best[1].ring(np.linspace(0, 2 * np.pi, POINTS, endpoint=False)))


def _circles(grey: NDArray[np.uint8], low_px: float, high_px: float) -> Iterator[_Ellipse]:
    """Rough circles in working pixels, likeliest first: outer or inner edges of the tyre."""
    shrink = min(1.0, SEARCH_RADIUS_PX / high_px)
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
        minRadius=max(8, int(0.5 * low_px * shrink)),
        maxRadius=int(high_px * shrink) + 1,
    )
    if found is None:
        return
    for x_px, y_px, radius_px in found.reshape(-1, found.shape[-1])[:40, :3]:
        centre_px = (np.array([x_px, y_px], float) + 0.5) / shrink - 0.5
        yield _Ellipse(centre_px, np.full(2, float(radius_px) / shrink), 0.0)


def _fit_outermost(
    light: NDArray[np.float32], rough: _Ellipse, *, band: float
) -> tuple[float, _Ellipse] | None:
    """As `_fit_outline`, but where that is the tyre's or rim's inner edge, the outer one.

    Seen against a dark wall the open wheel inside the rim looks like a band too; a tyre's
    thickness outside that there is the true edge, and outside the true edge there is none.
    """
    fitted = _fit_outline(light, rough, band=band)
    if fitted is None:
        return None
    inner = fitted[1]
    # From the rim's inner edge it is the depth of the rim further, about the tyre's thickness.
    for thicknesses in (2.0, 1.5, 1.0):
        grown = _Ellipse(
            inner.centre_px, inner.axes_px / max(1 - thicknesses * band, 0.4), inner.turn_rad
        )
        outer = _fit_outline(light, grown, band=band, looks=((0.9, 1.12), (0.93, 1.1)))
        if outer is not None and outer[0] > MIN_OUTLINE_SEEN:
            return outer
    return fitted


#: How far from the first guess the outline is searched, coarse to fine, as parts of its radius.
_LOOKS: Final = ((0.75, 1.8), (0.85, 1.25), (0.93, 1.1))


def _fit_outline(
    light: NDArray[np.float32],
    rough: _Ellipse,
    *,
    band: float,
    looks: tuple[tuple[float, float], ...] = _LOOKS,
) -> tuple[float, _Ellipse] | None:
    """Share of the outline that was seen and the ellipse, or None.

    ``band`` is the tyre's thickness as a part of the wheel's radius.
    """
    outline: _Ellipse | None = rough
    angles = np.linspace(0, 2 * np.pi, RAYS, endpoint=False)
    seen = 0.0
    for low, high in looks:
        assert outline is not None
        points_px = _band_ends(light, outline, angles, np.linspace(low - band, high, 161), band)
        points_px = points_px[np.isfinite(points_px).all(axis=1)]
        if len(points_px) < 0.7 * MIN_OUTLINE_SEEN * RAYS:
            return None
        outline = _through_most(points_px, _likeliest(points_px) if outline is rough else outline)
        if outline is None:
            return None
        seen = float((np.abs(outline.off(points_px)) < outline.tolerance).sum()) / RAYS
        if seen < 0.6 * MIN_OUTLINE_SEEN:
            return None
    assert outline is not None
    return (seen, outline) if _is_open(light, outline, angles, band) else None


def _is_open(
    light: NDArray[np.float32], outline: _Ellipse, angles: NDArray[np.float64], band: float
) -> bool:
    """Whether rim, spokes or the wall shine inside the tyre: a ball or a bin is dark throughout."""
    inside = _along_rays(light, outline, angles, np.linspace(0.4, 1 - 1.2 * band, 60))
    tyre = _along_rays(light, outline, angles, np.linspace(1 - 0.8 * band, 1 - 0.2 * band, 9))
    brighter = np.sqrt(inside).max(axis=1) > np.sqrt(np.median(tyre, axis=1)) + MIN_CONTRAST
    return bool(brighter.mean() > MIN_OPEN)


def _along_rays(
    light: NDArray[np.float32],
    outline: _Ellipse,
    angles: NDArray[np.float64],
    parts: NDArray[np.float64],
) -> NDArray[np.float64]:
    """(N, P) light at parts of the radius on rays from the centre."""
    ways_px = outline.ring(angles) - outline.centre_px
    cuts = (outline.centre_px + ways_px[:, None] * parts[None, :, None]).astype(np.float32)
    shades = cv2.remap(light, cuts[..., 0], cuts[..., 1], cv2.INTER_LINEAR)
    return np.asarray(shades, np.float64)


def _likeliest(points_px: NDArray[np.float64]) -> _Ellipse | None:
    """Of ellipses through a few points the one most others lie on (Fischler and Bolles 1981)."""
    rng = np.random.default_rng(0)
    best: _Ellipse | None = None
    most = 0
    for _ in range(50):
        outline = _Ellipse.through(points_px[rng.choice(len(points_px), 6, replace=False)])
        count = (
            int((np.abs(outline.off(points_px)) < 2 * outline.tolerance).sum())
            if outline.is_round
            else 0
        )
        if count > most:
            best, most = outline, count
    return best


def _through_most(points_px: NDArray[np.float64], outline: _Ellipse | None) -> _Ellipse | None:
    """The ellipse through the points near a first one, fitted anew as they change."""
    for slack in (2, 1, 1):
        if outline is None:
            return None
        inliers = np.abs(outline.off(points_px)) < slack * outline.tolerance
        outline = _Ellipse.through(points_px[inliers]) if inliers.sum() >= 12 else None
        if outline is not None and not outline.is_round:
            return None
    return outline


def _band_ends(
    light: NDArray[np.float32],
    outline: _Ellipse,
    angles: NDArray[np.float64],
    parts: NDArray[np.float64],
    band: float,
) -> NDArray[np.float64]:
    """(N, 2) where the rays at the angles leave a dark band; not a number where they do not.

    ``parts`` are the places looked at on each ray, as parts of the radius.
    """
    shades = _along_rays(light, outline, angles, parts)
    step = float(parts[1] - parts[0])
    # Half the width over which lens and sensor blur an edge, in steps.
    blur = max(1, round(1.2 / (step * outline.axes_px.mean())))
    shades = np.asarray(cv2.GaussianBlur(shades, (0, 0), sigmaX=0.6 * blur, sigmaY=0.6))
    count = max(3, round(0.75 * band / step))
    outside = 2 * blur
    # How much brighter it is outside than anywhere in a band just inside, as the eye sees
    # light: in the shade next to the tyre's edge steps are small but no less clear.
    seen = np.sqrt(np.maximum(shades, 0))
    inner = maximum_filter1d(seen, count, axis=1, origin=(count - 1) // 2, mode="nearest")
    outer = uniform_filter1d(seen, outside, axis=1, origin=-(outside // 2), mode="nearest")
    jump = np.full_like(shades, -1.0)
    edge = np.arange(count + blur, len(parts) - outside - blur)
    jump[:, edge] = outer[:, edge + blur] - inner[:, edge - blur]
    # A shadow behind the spokes may end at the rim as a band does, but a tyre is darker.
    darkest, brightest = seen.min(axis=1, keepdims=True), seen.max(axis=1, keepdims=True)
    dark = inner < darkest + MAX_DARK * (brightest - darkest)
    jump[:, edge] = np.where(dark[:, edge - blur], jump[:, edge], -1.0)
    ways_px = outline.ring(angles) - outline.centre_px
    cuts_px = outline.centre_px + ways_px[:, None] * parts[None, :, None]
    limits = np.array(light.shape[::-1]) - 2
    jump[~((cuts_px > 1) & (cuts_px < limits)).all(axis=2)] = -1.0
    # The first that is strong enough: behind the tyre its shadow on the wall ends too.
    highest = jump.max(axis=1, keepdims=True)
    strong = jump > np.maximum(FIRST_PART * highest, MIN_CONTRAST)
    first = strong.argmax(axis=1)
    rise = np.gradient(shades, axis=1)
    places = np.full(len(angles), np.nan)
    for ray in np.flatnonzero(strong.any(axis=1)):
        near = np.arange(max(first[ray] - blur, 1), min(first[ray] + 3 * blur + 1, len(parts) - 1))
        slope = np.maximum(rise[ray, near], 0)
        if slope.sum() > 0:
            top = near[slope.argmax()]
            around = np.arange(max(top - blur, 0), min(top + blur + 1, len(parts)))
            weight = np.maximum(rise[ray, around], 0)
            places[ray] = float(weight @ parts[around] / weight.sum())
    ends_px: NDArray[np.float64] = outline.centre_px + ways_px * places[:, None]
    return ends_px
