"""The wall base: the line where wall and floor meet, beside the child's feet.

It lies in the wall's own plane, so it says where the floor is without the depth of the
feet. The strip of wall and floor around the place where the feet put it is brought
into millimetres of the wall's plane. Every straight edge in it is a candidate, seen on both
sides of the child if possible: joints of floor boards, the top of a skirting board and
shadows look alike, and how far from the wall the feet stand is not known yet.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import project
from pose_fit.sights.candidates import WallBaseCandidate

__all__ = ["SEARCHED_MM", "SKIRTING_DEPTH_MM", "WallBase", "find_wall_base"]

#: Skirting boards stand this far before the wall, or there is none (common practice, no source).
SKIRTING_DEPTH_MM: Final = (8.0, 6.0)
_STEP_MM: Final = 1.5
_ACROSS_MM: Final = (70.0, 520.0)
#: Searched from this far above the place where the feet put the floor to this far below it.
#: Feet that stand well off the wall look low in a picture from above, and the wall base high.
_ABOVE_MM: Final = 110.0
_BELOW_MM: Final = 60.0
SEARCHED_MM: Final = _ABOVE_MM + _BELOW_MM
#: Of a child who stands far before the wall it lies higher still. Such an edge has to stand out,
#: and those near the feet have this share of its difference of colour at most.
_FAR_ABOVE_MM: Final = 450.0
_CLEAR_EDGE: Final = 8.0
_MOST_OF_RIVAL: Final = 0.35
#: Slopes of the line against the child's horizontal.
_SLOPES: Final = np.tan(np.radians(np.arange(-5.0, 5.01, 0.25)))
#: Half the distance between the two bands whose colours are compared.
_EDGE_MM: Final = 4.0
#: Wall and floor differ over stretches of this height too, not only at their edge.
_STRETCH_MM: Final = 24.0
#: Least difference of colour across the line, CIELAB.
_LEAST_EDGE: Final = 3.5
#: Another line this near is the same edge.
_SAME_MM: Final = 12.0
#: At most so many candidates. Belief goes by the square of the difference of colour; none of
#: them is right as surely as an edge of this difference would be.
_MOST: Final = 4
_NO_EDGE: Final = 4.0
#: The line lies level with the child within this slope (standard uncertainty).
_LEVEL_SD: Final = 0.045
#: An edge with another one of at least this share of its difference of colour so far below it
#: is as a rule the top of a skirting board: it counts this much.
_SKIRTING_MM: Final = (30.0, 160.0)
_COMPARABLE: Final = 0.4
_SKIRTING_TOP: Final = 0.2
#: Least length of the line that must be visible on one side.
_LEAST_SEEN_MM: Final = 90.0


@dataclass(frozen=True, slots=True)
class WallBase:
    """What is seen of the wall base.

    Attributes
    ----------
    candidates
        The edges near the feet, the strongest first.
    far_above_mm
        How far above the feet's floor the only clear edge lies, where that is farther than a child
        near the wall explains; else 0.
    """

    candidates: tuple[WallBaseCandidate, ...]
    far_above_mm: float


@dataclass(frozen=True, slots=True)
class _Line:
    """An edge: its height at the child, positive below the expected floor, slope and contrast."""

    height_mm: float
    slope: float
    edge: float


@dataclass(frozen=True, eq=False, slots=True)
class _Side:
    """One side of the child: (R, C, 3) colours, (R, C) seen, (C,) places across in mm."""

    colours: NDArray[np.float32]
    seen: NDArray[np.float32]
    across_mm: NDArray[np.float64]


def find_wall_base(
    photo: Photo,
    body: Body,
    plane: PlaneScale,
    *,
    floor_mm: NDArray[np.float64],
    down: NDArray[np.float64],
    occupied_px: NDArray[np.float64],
) -> WallBase:
    """The straight edges along which wall and floor may meet.

    Parameters
    ----------
    floor_mm
        (3,) array, plane's frame: where toes and ankles put the floor, straight below the child.
    down
        (3,) unit vector.
    occupied_px
        (N, 2) outline of the reference, where no floor can be seen.
    """
    across = np.array([down[1], -down[0], 0.0])
    origin_mm = floor_mm.copy()
    origin_mm[2] = -SKIRTING_DEPTH_MM[0]
    free = _free_mask(photo, body, occupied_px)

    def edges(above_mm: float) -> list[_Line]:
        heights_mm = np.arange(-above_mm - 3 * _EDGE_MM, _BELOW_MM + 3 * _EDGE_MM, _STEP_MM)
        strip_mm = origin_mm + heights_mm[:, None, None] * down
        scores = [_edge_scores(side) for side in _sides(photo, plane, strip_mm, across, free)]
        return _best_lines(scores, heights_mm)

    near = edges(_ABOVE_MM)
    candidates = [
        WallBaseCandidate(
            project(
                plane.parameters,
                np.stack(
                    [
                        origin_mm + x_mm * across + (line.height_mm + line.slope * x_mm) * down
                        for x_mm in (-200.0, 200.0)
                    ]
                ),
            ),
            weight,
        )
        for line, weight in _weighed(near)
    ]
    return WallBase(tuple(candidates), _far_above_mm(near, lambda: edges(_FAR_ABOVE_MM)))


def _far_above_mm(near: list[_Line], wider: Callable[[], list[_Line]]) -> float:
    """How far above the window's edges a much clearer one lies; 0 where none does."""
    rival = max((line.edge for line in near), default=0.0)
    if rival > _CLEAR_EDGE:
        return 0.0
    far = [line for line in wider() if -line.height_mm > _ABOVE_MM]
    clearest = max(far, key=lambda line: line.edge, default=None)
    if clearest is None or clearest.edge < max(_CLEAR_EDGE, rival / _MOST_OF_RIVAL):
        return 0.0
    return -clearest.height_mm


