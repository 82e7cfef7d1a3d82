"""The scale at which the sheet was printed, from the paper's edges around its marks.

Paper is cut to its size more exactly than printers keep to a scale. Where the paper's edges are
seen against the wall, the marks tell how large it looks in printed millimetres, and its true
size what a printed millimetre measures.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import leastsq
from scipy.special import ndtr

from pose_fit.metrology.propagation import weighted_mean
from pose_fit.reference.paper import PAPER_SD_MM, PAPER_SIZE_MM
from pose_fit.reference.printed_sheet import BLOCK_HEIGHT_MM, BLOCK_WIDTH_MM, MARKER_SIDE_MM

__all__ = ["MAX_LOG_SCALE", "PrintScale", "seen_print_scale"]

#: Papers differ by 2.8 % in width and 6.1 % in height, so that a change of both up to this leaves
#: no doubt which one it is; printers stay within (from memory, weak).
MAX_LOG_SCALE: Final = 0.05
#: Scatter of a margin about its true width, working pixels: rendered photos of series 1 and 4.
EDGE_SD_PX: Final = 0.18
#: How far all edges of a picture together may look shifted by what its maker does to light:
#: 0.09 pixels on average in rendered photos of series 5, none in those of series 1 and 4.
SHIFT_SD_PX: Final = 0.1
#: Paper against wall in linear light. With less the edge is lost in ripples of sharpening.
MIN_CONTRAST: Final = 0.1
#: Part of a marker's side that is looked at: beyond it, other edges blur in.
_SPAN_PART: Final = 0.84
#: Cuts run from within the marker's black border, 14.7 mm wide, to this far beyond the edge, mm.
_INSIDE_MM, _BEYOND_MM = 8.0, 8.0
#: Least and largest margin beside and above or below the marks: 10 to 21 mm, as much less or
#: more as printers shift and scale a page, mm.
_MARGINS_MM: Final = ((5.5, 21.0), (6.0, 32.0))
_CUT_STEP_PX: Final = 0.5
#: Sharpening spreads this much wider than blur, and where a fit of both begins.
_RIPPLE: Final = 3.0
_FIRST_BLUR_PX, _FIRST_SHARPNESS = 0.7, 0.2
#: Of a cut's model; most fits take 40.
_MOST_EVALUATIONS: Final = 300


@dataclass(frozen=True, slots=True)
class PrintScale:
    """Logarithm of printed over nominal length, and its standard uncertainty."""

    log_scale: float
    sd: float


@dataclass(frozen=True, slots=True)
class _Length:
    """A length in printed millimetres with its standard uncertainty."""

    mm: float
    sd_mm: float


def seen_print_scale(
    light: NDArray[np.float32], corners_mm: NDArray[np.float64], corners_px: NDArray[np.float64]
) -> PrintScale | None:
    """The scale by the paper's edges; None where they are not all seen, or not of one paper.

    Parameters
    ----------
    light
        (H, W) array: linear light from 0 to 1.
    corners_mm, corners_px
        (M, 4, 2) arrays: corners of the markers seen, in the sheet's frame and in the picture.
    """
    found, _ = cv2.findHomography(corners_mm.reshape(-1, 2), corners_px.reshape(-1, 2))
    homography = np.asarray(found, np.float64)
    size: list[_Length] = []
    for axis, block_mm in enumerate((BLOCK_WIDTH_MM, BLOCK_HEIGHT_MM)):
        low, high = (
            _agreed(list(_margins(light, homography, corners_mm, axis=axis, sign=sign)))
            for sign in (-1, 1)
        )
        if low is None or high is None:
            return None
        size.append(_Length(block_mm + low.mm + high.mm, math.hypot(low.sd_mm, high.sd_mm)))
    scales = [scale for paper_mm in PAPER_SIZE_MM.values() if (scale := _scale_of(size, paper_mm))]
    if len(scales) != 1:
        return None
    side_px = np.linalg.norm(np.roll(corners_px, -1, axis=1) - corners_px, axis=2).mean()
    shift_mm = 2 * SHIFT_SD_PX * MARKER_SIDE_MM / float(side_px)
    return PrintScale(scales[0].log_scale, math.hypot(scales[0].sd, shift_mm / size[0].mm))


def _scale_of(size: list[_Length], paper_mm: tuple[float, float]) -> PrintScale | None:
    """The scale at which the paper looks of this size; None where it is another paper."""
    logs = np.array([math.log(true / seen.mm) for true, seen in zip(paper_mm, size, strict=True)])
    sds = np.array([math.hypot(seen.sd_mm, PAPER_SD_MM) / seen.mm for seen in size])
    apart = abs(float(logs[0] - logs[1])) / float(np.hypot(*sds))
    log_scale, sd = weighted_mean(logs, sds)
    if apart > 3 or abs(log_scale) > MAX_LOG_SCALE:
        return None
    return PrintScale(log_scale, sd)


def _agreed(margins: list[_Length]) -> _Length | None:
    """One margin of the paper, seen beside one marker or two."""
    if not margins:
        return None
    return _Length(*weighted_mean([one.mm for one in margins], [one.sd_mm for one in margins]))


def _margins(
    light: NDArray[np.float32],
    homography: NDArray[np.float64],
    corners_mm: NDArray[np.float64],
    *,
    axis: int,
    sign: int,
) -> Iterator[_Length]:
    """White between the markers on one side of the block and the paper's edge there."""
    out = np.zeros(2)
    out[axis] = sign
    for centre_mm in corners_mm.mean(axis=1):
        if centre_mm[axis] * sign > 0:
            margin = _margin(light, homography, centre_mm + MARKER_SIDE_MM / 2 * out, out)
            if margin is not None:
                yield margin


