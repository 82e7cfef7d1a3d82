"""A plain sheet of paper on the wall, found as a bright quadrilateral beside the child.

A window's pane, a lamp, a sign and a lit patch of wall are bright quadrilaterals too. So every
candidate is weighed by what is true of a sheet: its four sides are seen along their whole length
and end at its corners, it is blank and brighter than nearly everything, it stands out alike on all
sides, and it hangs beside the child, not above. Where none is sure enough nothing is chosen.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.known_ranges import LEG_RANGE_MM
from pose_fit.body.body import Body
from pose_fit.notice_codes import NoticeCode
from pose_fit.photo.photo import Photo
from pose_fit.reference.edges import Edge, corners_of, edges_of_quad, linear_light
from pose_fit.reference.paper import PAPER_SIZE_MM, Paper
from pose_fit.reference.seen_rectangle import seen_rectangles
from pose_fit.refusal import Refusal

__all__ = ["PaperCandidate", "find_paper_corners", "find_papers"]

_AREAS_MM2: Final = [width_mm * height_mm for width_mm, height_mm in PAPER_SIZE_MM.values()]
#: Once the view is undone a paper's sides are square to each other within this cosine (0.11 at most
#: on 136 rendered sheets), and the logarithm of their ratio, together with the cosine, is off by less
#: than this (0.14 at most; 0.15 between A4 and Legal). No sheet is told from its shape when it is
#: seen more obliquely than this.
MAX_CORNER_COSINE: Final = 0.16
MAX_MISFIT: Final = 0.22
MAX_OBLIQUITY_RAD: Final = float(np.radians(55.0))
#: Contrast of paper against wall that an edge needs, in linear light.
MIN_CONTRAST: Final = 0.02
#: Its sides are straight: cuts scatter about a line by less than this, or this part of a side.
MAX_SCATTER_PX: Final = 0.4
MAX_SCATTER_PART: Final = 0.008
#: The paper is blank: its grey levels scatter less than this about a smooth shading.
MAX_TEXTURE: Final = 14.0
#: Share of the paper that may lie on the person's mask, whose edge is coarse.
MAX_ON_PERSON: Final = 0.15
#: Cameras roll, so that what is level runs up or down by this part of its length.
ROLL_SLOPE: Final = 0.1
#: Limits between what every sheet keeps and what none has: share of a side that is not seen; its
#: mottling in parts of its brightness; strongest over weakest contrast of the four sides; sides
#: that run on beyond the corners, in parts of their contrast; share of the picture that is
#: brighter; how much brighter the wall is close by than further off, in parts of the contrast; how
#: far it hangs above the nose and to the side of the ankles, in legs.
_UNSEEN: Final = (0.15, 0.50)
_MOTTLED: Final = (0.03, 0.10)
_UNEVEN: Final = (4.0, 12.0)
_RUNS_ON: Final = (0.25, 0.75)
_BRIGHTER: Final = (0.20, 0.45)
_GLOWS: Final = (0.15, 0.40)
_OVER_HEAD: Final = (0.0, 0.5)
_ASIDE: Final = (1.5, 3.0)
#: Beyond a corner this part of the side is looked at, past the corner's own blur, and light is
#: compared this far to each side of the line.
_BEYOND: Final = (0.04, 0.20)
_BLURRED_PX: Final = 2.0
_ACROSS_PX: Final = 1.5
#: Close by and further off: so far out from a side, in parts of it, past its blur.
_CLOSE_BY: Final = 0.06
_FURTHER_OFF: Final = 0.25
#: The tool chooses a candidate at least this sure, with no other that is nearly as sure.
SURE: Final = 0.4
ALIKE: Final = 0.6
#: The search is coarse; the sides are then found at the working resolution.
SEARCH_LEG_PX: Final = 400.0
_REMEDY: Final = "Tape one whole white sheet flat on a wall of another colour, beside the legs."


@dataclass(frozen=True, eq=False, slots=True)
class PaperCandidate:
    """What may be a sheet of paper.

    Attributes
    ----------
    corners_px
        (4, 2) array: clockwise from top left, upright pixels.
    score
        How sure it is, 0 to 1: the product of what each mark of a sheet is worth.
    """

    corners_px: NDArray[np.float64]
    score: float


@dataclass(frozen=True, eq=False, slots=True)
class _Quad:
    """(4, 2) corners in working pixels, how well they fit the paper, and how sure it is one."""

    corners_px: NDArray[np.float64]
    fit: float
    score: float


def find_paper_corners(photo: Photo, body: Body, *, paper: Paper) -> NDArray[np.float64] | Refusal:
    """Corners of the paper in upright pixels, (4, 2) clockwise from top left, or a refusal.

    Where no candidate is sure enough, or two are alike, nothing is chosen: that is a refusal too.
    """
    candidates = find_papers(photo, body, paper=paper)
    if not candidates:
        return _refused("reference_missing", f"No whole {paper} sheet was found beside the child.")
    best, *others = candidates
    if best.score < SURE:
        return _refused(
            "paper_unsure",
            f"Something bright in the picture could be the {paper} sheet, but its edges, its"
            " brightness or its place do not show surely that it is one.",
        )
    if any(other.score > ALIKE * best.score for other in others):
        return _refused(
            "reference_ambiguous", f"Two shapes in the picture could be the {paper} sheet."
        )
    return best.corners_px


def find_papers(photo: Photo, body: Body, *, paper: Paper) -> tuple[PaperCandidate, ...]:
    """Everything that has the shape and about the size of the paper, the surest first."""
    # White paper is bright in every colour: on a coloured wall it stands out in the weakest.
    grey = photo.grey
    shades = grey, photo.pixels.min(axis=2)
    lights = [linear_light(shade) for shade in shades]
    person = (body.mask > 0.5).astype(np.uint8)
    leg_px = body.leg_px / photo.working_scale
    ankles_px = photo.working_px(body.ankles_px)
    quads: list[_Quad] = []
    for corners_px in _candidates(shades, leg_px):
        if _hangs_above(ankles_px, corners_px) and not any(
            _is_same(corners_px, quad.corners_px) for quad in quads
        ):
            judged = (_judged(photo, light, person, corners_px, paper) for light in lights)
            quads += [quad for quad in judged if quad is not None]
    head_px = photo.working_px(body.point_px("nose"))
    apart: list[_Quad] = []
    # Of what was found several times in one place the best fit stands.
    for quad in sorted(quads, key=lambda quad: -quad.fit):
        if not any(_is_same(quad.corners_px, other.corners_px, 0.5) for other in apart):
            apart.append(quad)
    candidates = [
        PaperCandidate(
            photo.upright_px(quad.corners_px),
            quad.score * _beside(quad.corners_px, head_px, ankles_px, leg_px),
        )
        for quad in apart
    ]
    return tuple(sorted(candidates, key=lambda candidate: -candidate.score))


def _beside(
    corners_px: NDArray[np.float64],
    head_px: NDArray[np.float64],
    ankles_px: NDArray[np.float64],
    leg_px: float,
) -> float:
    """How well it hangs for a sheet that somebody put up beside the child."""
    centre_px = corners_px.mean(axis=0)
    over_head = float(head_px[1] - corners_px[:, 1].max()) / leg_px
    aside = abs(float(centre_px[0] - ankles_px[0])) / leg_px
    return _fades(over_head, _OVER_HEAD) * _fades(aside, _ASIDE)


def _fades(value: float, limits: tuple[float, float]) -> float:
    """1 up to the first limit, falling to 0 at the second."""
    sure, never = limits
    return float(np.clip((never - value) / (never - sure), 0.0, 1.0))


def _candidates(
    shades: tuple[NDArray[np.uint8], ...], leg_px: float
) -> Iterator[NDArray[np.float64]]:
    """Rough quadrilaterals from thresholds at many levels and from edges, working pixels."""
    shrink = min(1.0, SEARCH_LEG_PX / leg_px)
    size_px = leg_px * shrink
    reach = 2 * int(size_px / 3) + 1
    layers = []
    for shade in shades:
        small = cv2.resize(shade, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
        smooth = cv2.GaussianBlur(small, (0, 0), 1.0)
        layers += [smooth > level for level in range(70, 252, 6)]
        layers.append(smooth > cv2.blur(smooth, (reach, reach)).astype(int) + 10)
        edges = cv2.dilate(cv2.Canny(smooth, 20, 60), np.ones((3, 3), np.uint8))
        layers.append(edges == 0)
    # The paper's size must agree with some leg: Letter at the longest and A4 at the shortest bound
    # its area. A view from above shortens legs and sheet alike; one from the side the sheet alone.
    least_px2 = (size_px / LEG_RANGE_MM[1]) ** 2 * min(_AREAS_MM2) * 0.65
    most_px2 = (size_px / LEG_RANGE_MM[0]) ** 2 * max(_AREAS_MM2) * 1.5
    for layer in layers:
        outlines, _ = cv2.findContours(
            layer.astype(np.uint8), cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE
        )
        for outline in outlines:
            hull = cv2.convexHull(outline)
            area_px2 = cv2.contourArea(hull)
            if not least_px2 < area_px2 < most_px2 or cv2.contourArea(outline) < 0.9 * area_px2:
                continue
            corners = cv2.approxPolyDP(hull, 0.04 * cv2.arcLength(hull, True), True)
            if len(corners) == 4:
                yield (_clockwise(corners.reshape(4, 2).astype(float)) + 0.5) / shrink - 0.5


def _clockwise(corners_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """Corners in the order top left, top right, bottom right, bottom left."""
    off = corners_px - corners_px.mean(axis=0)
    ordered = corners_px[np.argsort(np.arctan2(off[:, 1], off[:, 0]))]
    first = int(np.argmin(ordered.sum(axis=1)))
    return np.roll(ordered, -first, axis=0)


def _is_same(one: NDArray[np.float64], other: NDArray[np.float64], part: float = 0.02) -> bool:
    """Whether two quadrilaterals are one, to a part of their sides."""
    return bool(np.abs(one - other).max() < part * _sides_px(other).mean())


def _hangs_above(ankles_px: NDArray[np.float64], corners_px: NDArray[np.float64]) -> bool:
    """Whether it hangs on the wall rather than lies on the floor or stands on the skirting."""
    aside_px = abs(float(corners_px[:, 0].mean() - ankles_px[0]))
    return float(corners_px[:, 1].max()) < float(ankles_px[1]) + ROLL_SLOPE * aside_px


def _judged(
    photo: Photo,
    light: NDArray[np.float32],
    person: NDArray[np.uint8],
    corners_px: NDArray[np.float64],
    paper: Paper,
) -> _Quad | None:
    """The quadrilateral with its sides fitted to the picture; None where it is no paper."""
    grey = photo.grey
    rough_px = float(_sides_px(corners_px).mean())
    reach_px = max(3.0, 0.06 * rough_px)
    edges = edges_of_quad(light, corners_px, reach_px=reach_px)
    if edges is None:
        return None
    # A second look, since the first may have had a part of an edge out of its reach.
    first = corners_of(edges)
    if not np.abs(first - corners_px).max() < 0.15 * rough_px:
        return None
    edges = edges_of_quad(light, first, reach_px=reach_px)
    if edges is None or min(edge.contrast for edge in edges) < MIN_CONTRAST:
        return None
    scatter_px = max(edge.scatter_px for edge in edges)
    if scatter_px > max(MAX_SCATTER_PX, MAX_SCATTER_PART * rough_px):
        return None
    corners = corners_of(edges)
    low, high = 1.0, np.array(grey.shape[::-1]) - 2.0
    if not ((corners > low) & (corners < high)).all():
        return None
    misfit = _misfit(photo, corners, paper)
    if misfit is None:
        return None
    filled = np.zeros_like(person)
    cv2.fillConvexPoly(filled, np.round(corners).astype(np.int32), (1,))
    on_person = float(person[filled == 1].mean())
    texture = _texture(grey, cv2.erode(filled, np.ones((7, 7), np.uint8)) == 1)
    if on_person > MAX_ON_PERSON or texture > MAX_TEXTURE:
        return None
    unseen = 1 - min(edge.seen for edge in edges)
    doubt = 4 * misfit + 2 * unseen + scatter_px / 1.5 + texture / 20
    contrasts = [edge.contrast for edge in edges]
    level = float(np.median(grey[filled == 1]))
    score = (
        _fades(unseen, _UNSEEN)
        * _fades(texture / max(level, 1.0), _MOTTLED)
        * _fades(max(contrasts) / min(contrasts), _UNEVEN)
        * _fades(_runs_on(light, corners, edges), _RUNS_ON)
        * _fades(_glows(light, corners, edges), _GLOWS)
        * _fades(float((grey > level).mean()), _BRIGHTER)
    )
    return _Quad(corners, float(np.exp(-doubt)), score)


def _misfit(photo: Photo, corners_px: NDArray[np.float64], paper: Paper) -> float | None:
    """How far from the paper's shape the corners are in space; None where they are no such paper."""
    short_mm, long_mm = PAPER_SIZE_MM[paper]
    misfits = [
        min(shape.misfit(long_mm / short_mm), shape.misfit(short_mm / long_mm))
        for shape in seen_rectangles(photo, photo.upright_px(corners_px))
        if shape.cosine < MAX_CORNER_COSINE and shape.obliquity_rad < MAX_OBLIQUITY_RAD
    ]
    misfit = min(misfits, default=math.inf)
    return misfit if misfit < MAX_MISFIT else None


