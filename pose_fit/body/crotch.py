"""The crotch in the silhouette: the top of the gap between the legs.

The pose model's mask is coarse (some five working pixels a cell), so it only says
where to look. The gap is cut out anew at the working resolution in a patch that
follows the legs, by colour models of the legs and of what is behind them
(Rother, Kolmogorov and Blake 2004).
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body
from pose_fit.photo import Photo
from pose_fit.refusal import Notice

__all__ = ["CrotchPoint", "LegPatch", "find_crotch", "leg_patch"]

#: The patch spans these parts of the leg: along it from above the hips to the ankles, and across.
_ALONG: Final = (-0.10, 0.95)
_ACROSS: Final = 0.42
#: Rows of the patch a leg's length; beyond this the colour models gain nothing.
_MAX_LEG_ROWS: Final = 420
#: Half width of the strip along the bones that is surely leg, in leg lengths.
_BONE_HALF_WIDTH: Final = 0.035
#: Where along the leg the top of the gap can lie: below the hip joints, above the knees.
_CROTCH_RANGE: Final = (0.03, 0.42)
#: Narrowest gap that counts as one, in leg lengths.
_MIN_GAP_WIDTH: Final = 0.006


@dataclass(frozen=True, slots=True)
class LegPatch:
    """A window that follows the legs: rows run from the hips to the ankles.

    Attributes
    ----------
    to_picture
        (2, 3) affine map from patch (column, row) to working pixels.
    rows_a_leg
        Rows between hips and ankles.
    hip_row
        Row of the line between the hips.
    """

    to_picture: NDArray[np.float64]
    width: int
    height: int
    rows_a_leg: float
    hip_row: float

    def warp(self, image: NDArray[np.uint8] | NDArray[np.float32]) -> NDArray[np.float32]:
        """The picture or a mask, sampled on the patch."""
        warped = cv2.warpAffine(
            image.astype(np.float32),
            self.to_picture,
            (self.width, self.height),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        )
        return np.asarray(warped, np.float32)

    def to_patch(self, working_px: NDArray[np.float64]) -> NDArray[np.float64]:
        """(N, 2) working pixels as (column, row)."""
        inverse = cv2.invertAffineTransform(self.to_picture)
        moved: NDArray[np.float64] = working_px @ inverse[:, :2].T + inverse[:, 2]
        return moved

    def from_patch(self, places: NDArray[np.float64]) -> NDArray[np.float64]:
        """(N, 2) places (column, row) as working pixels."""
        moved: NDArray[np.float64] = places @ self.to_picture[:, :2].T + self.to_picture[:, 2]
        return moved


@dataclass(frozen=True, slots=True)
class CrotchPoint:
    """Top of the gap between the legs.

    Attributes
    ----------
    point_px
        (2,) array, upright pixels.
    edge_sd_px
        Standard uncertainty of the edge along the leg, upright pixels.
    gap_part
        Width of the gap a tenth of a leg below its top, in leg lengths: narrow where
        the thighs touch or loose cloth fills the gap.
    thigh_part
        Width of one thigh there, in leg lengths: large in loose trousers.
    """

    point_px: NDArray[np.float64]
    edge_sd_px: float
    gap_part: float
    thigh_part: float


def leg_patch(photo: Photo, body: Body) -> LegPatch:
    """The window along the legs of a body."""
    hips_px, ankles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    along = ankles_px - hips_px
    leg_px = float(np.hypot(*along))
    along = along / leg_px
    rows_a_leg = min(leg_px, float(_MAX_LEG_ROWS))
    px_a_row = leg_px / rows_a_leg
    width = 2 * round(_ACROSS * rows_a_leg) + 1
    height = round((_ALONG[1] - _ALONG[0]) * rows_a_leg)
    across = np.array([along[1], -along[0]])
    hip_row = -_ALONG[0] * rows_a_leg
    corner_px = hips_px - px_a_row * ((width - 1) / 2 * across + hip_row * along)
    to_picture = np.column_stack([across * px_a_row, along * px_a_row, corner_px])
    return LegPatch(to_picture, width, height, rows_a_leg, hip_row)


def find_crotch(photo: Photo, body: Body) -> CrotchPoint | Notice:
    """Top of the gap between the legs, or a notice that says why it is not to be had."""
    patch = leg_patch(photo, body)
    bones = [patch.to_patch(photo.working_px(body.points_px(leg))) for leg in (LEFT_LEG, RIGHT_LEG)]
    person = _cut_out(patch, photo, body, bones)
    left, right = (_bone_columns(bone, patch.height) for bone in sorted(bones, key=_mean_column))
    gap = _gap_intervals(person, left, right)
    top = _top_of_gap(gap, patch)
    if top is None:
        return Notice(
            "crotch_hidden",
            "The legs do not part visibly below the crotch: the feet are together,"
            " or the clothes hide it.",
        )
    row, column = top
    below = min(int(row + 0.10 * patch.rows_a_leg), patch.height - 1)
    start, end = gap[below]
    thigh = _thigh_width(person, below, start, end)
    scale = float(np.hypot(*patch.to_picture[:, 1])) * photo.working_scale
    point_px = photo.upright_px(patch.from_patch(np.array([[column, row]])))[0]
    return CrotchPoint(
        point_px=point_px,
        edge_sd_px=_edge_sd_rows(patch, photo, row, column) * scale,
        gap_part=max(end - start, 0.0) / patch.rows_a_leg,
        thigh_part=thigh / patch.rows_a_leg,
    )


def _cut_out(
    patch: LegPatch, photo: Photo, body: Body, bones: list[NDArray[np.float64]]
) -> NDArray[np.bool_]:
    """(H, W) True where the patch shows the person."""
    pixels = np.ascontiguousarray(patch.warp(photo.pixels)[..., ::-1].astype(np.uint8))
    coarse = patch.warp(body.mask)
    labels = np.where(coarse > 0.5, cv2.GC_PR_FGD, cv2.GC_PR_BGD).astype(np.uint8)
    labels[coarse < 0.03] = cv2.GC_BGD
    bone_px = max(1, round(2 * _BONE_HALF_WIDTH * patch.rows_a_leg))
    strip = np.zeros_like(labels)
    for bone in bones:
        cv2.polylines(strip, [np.round(bone).astype(np.int32)], False, (1,), bone_px)
    labels[(strip == 1) & (coarse > 0.4)] = cv2.GC_FGD
    # Above the hips everything the coarse mask is sure of is person: shirts differ from legs.
    head = int(patch.hip_row)
    labels[:head][coarse[:head] > 0.8] = cv2.GC_FGD
    models = np.zeros((2, 1, 65))
    # Its clustering draws random numbers: the same photo must give the same answer.
    cv2.setRNGSeed(0)
    whole = (0, 0, patch.width, patch.height)
    cv2.grabCut(pixels, labels, whole, models[0], models[1], 4, cv2.GC_INIT_WITH_MASK)
    return np.isin(labels, (cv2.GC_FGD, cv2.GC_PR_FGD))


def _bone_columns(bone: NDArray[np.float64], height: int) -> NDArray[np.float64]:
    """(H,) column of a leg's bones in every row of the patch."""
    order = np.argsort(bone[:, 1])
    columns: NDArray[np.float64] = np.interp(np.arange(height), bone[order, 1], bone[order, 0])
    return columns


