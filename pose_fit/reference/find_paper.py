"""A plain sheet of paper on the wall, found as a bright quadrilateral beside the child."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo import Photo
from pose_fit.reference.sheet import PAPER_SIZE_MM, Paper
from pose_fit.refusal import Notice, Refusal

__all__ = ["find_paper_corners"]

#: Shortest and longest leg, hip to ankle, that can stand beside the paper: the paper's
#: size in the picture must agree with one of them.
LEG_RANGE_MM: Final = (200.0, 950.0)
#: Sides of a paper seen at up to some 30 degrees: the ratio may differ by this factor.
ASPECT_SLACK: Final = 1.2
#: Contrast of paper against wall that an edge needs, grey levels of 255.
MIN_CONTRAST: Final = 8.0
_REMEDY: Final = (
    "Tape one whole white sheet flat on a wall of another colour, beside the legs,"
    " or give its four corners as points."
)


@dataclass(frozen=True, slots=True)
class _Quad:
    """(4, 2) corners clockwise from top left in working pixels, and how paper-like they are."""

    corners_px: NDArray[np.float64]
    score: float


def find_paper_corners(photo: Photo, body: Body, *, paper: Paper) -> NDArray[np.float64] | Refusal:
    """Corners of the paper in upright pixels, (4, 2) clockwise from top left, or a refusal.

    Two sheets that look equally likely are a refusal too: the tool does not choose.
    """
    grey = photo.grey
    person = (body.mask > 0.5).astype(np.uint8)
    leg_px = body.leg_px / photo.working_scale
    quads = sorted(
        (
            refined
            for corners_px in _candidates(grey, leg_px)
            if (refined := _refine(grey, person, corners_px, paper, leg_px)) is not None
        ),
        key=lambda quad: -quad.score,
    )
    if not quads:
        return _refused("reference_missing", f"No whole {paper} sheet was found beside the child.")
    best = quads[0]
    for other in quads[1:]:
        apart_px = np.abs(other.corners_px.mean(axis=0) - best.corners_px.mean(axis=0)).max()
        if apart_px > 0.5 * _side_px(best.corners_px) and other.score > 0.8 * best.score:
            return _refused(
                "reference_ambiguous", f"Two shapes in the picture could be the {paper} sheet."
            )
    return photo.upright_px(best.corners_px)


def _candidates(grey: NDArray[np.uint8], leg_px: float) -> Iterator[NDArray[np.float64]]:
    """Rough quadrilaterals from thresholds at many levels and from edges."""
    smooth = cv2.GaussianBlur(grey, (0, 0), 1.2)
    edges = cv2.dilate(cv2.Canny(smooth, 20, 60), np.ones((3, 3), np.uint8))
    layers = [(smooth > level).astype(np.uint8) for level in range(90, 250, 10)]
    layers.append((edges == 0).astype(np.uint8))
    local = cv2.blur(smooth, (2 * int(leg_px / 3) + 1,) * 2)
    layers.append((smooth.astype(int) > local.astype(int) + 10).astype(np.uint8))
    # A4 at the longest leg, and Letter at the shortest: bounds of the paper's area.
    least_px2 = (leg_px / LEG_RANGE_MM[1]) ** 2 * 210 * 279 * 0.5
    most_px2 = (leg_px / LEG_RANGE_MM[0]) ** 2 * 216 * 297 * 1.5
    for layer in layers:
        outlines, _ = cv2.findContours(layer, cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE)
        for outline in outlines:
            if not least_px2 < cv2.contourArea(outline) < most_px2:
                continue
            hull = cv2.convexHull(outline)
            if cv2.contourArea(outline) < 0.9 * cv2.contourArea(hull):
                continue
            corners = cv2.approxPolyDP(hull, 0.04 * cv2.arcLength(hull, True), True)
            if len(corners) == 4:
                yield _clockwise(corners.reshape(4, 2).astype(float))


def _clockwise(corners_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """Corners in the order top left, top right, bottom right, bottom left."""
    off = corners_px - corners_px.mean(axis=0)
    ordered = corners_px[np.argsort(np.arctan2(off[:, 1], off[:, 0]))]
    first = int(np.argmin(ordered.sum(axis=1)))
    return np.roll(ordered, -first, axis=0)


def _refine(
    grey: NDArray[np.uint8],
    person: NDArray[np.uint8],
    corners_px: NDArray[np.float64],
    paper: Paper,
    leg_px: float,
) -> _Quad | None:
    """Fit a line to each side's edge at sub-pixel precision; None where it is no paper."""
    lines, contrasts, spreads = [], [], []
    centre_px = corners_px.mean(axis=0)
    for start_px, end_px in zip(corners_px, np.roll(corners_px, -1, axis=0), strict=True):
        side = _side_line(grey, start_px, end_px, centre_px)
        if side is None:
            return None
        line, contrast, spread_px = side
        lines.append(line)
        contrasts.append(contrast)
        spreads.append(spread_px)
    corners = np.array([_meet(lines[index - 1], lines[index]) for index in range(4)])
    height_px, width_px = grey.shape
    inside = (corners > 1).all() and (corners < [width_px - 2, height_px - 2]).all()
    if not inside or np.abs(corners - corners_px).max() > 0.15 * _side_px(corners_px):
        return None
    widths = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
    tall = (widths[1] + widths[3]) / (widths[0] + widths[2])
    short_mm, long_mm = PAPER_SIZE_MM[paper]
    misfit = abs(np.log(tall / (long_mm / short_mm)))
    opposite = max(abs(np.log(widths[0] / widths[2])), abs(np.log(widths[1] / widths[3])))
    filled = np.zeros_like(person)
    cv2.fillConvexPoly(filled, np.round(corners).astype(np.int32), (1,))
    on_person = float((filled & person).sum()) / max(1.0, float(filled.sum()))
    if misfit > np.log(ASPECT_SLACK) or opposite > 0.25 or on_person > 0.15:
        return None
    texture = float(grey[cv2.erode(filled, np.ones((5, 5), np.uint8)) == 1].std())
    score = (
        min(contrasts)
        / (min(contrasts) + 25)
        * np.exp(-4 * misfit - 4 * opposite - max(spreads) / 1.5 - texture / 20)
    )
    return _Quad(corners, float(score))