def _runs_on(
    light: NDArray[np.float32], corners_px: NDArray[np.float64], edges: tuple[Edge, ...]
) -> float:
    """How strongly sides go on beyond the corners, in parts of their own contrast.

    A sheet's side ends at its corner. Frames, bars and beams run on. The fourth strongest of the
    eight extensions counts: a joint of the wall may happen to meet a corner or two.
    """
    strengths = []
    for side, edge in enumerate(edges):
        start, end = corners_px[side], corners_px[(side + 1) % 4]
        length_px = float(np.hypot(*(end - start)))
        along = (end - start) / length_px
        out = np.array([along[1], -along[0]])
        for corner, way in ((start, -along), (end, along)):
            steps_px = np.linspace(*_BEYOND, 9) * length_px + _BLURRED_PX
            spots = corner + way * steps_px[:, None]
            inside, outside = (
                _sampled(light, spots + sign * _ACROSS_PX * out) for sign in (-1.0, 1.0)
            )
            strengths.append(float(np.median(inside - outside)) / edge.contrast)
    return sorted(strengths)[-4]


def _glows(
    light: NDArray[np.float32], corners_px: NDArray[np.float64], edges: tuple[Edge, ...]
) -> float:
    """How much brighter the surroundings are close by than further off, in parts of the contrast.

    A sheet sends back light and lights up no wall; a lamp does on all its sides. The second weakest
    of the four sides counts: a person or a joint of the wall may be at one of them.
    """
    strengths = []
    for side, edge in enumerate(edges):
        start, end = corners_px[side], corners_px[(side + 1) % 4]
        length_px = float(np.hypot(*(end - start)))
        out = np.array([end[1] - start[1], start[0] - end[0]]) / length_px
        spots = start + np.linspace(0.1, 0.9, 17)[:, None] * (end - start)
        near, far = (
            float(np.median(_sampled(light, spots + out * (part * length_px + _BLURRED_PX))))
            for part in (_CLOSE_BY, _FURTHER_OFF)
        )
        strengths.append((near - far) / edge.contrast)
    return sorted(strengths)[1]


def _sampled(light: NDArray[np.float32], spots: NDArray[np.float64]) -> NDArray[np.float32]:
    columns, rows = spots.astype(np.float32).T
    sampled = cv2.remap(light, columns, rows, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(sampled, np.float32).ravel()


def _texture(grey: NDArray[np.uint8], inside: NDArray[np.bool_]) -> float:
    """Scatter of the grey levels about the plane that fits their shading best."""
    rows, columns = np.nonzero(inside)
    if len(rows) < 16:
        return float("inf")
    levels = grey[rows, columns].astype(float)
    plane = np.column_stack([rows, columns, np.ones(len(rows))])
    _, squares, *_ = np.linalg.lstsq(plane, levels, rcond=None)
    return float(np.sqrt(squares.sum() / len(levels)))


def _sides_px(corners_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """(4,) array: lengths of top, right, bottom and left."""
    sides: NDArray[np.float64] = np.linalg.norm(
        np.roll(corners_px, -1, axis=0) - corners_px, axis=1
    )
    return sides


def _refused(code: NoticeCode, message: str) -> Refusal:
    return Refusal.because(code, message, _REMEDY, asks=("points",))