def _mean_column(bone: NDArray[np.float64]) -> float:
    return float(bone[:, 0].mean())


def _gap_intervals(
    person: NDArray[np.bool_], left: NDArray[np.float64], right: NDArray[np.float64]
) -> NDArray[np.float64]:
    """(H, 2) first and last column of the widest run of background between the bones; -1 if none."""
    gap = np.full((len(person), 2), -1.0)
    for row, line in enumerate(person):
        low, high = int(np.ceil(left[row])), int(np.floor(right[row]))
        if high - low < 2:
            continue
        ends = np.flatnonzero(np.diff(np.concatenate([[True], line[low : high + 1], [True]])))
        starts, stops = ends[::2], ends[1::2]
        if len(starts):
            widest = int(np.argmax(stops - starts))
            gap[row] = low + starts[widest], low + stops[widest]
    return gap


def _top_of_gap(gap: NDArray[np.float64], patch: LegPatch) -> tuple[float, float] | None:
    """Row and column of the top, following the gap upward from where it is surely open."""
    least = max(1.0, _MIN_GAP_WIDTH * patch.rows_a_leg)
    first, last = (round(patch.hip_row + part * patch.rows_a_leg) for part in _CROTCH_RANGE)
    widths = gap[:, 1] - gap[:, 0]
    open_rows = np.flatnonzero(widths[: last + 1] >= least)
    open_rows = open_rows[open_rows >= first]
    if not len(open_rows) or open_rows[-1] < last - 1:
        return None
    row = int(open_rows[-1])
    while row > 0 and widths[row - 1] >= least and _overlap(gap[row], gap[row - 1]):
        row -= 1
    if row <= first:
        return None
    return row - 0.5, float(gap[row].mean()) - 0.5


def _overlap(one: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    return bool(min(one[1], other[1]) > max(one[0], other[0]))


def _thigh_width(person: NDArray[np.bool_], row: int, start: float, end: float) -> float:
    """Mean width of the two legs beside the gap in one row, in columns."""
    line = person[row]
    left = int(start) - 1
    while left > 0 and line[left]:
        left -= 1
    right = int(end)
    while right < len(line) - 1 and line[right]:
        right += 1
    return ((start - left) + (right - end)) / 2


def _edge_sd_rows(patch: LegPatch, photo: Photo, row: float, column: float) -> float:
    """How blurred the edge is at the top of the gap, in rows: a rectangle's spread of its width."""
    grey = cv2.GaussianBlur(patch.warp(photo.grey), (0, 0), 0.7)
    reach = max(4, round(0.03 * patch.rows_a_leg))
    low, high = max(int(row) - reach, 0), min(int(row) + reach, patch.height - 1)
    cut = grey[low : high + 1, int(np.clip(column, 0, patch.width - 1))]
    slope = np.abs(np.gradient(cut))
    total = float(slope.sum())
    if total < 1e-6:
        return float(reach)
    width = total / max(float(slope.max()), 1e-6)
    return max(1.0, width) / float(np.sqrt(12)) + 0.5