def _side_line(
    grey: NDArray[np.uint8],
    start_px: NDArray[np.float64],
    end_px: NDArray[np.float64],
    centre_px: NDArray[np.float64],
) -> tuple[NDArray[np.float64], float, float] | None:
    """Line (a, b, c) along one side, its contrast in grey levels, and the edge's scatter.

    The edge is looked for on cuts across the side, at the steepest fall from the
    bright inside to the darker outside.
    """
    along = end_px - start_px
    length_px = float(np.hypot(*along))
    along = along / length_px
    out = np.array([along[1], -along[0]])
    if out @ (centre_px - start_px) > 0:
        out = -out
    reach_px = max(4.0, 0.06 * length_px)
    steps_px = np.arange(-reach_px, reach_px + 0.25, 0.5)
    places = np.linspace(0.08, 0.92, max(12, int(length_px / 3)))
    grid = start_px + along * (places * length_px)[:, None]
    cuts = grid[:, None, :] + out * steps_px[None, :, None]
    shades = cv2.remap(
        grey, cuts[..., 0].astype(np.float32), cuts[..., 1].astype(np.float32), cv2.INTER_LINEAR
    ).astype(float)
    shades = cv2.GaussianBlur(shades, (0, 0), sigmaX=1.2, sigmaY=0.1)
    fall = -np.gradient(shades, axis=1)
    peak = fall[:, 2:-2].argmax(axis=1) + 2
    rows = np.arange(len(peak))
    left, middle, right = fall[rows, peak - 1], fall[rows, peak], fall[rows, peak + 1]
    bend = left - 2 * middle + right
    shift = np.where(np.abs(bend) > 1e-9, 0.5 * (left - right) / np.where(bend == 0, 1, bend), 0.0)
    offsets_px = steps_px[peak] + 0.5 * np.clip(shift, -1, 1)
    inside = np.median(shades[:, :3])
    outside = np.median(shades[:, -3:])
    keep = middle > 0.3 * np.median(middle)
    for _ in range(4):
        if keep.sum() < 8:
            return None
        slope, base = np.polyfit(places[keep], offsets_px[keep], 1)
        off = np.abs(offsets_px - (slope * places + base))
        keep = off < max(0.4, 2.5 * float(np.median(off[keep])))
    if keep.mean() < 0.5 or inside - outside < MIN_CONTRAST:
        return None
    ends = [
        start_px + along * place * length_px + out * (slope * place + base) for place in (0.0, 1.0)
    ]
    line = np.cross(np.append(ends[0], 1.0), np.append(ends[1], 1.0))
    return line, float(inside - outside), float(off[keep].std() + 0.05 + (1 - keep.mean()))


def _meet(first: NDArray[np.float64], second: NDArray[np.float64]) -> NDArray[np.float64]:
    point = np.cross(first, second)
    corner: NDArray[np.float64] = point[:2] / point[2]
    return corner


def _side_px(corners_px: NDArray[np.float64]) -> float:
    return float(np.linalg.norm(np.roll(corners_px, -1, axis=0) - corners_px, axis=1).mean())


def _refused(code: str, message: str) -> Refusal:
    return Refusal((Notice(code, message),), (_REMEDY,))
