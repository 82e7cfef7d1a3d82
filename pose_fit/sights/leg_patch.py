"""A window of the picture that follows the legs, in which the line between them is looked for."""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEFT_LEG, RIGHT_LEG, Body
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around

__all__ = ["LegPatch", "bone_columns", "leg_patch", "patch_colours"]

# All parts are parts of the leg, hip to ankle.
#: The patch spans these parts along the leg from the hips, and this one to each side.
_ALONG: Final = (-0.10, 0.60)
_ACROSS: Final = 0.42
#: Rows of the patch a leg's length; more gain nothing.
_MAX_LEG_ROWS: Final = 420
#: Smoothing along the line and across it.
_SMOOTH: Final = (0.010, 0.003)


@dataclass(frozen=True, eq=False, slots=True)
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

    def row(self, part: float) -> int:
        """Row at a part of the leg below the hips."""
        return round(self.hip_row + part * self.rows_a_leg)

    def warp(self, image: NDArray[np.uint8] | NDArray[np.float32]) -> NDArray[np.float32]:
        """The picture or a mask, sampled on the patch."""
        size = (self.width, self.height)
        corners = np.multiply(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)), size)
        # Three pixels more on each side serve the interpolation.
        rows, columns = window_around(image.shape, self.from_patch(corners), margin_px=3.0)
        to_window = self.to_picture - [[0, 0, columns.start], [0, 0, rows.start]]
        warped = cv2.warpAffine(
            image[rows, columns].astype(np.float32),
            to_window,
            size,
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


def bone_columns(photo: Photo, body: Body, patch: LegPatch) -> NDArray[np.float64]:
    """(2, H) column of the bones of the left and the right leg in every row of the patch."""
    columns = []
    for leg in (LEFT_LEG, RIGHT_LEG):
        bone = patch.to_patch(photo.working_px(body.points_px(leg)))
        order = np.argsort(bone[:, 1])
        columns.append(np.interp(np.arange(patch.height), bone[order, 1], bone[order, 0]))
    return np.stack(columns)


def patch_colours(photo: Photo, patch: LegPatch) -> NDArray[np.float64]:
    """(H, W, 3) CIELAB, smoothed more along the legs than across."""
    colours = cv2.cvtColor(patch.warp(photo.pixels) / 255, cv2.COLOR_RGB2LAB)
    along, across = (max(part * patch.rows_a_leg, 0.6) for part in _SMOOTH)
    return np.asarray(cv2.GaussianBlur(colours, (0, 0), sigmaX=across, sigmaY=along), float)