def _sides(
    photo: Photo,
    plane: PlaneScale,
    strip_mm: NDArray[np.float64],
    across: NDArray[np.float64],
    free: NDArray[np.float32],
) -> list[_Side]:
    """Wall and floor left and right of the child, sampled in millimetres of the wall's plane.

    ``strip_mm`` are the (R, 1, 3) places below the child, one for each height.
    """
    places_mm = np.arange(*_ACROSS_MM, 2 * _STEP_MM)
    signs = (-1.0, 1.0)
    spots: list[NDArray[np.float32]] = []
    for sign in signs:
        grid_mm = strip_mm + sign * places_mm[None, :, None] * across
        spots_px = photo.working_px(project(plane.parameters, grid_mm.reshape(-1, 3)))
        spots.append(spots_px.reshape(*grid_mm.shape[:2], 2).astype(np.float32))
    reach_px = np.concatenate([places.reshape(-1, 2) for places in spots])
    # Three pixels more on each side serve the interpolation.
    rows, columns = window_around(photo.pixels.shape, reach_px, margin_px=3.0)
    corner = np.array([columns.start, rows.start], np.float32)
    lab = cv2.cvtColor(photo.pixels[rows, columns].astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    return [
        _Side(
            _sampled(np.asarray(lab, np.float32), places - corner),
            _sampled(free, places),
            sign * places_mm,
        )
        for sign, places in zip(signs, spots, strict=True)
    ]


def _free_mask(photo: Photo, body: Body, occupied_px: NDArray[np.float64]) -> NDArray[np.float32]:
    """(H, W) 1 where neither person nor reference covers wall and floor."""
    reach = max(3, int(0.03 * body.leg_px / photo.working_scale)) | 1
    person = cv2.dilate((body.mask > 0.3).astype(np.uint8), np.ones((reach, reach), np.uint8))
    free = 1 - np.asarray(person, np.float32)
    hull = cv2.convexHull(np.round(photo.working_px(occupied_px)).astype(np.int32))
    cv2.fillConvexPoly(free, hull, (0.0,))
    return free


def _sampled(image: NDArray[np.float32], spots: NDArray[np.float32]) -> NDArray[np.float32]:
    sampled = cv2.remap(
        image,
        spots[..., 0],
        spots[..., 1],
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_CONSTANT,
        borderValue=(0, 0, 0, 0),
    )
    return np.asarray(sampled, np.float32)


def _edge_scores(side: _Side) -> NDArray[np.float64] | None:
    """(S, R) difference of colour across a line, by slope and height at the child; None if unseen.

    The geometric mean of the difference at the line and of that between what is above and below.
    """
    rows = np.arange(len(side.colours))
    shifts = np.round(_SLOPES[:, None] * side.across_mm / _STEP_MM).astype(int)
    reach = int(np.abs(shifts).max())
    # Colours and how much of them is seen, summed from the first column up to each.
    weighted = np.dstack([side.colours * side.seen[..., None], side.seen]).astype(float)
    sums_to = np.pad(weighted.cumsum(axis=1), ((reach, reach), (1, 0), (0, 0)))
    band, stretch = round(_EDGE_MM / _STEP_MM), round(_STRETCH_MM / _STEP_MM)
    middle = np.arange(band, len(rows) - band)
    first, last = np.maximum(middle - stretch, 0), np.minimum(middle + stretch, len(rows))
    scores = np.zeros((len(_SLOPES), len(rows)))
    any_seen = False
    for index, shift in enumerate(shifts):
        # Neighbouring columns that are shifted alike are summed at once.
        starts = np.flatnonzero(np.diff(shift, prepend=shift[0] - 1))
        along = np.zeros((len(rows), 4))
        for start, end in zip(starts, [*starts[1:], len(shift)], strict=True):
            moved = slice(reach + shift[start], reach + shift[start] + len(rows))
            along += sums_to[moved, end] - sums_to[moved, start]
        total = along[:, 3]
        mean = along[:, :3] / np.maximum(total, 1e-6)[:, None]
        long_enough = total * 2 * _STEP_MM >= _LEAST_SEEN_MM
        sums = np.cumsum(np.vstack([np.zeros(3), mean]), axis=0)
        above = (sums[middle] - sums[middle - band]) / band
        below = (sums[middle + band] - sums[middle]) / band
        usable = long_enough[middle - band] & long_enough[middle + band - 1]
        edge = np.linalg.norm(below - above, axis=1)
        # The joint of two boards, or of two rows of bricks, has the same on both its sides.
        stretches = np.cumsum(np.vstack([np.zeros(4), along]), axis=0)
        upper, lower = stretches[middle] - stretches[first], stretches[last] - stretches[middle]
        change = np.linalg.norm(_average(lower) - _average(upper), axis=1)
        scores[index, middle] = np.where(usable, np.sqrt(edge * change), 0.0)
        any_seen |= bool(usable.any())
    return scores if any_seen else None


def _average(stretch: NDArray[np.float64]) -> NDArray[np.float64]:
    """(M, 3) mean colour of (M, 4) summed colours and how much of them is seen."""
    mean: NDArray[np.float64] = stretch[:, :3] / np.maximum(stretch[:, 3:], 1e-6)
    return mean


def _best_lines(
    scores: list[NDArray[np.float64] | None], heights_mm: NDArray[np.float64]
) -> list[_Line]:
    """The edges that stand out, the strongest first."""
    seen = [score for score in scores if score is not None]
    if not seen:
        return []
    # Seen on both sides the edge must be there on both: the geometric mean.
    joint = np.sqrt(seen[0] * seen[1]) if len(seen) == 2 else seen[0]
    profile = joint.max(axis=0)
    # The flank of a broad edge is no edge of its own.
    is_peak = (profile >= np.roll(profile, 1)) & (profile >= np.roll(profile, -1))
    profile = np.where(is_peak, profile, 0.0)
    lines: list[_Line] = []
    while len(lines) < _MOST and profile.max() >= _LEAST_EDGE:
        row = int(profile.argmax())
        slope = float(_SLOPES[joint[:, row].argmax()])
        # The edge lies between the two bands: half a step above the row that starts the lower one.
        lines.append(_Line(float(heights_mm[row] - _STEP_MM / 2), slope, float(profile[row])))
        profile = np.where(np.abs(heights_mm - heights_mm[row]) > _SAME_MM, profile, 0.0)
    return lines


def _weighed(lines: list[_Line]) -> list[tuple[_Line, float]]:
    """Each edge with its share of belief, the likeliest first."""

    def belief(line: _Line) -> float:
        low_mm, high_mm = _SKIRTING_MM
        is_top = any(
            low_mm < other.height_mm - line.height_mm < high_mm
            and other.edge > _COMPARABLE * line.edge
            for other in lines
        )
        level = float(np.exp(-0.5 * (line.slope / _LEVEL_SD) ** 2))
        return line.edge**2 * level * (_SKIRTING_TOP if is_top else 1.0)

    beliefs = [belief(line) for line in lines]
    total = _NO_EDGE**2 + sum(beliefs)
    shares = [(line, one / total) for line, one in zip(lines, beliefs, strict=True)]
    return sorted(shares, key=lambda pair: -pair[1])
