"""The crotch in the picture: the top of the line along which the legs part.

The pose model's mask is coarse (some five working pixels a cell) and sees no crotch
where the thighs touch. But the line between the legs stays visible above the open
gap as a crease: along it the middle differs from both sides, be it wall, shadow or
fold, and at the crotch that difference ends. The line is followed upward between
the legs by dynamic programming (Bellman 1957) at the working resolution.
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

# All parts are parts of the leg, hip to ankle.
#: The patch spans these parts along the leg from the hips, and this one to each side.
_ALONG: Final = (-0.10, 0.95)
_ACROSS: Final = 0.42
#: Rows of the patch a leg's length; more gain nothing.
_MAX_LEG_ROWS: Final = 420
#: The line is followed from above the knees to the hips, this near the middle.
_FOLLOWED: Final = (-0.06, 0.46)
_BAND: Final = 0.11
#: Distances from the middle to the cloth or skin it is compared with.
_SIDES: Final = (0.022, 0.045, 0.09, 0.15)
#: Smoothing along the line and across it.
_SMOOTH: Final = (0.010, 0.003)
#: A step sideways a row costs this much contrast; contrast beyond the cap counts no more.
_STEP_COST: Final = 1.5
_CAP: Final = 18.0
#: Contrast that makes a line, in units of CIELAB: at least this, and at least this share of
#: what the line has further down.
_LEAST_CONTRAST: Final = 8.0
_SHARE_OF_USUAL: Final = 0.5
#: The line's end is the largest rise of its contrast between two stretches of this length.
_STRETCH: Final = 0.06
#: Least rise, and least contrast below it, as shares of the contrast that makes a line.
_LEAST_RISE: Final = 0.35
_LEAST_BELOW: Final = 0.6


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
    """Top of the line along which the legs part.

    Attributes
    ----------
    point_px
        (2,) array, upright pixels.
    edge_sd_px
        Standard uncertainty of the line's end along the leg, upright pixels.
    open_part
        Share of the line's uppermost tenth of a leg where the gap is open, 0 to 1: small
        where the thighs touch or cloth hangs between them.
    contrast
        Rise of the contrast at the line's end over the contrast that makes a line, 0 to 1.
    thigh_part
        Mean width of one thigh there, in legs: large in loose trousers.
    """

    point_px: NDArray[np.float64]
    edge_sd_px: float
    open_part: float
    contrast: float
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
    """Top of the line between the legs, or a notice that says why it is not to be had."""
    patch = leg_patch(photo, body)
    bones = [patch.to_patch(photo.working_px(body.points_px(leg))) for leg in (LEFT_LEG, RIGHT_LEG)]
    columns = np.stack([_bone_columns(bone, patch.height) for bone in bones])
    contrast = _contrast_map(patch, photo)
    first, last = (round(patch.hip_row + part * patch.rows_a_leg) for part in _FOLLOWED)
    path = _follow(contrast, columns.mean(axis=0), patch, first, last)
    along = contrast[np.arange(first, last), path]
    end = _end_of_line(along, patch.rows_a_leg)
    if end is None:
        return Notice(
            "crotch_hidden",
            "The legs do not part visibly below the crotch: the clothes hide it,"
            " or the feet are together.",
        )
    mask = patch.warp(body.mask)
    below = np.arange(round(end.row), min(round(end.row + 0.10 * patch.rows_a_leg), len(path)))
    place = np.array([[float(path[round(end.row)]), first + end.row]])
    scale = float(np.hypot(*patch.to_picture[:, 1])) * photo.working_scale
    return CrotchPoint(
        point_px=photo.upright_px(patch.from_patch(place))[0],
        edge_sd_px=end.sd_rows * scale,
        open_part=float((mask[first + below, path[below]] < 0.5).mean()),
        contrast=end.rise,
        thigh_part=_thigh_columns(mask, first + int(below[-1])) / patch.rows_a_leg,
    )


def _bone_columns(bone: NDArray[np.float64], height: int) -> NDArray[np.float64]:
    """(H,) column of a leg's bones in every row of the patch."""
    order = np.argsort(bone[:, 1])
    columns: NDArray[np.float64] = np.interp(np.arange(height), bone[order, 1], bone[order, 0])
    return columns


