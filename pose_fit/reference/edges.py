"""Straight edges of flat objects, to a tenth of a pixel.

A corner is blurred in every picture, but the two edges that meet there are long: lines
fitted along them meet nearer to the true corner than any look at the corner itself.

Blur mixes light, not grey levels: in the encoded picture every edge lies too far on its
dark side. So edges are looked for in linear light.
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

__all__ = ["Edge", "corners_of", "edge_between", "edges_of_quad", "linear_light"]

#: The parts of a side near its corners, where the neighbouring side blurs in, are left out.
_ENDS: Final = (0.08, 0.92)
#: Spacing of the samples on a cut across the side.
_STEP_PX: Final = 0.5
#: An edge must be seen on this part of the cuts.
_MIN_SEEN: Final = 0.5


@dataclass(frozen=True, eq=False, slots=True)
class Edge:
    """A straight edge.

    Attributes
    ----------
    line
        (3,) array: homogeneous line, a x + b y + c = 0.
    contrast
        Bright side less dark side, in linear light from 0 to 1.
    scatter_px
        Standard deviation of single cuts about the line.
    seen
        Share of the cuts that show the edge on the line.
    """

    line: NDArray[np.float64]
    contrast: float
    scatter_px: float
    seen: float


def linear_light(grey: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Light from 0 to 1 of encoded grey levels, by the sRGB curve (IEC 61966-2-1)."""
    level = np.arange(256) / 255
    curve = np.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)
    light: NDArray[np.float32] = curve.astype(np.float32)[grey]
    return light


def edges_of_quad(
    light: NDArray[np.float32], corners_px: NDArray[np.float64], *, reach_px: float
) -> tuple[Edge, ...] | None:
    """The four sides of a bright quadrilateral with rough corners, or None where one is missing."""
    centre_px = corners_px.mean(axis=0)
    edges = []
    for start_px, end_px in zip(corners_px, np.roll(corners_px, -1, axis=0), strict=True):
        edge = edge_between(light, start_px, end_px, inside_px=centre_px, reach_px=reach_px)
        if edge is None:
            return None
        edges.append(edge)
    return tuple(edges)


def corners_of(edges: tuple[Edge, ...]) -> NDArray[np.float64]:
    """(N, 2) array: where each side meets the one before it."""
    points = np.array([np.cross(edges[i - 1].line, edges[i].line) for i in range(len(edges))])
    # Parallel sides meet nowhere; the result is then not finite, which no caller accepts.
    with np.errstate(divide="ignore", invalid="ignore"):
        corners: NDArray[np.float64] = points[:, :2] / points[:, 2:]
    return corners


def edge_between(
    light: NDArray[np.float32],
    start_px: NDArray[np.float64],
    end_px: NDArray[np.float64],
    *,
    inside_px: NDArray[np.float64],
    reach_px: float,
) -> Edge | None:
    """The edge from bright to dark near a rough side; bright is where ``inside_px`` lies.

    Parameters
    ----------
    reach_px
        How far to each side of the rough side the edge is looked for.
    """
    along = end_px - start_px
    length_px = float(np.hypot(*along))
    along = along / length_px
    out = np.array([along[1], -along[0]])
    if out @ (inside_px - start_px) > 0:
        out = -out
    places = np.linspace(*_ENDS, max(12, int(length_px / 3)))
    steps_px = np.arange(-reach_px - 1, reach_px + 1 + _STEP_PX / 2, _STEP_PX)
    grid = start_px + along * (places * length_px)[:, None]
    cuts = (grid[:, None, :] + out * steps_px[None, :, None]).astype(np.float32)
    shades = cv2.remap(light, cuts[..., 0], cuts[..., 1], cv2.INTER_LINEAR).astype(float)
    shades = np.asarray(cv2.GaussianBlur(shades, (0, 0), sigmaX=1.2, sigmaY=0.1), np.float64)
    offsets_px, fall = _first_fall(shades, steps_px)
    keep = fall > 0.3 * np.median(fall)
    slope = base = 0.0
    for _ in range(4):
        if keep.sum() < 8:
            return None
        slope, base = _line_through(places[keep], offsets_px[keep])
        off_px = np.abs(offsets_px - (slope * places + base))
        before, keep = keep, off_px < max(0.4, 2.5 * float(np.median(off_px[keep])))
        if (keep == before).all():
            break
    seen = float(keep.mean())
    contrast = float(np.median(shades[:, :3]) - np.median(shades[:, -3:]))
    if seen < _MIN_SEEN:
        return None
    first_px = np.append(start_px + out * base, 1.0)
    last_px = np.append(end_px + out * (slope + base), 1.0)
    return Edge(np.cross(first_px, last_px), contrast, float(off_px[keep].std()), seen)


def _line_through(x: NDArray[np.float64], y: NDArray[np.float64]) -> tuple[float, float]:
    """Slope, and value at 0, of the least-squares line; many times faster than a general fit."""
    mean_x, mean_y = float(x.mean()), float(y.mean())
    off = x - mean_x
    slope = float(off @ y) / float(off @ off)
    return slope, mean_y - slope * mean_x


def _first_fall(
    shades: NDArray[np.float64], steps_px: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Where each cut first falls steeply, by a parabola through three samples, and how steeply.

    First, coming from inside: the object is blank up to its edge, what lies behind is not.
    """
    fall = -np.gradient(shades, axis=1)
    left, middle, right = fall[:, 1:-3], fall[:, 2:-2], fall[:, 3:-1]
    steep = middle >= 0.5 * middle.max(axis=1, keepdims=True)
    # The first run of steep places, and within it the steepest: a blurred edge has ripples.
    begun = np.maximum.accumulate(steep, axis=1)
    ended = np.maximum.accumulate(begun & ~steep, axis=1)
    first = np.where(begun & ~ended, middle, -np.inf).argmax(axis=1)
    rows = np.arange(len(first))
    before, here, after = left[rows, first], middle[rows, first], right[rows, first]
    bend = np.minimum(before - 2 * here + after, -1e-9)
    shift = np.clip(0.5 * (before - after) / bend, -1, 1)
    return steps_px[first + 2] + _STEP_PX * shift, here