def _margin(
    light: NDArray[np.float32],
    homography: NDArray[np.float64],
    middle_mm: NDArray[np.float64],
    out: NDArray[np.float64],
) -> _Length | None:
    """From the middle of a marker's side outwards: black, white, wall, as the picture blurs them."""
    low_mm, high_mm = _MARGINS_MM[int(out[1] != 0)]
    along = out[::-1]
    near_px = _seen_px(homography, middle_mm + np.array([0 * out, along, out]))
    along_px, px_per_mm = np.linalg.norm(near_px[1:] - near_px[0], axis=1)
    reach_mm = MARKER_SIDE_MM * _SPAN_PART / 2
    places_mm = np.linspace(-reach_mm, reach_mm, max(9, int(2 * reach_mm * along_px)))
    away_mm = np.arange(-_INSIDE_MM, high_mm + _BEYOND_MM, _CUT_STEP_PX / px_per_mm)
    cuts_mm = middle_mm + places_mm[:, None, None] * along + away_mm[None, :, None] * out
    cuts_px = _seen_px(homography, cuts_mm).astype(np.float32)
    shades = cv2.remap(light, cuts_px[..., 0], cuts_px[..., 1], cv2.INTER_LINEAR)
    steps = _Steps(away_mm, np.median(shades, axis=0).astype(float))
    blur_mm = _FIRST_BLUR_PX / px_per_mm
    shapes = np.array(
        [
            [0.0, margin_mm, blur_mm, _FIRST_SHARPNESS]
            for margin_mm in np.arange(low_mm + 0.5, high_mm, 1.0)
        ]
    )
    first = shapes[np.argmin(steps.doubts(shapes))]
    steps = _Steps(away_mm, steps.shades, until_mm=float(first[1]) + _BEYOND_MM)
    best, covariance, run, *_ = leastsq(
        steps.residuals, first, full_output=True, maxfev=_MOST_EVALUATIONS
    )
    bloom_mm, margin_mm, _, _ = best
    if not (low_mm < margin_mm < high_mm and abs(bloom_mm) < 2 / px_per_mm):
        return None
    white, wall = steps.rises(best)
    if abs(wall) < MIN_CONTRAST or white < abs(wall) / 2:
        return None
    # What moves the marker's own edge moves the paper's as well, in proportion to its contrast.
    margin_mm -= bloom_mm * wall / white
    if covariance is None or np.linalg.cond(covariance) > 1e12:
        return None
    left = run["fvec"]
    noise = float(left @ left) / max(1, len(left) - 7)
    fit_sd_mm = math.sqrt(noise * covariance[1, 1])
    return _Length(float(margin_mm), math.hypot(fit_sd_mm, EDGE_SD_PX / float(px_per_mm)))


def _seen_px(
    homography: NDArray[np.float64], points_mm: NDArray[np.float64]
) -> NDArray[np.float64]:
    """(..., 2) points of the sheet as seen."""
    seen = cv2.perspectiveTransform(points_mm.reshape(1, -1, 2), homography)
    return np.asarray(seen, np.float64).reshape(points_mm.shape)


class _Steps:
    """A cut with two steps, at the marker's edge and the paper's, blurred and sharpened alike.

    Three levels fit any such cut best by linear least squares, so that only the steps' places,
    their blur and their sharpness are looked for: ``(bloom_mm, margin_mm, blur_mm, sharpness)``.
    """

    def __init__(
        self,
        away_mm: NDArray[np.float64],
        shades: NDArray[np.float64],
        until_mm: float = math.inf,
    ) -> None:
        self.away_mm = away_mm[away_mm < until_mm]
        self.shades = shades[: len(self.away_mm)]

    def residuals(self, shape: NDArray[np.float64]) -> NDArray[np.float64]:
        """(N,) array: seen less fitted shades."""
        steps = self._design(shape)
        left: NDArray[np.float64] = self.shades - steps @ self._levels(steps)
        return left

    def rises(self, shape: NDArray[np.float64]) -> tuple[float, float]:
        """White less black, and wall less white."""
        _, white, wall = self._levels(self._design(shape))
        return float(white), float(wall)

    def doubts(self, shapes: NDArray[np.float64]) -> NDArray[np.float64]:
        """(M,) array: scatter about the best fit of each shape over the paper's contrast there."""
        designs = np.stack([self._design(shape) for shape in shapes])
        levels = np.linalg.pinv(designs) @ self.shades
        scatter = (self.shades - (designs @ levels[..., None])[..., 0]).std(axis=1)
        doubts: NDArray[np.float64] = scatter / np.maximum(np.abs(levels[:, 2]), 1e-6)
        return doubts

    def _levels(self, steps: NDArray[np.float64]) -> NDArray[np.float64]:
        levels: NDArray[np.float64] = np.linalg.lstsq(steps, self.shades, rcond=None)[0]
        return levels

    def _design(self, shape: NDArray[np.float64]) -> NDArray[np.float64]:
        bloom_mm, margin_mm, blur_mm, sharpness = shape
        off = (self.away_mm[:, None] - [bloom_mm, margin_mm]) / max(abs(blur_mm), 1e-3)
        steps = np.ones((len(self.away_mm), 3))
        steps[:, 1:] = (1 + sharpness) * ndtr(off) - sharpness * ndtr(off / _RIPPLE)
        return steps