def _contrast_map(patch: LegPatch, photo: Photo) -> NDArray[np.float64]:
    """(H, W) by how much a place differs from both its sides, the best over several distances."""
    colours = cv2.cvtColor(patch.warp(photo.pixels) / 255, cv2.COLOR_RGB2LAB)
    along, across = (max(part * patch.rows_a_leg, 0.6) for part in _SMOOTH)
    colours = cv2.GaussianBlur(colours, (0, 0), sigmaX=across, sigmaY=along)
    best = np.zeros(colours.shape[:2])
    for part in _SIDES:
        reach = max(2, round(part * patch.rows_a_leg))
        padded = np.pad(colours, ((0, 0), (reach, reach), (0, 0)), mode="edge")
        left = np.linalg.norm(colours - padded[:, : -2 * reach], axis=2)
        right = np.linalg.norm(colours - padded[:, 2 * reach :], axis=2)
        best = np.maximum(best, np.minimum(left, right))
    return best


def _follow(
    contrast: NDArray[np.float64],
    middle: NDArray[np.float64],
    patch: LegPatch,
    first: int,
    last: int,
) -> NDArray[np.intp]:
    """(last - first,) column of the strongest connected line from the last row up to the first."""
    reach = round(_BAND * patch.rows_a_leg)
    centres = np.clip(np.round(middle[first:last]).astype(int), reach, patch.width - 1 - reach)
    offsets = np.arange(-reach, reach + 1)
    band = np.minimum(
        np.stack([contrast[first + row, centres[row] + offsets] for row in range(last - first)]),
        _CAP,
    )
    total = band[-1].copy()
    choices = np.zeros(band.shape, int)
    for row in range(len(band) - 2, -1, -1):
        # Columns of neighbouring rows are counted from centres that may differ by a column.
        drift = int(centres[row] - centres[row + 1])
        options = np.stack(
            [_shifted(total, drift + step) - _STEP_COST * abs(step) for step in (-1, 0, 1)]
        )
        choices[row] = options.argmax(axis=0) - 1
        total = band[row] + options.max(axis=0)
    path = np.zeros(len(band), int)
    place = int(total.argmax())
    for row in range(len(band)):
        path[row] = centres[row] + offsets[place]
        if row + 1 < len(band):
            drift = int(centres[row] - centres[row + 1])
            place = int(np.clip(place + drift + choices[row, place], 0, len(offsets) - 1))
    return path


def _shifted(values: NDArray[np.float64], by: int) -> NDArray[np.float64]:
    """values[i + by], and minus infinity beyond the ends."""
    shifted = np.full_like(values, -np.inf)
    if by >= 0:
        shifted[: len(values) - by] = values[by:]
    else:
        shifted[-by:] = values[:by]
    return shifted


@dataclass(frozen=True, slots=True)
class _End:
    """Row at which the line ends, counted from the first followed row, and how surely."""

    row: float
    sd_rows: float
    rise: float


def _end_of_line(along: NDArray[np.float64], rows_a_leg: float) -> _End | None:
    """Where the contrast along the path rises from cloth to line; None where it does not."""
    stretch = max(4, round(_STRETCH * rows_a_leg))
    usual = float(np.median(along[len(along) // 3 :]))
    level = max(_LEAST_CONTRAST, _SHARE_OF_USUAL * usual)
    share = np.minimum(along / level, 1.0)
    sums = np.concatenate([[0.0], np.cumsum(share)])
    rows = np.arange(stretch, len(along) - stretch)
    above = (sums[rows] - sums[rows - stretch]) / stretch
    below = (sums[rows + stretch] - sums[rows]) / stretch
    rise = np.where(below >= _LEAST_BELOW, below - above, -np.inf)
    best = int(rise.argmax())
    if not rise[best] >= _LEAST_RISE:
        return None
    row = int(rows[best])
    window = share[row - stretch : row + stretch]
    low, high = above[best], below[best]
    climbing = (window > low + 0.25 * (high - low)) & (window < low + 0.75 * (high - low))
    return _End(
        row=row - 0.5,
        sd_rows=float(np.hypot(0.5, climbing.sum() / np.sqrt(12))),
        rise=float(rise[best]),
    )


def _thigh_columns(mask: NDArray[np.float32], row: int) -> float:
    """Mean width of one thigh: half of the row's person columns, without the open gap."""
    return float((mask[row] > 0.5).sum()) / 2
