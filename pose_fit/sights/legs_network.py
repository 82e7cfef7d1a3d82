"""The one place that runs the trained network, by OpenCV's ``dnn``: a window along the legs in,
a distribution over places out for each sight.

Its weights were trained by ``calibration.sights_net`` on rendered children of known truth.
"""

import functools
import threading
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.window import window_around

__all__ = [
    "JOINTS",
    "LEG_PX",
    "SIGHTS",
    "STRIDE",
    "WINDOW_HIP_ROW",
    "WINDOW_PX",
    "LegsNetwork",
    "NetworkSight",
    "legs_network",
    "window_map",
]

#: Height and width of the window, and rows a leg's length from hips to ankles.
WINDOW_PX: Final = (320, 224)
LEG_PX: Final = 190.0
#: Row of the line between the hips.
WINDOW_HIP_ROW: Final = 28.0
#: Window pixels a cell of the maps.
STRIDE: Final = 2
#: Sides are those of the picture.
SIGHTS: Final = (
    "crotch",
    "cloth_crotch",
    "toe_left",
    "toe_right",
    "heel_left",
    "heel_right",
    "base_left",
    "base_right",
)
#: Joint centres; sides are those of the picture.
JOINTS: Final = ("hip_left", "hip_right", "knee_left", "knee_right", "ankle_left", "ankle_right")
#: Cells to each side of the mode that count as one place.
_NEAR: Final = 3


@dataclass(frozen=True, eq=False, slots=True)
class NetworkSight:
    """One sight in pixels of the picture that the network was shown.

    Attributes
    ----------
    point_px
        (2,) array: the mode of its distribution.
    spread_px
        Half the length along the leg that holds 68 % of the distribution.
    sureness
        Share of the distribution within a 27th of a leg of the mode, 0 to 1.
    """

    point_px: NDArray[np.float64]
    spread_px: float
    sureness: float


class LegsNetwork:
    """The network of one ONNX file. Threads take turns: OpenCV's networks hold their inputs."""

    def __init__(self, weights: bytes) -> None:
        self._net = cv2.dnn.readNetFromONNX(np.frombuffer(weights, np.uint8))
        self._turn = threading.Lock()

    def see(
        self,
        picture: NDArray[np.uint8],
        hips_px: NDArray[np.float64],
        ankles_px: NDArray[np.float64],
    ) -> Mapping[str, NetworkSight]:
        """Every sight of `SIGHTS` and `JOINTS`.

        Parameters
        ----------
        picture
            (H, W, 3) array, RGB.
        hips_px, ankles_px
            (2,) arrays: the middles between the hips and between the ankles.
        """
        to_picture = window_map(hips_px, ankles_px)
        window = _window(picture, to_picture).astype(np.float32) / 255
        with self._turn:
            self._net.setInput(window.transpose(2, 0, 1)[None])
            maps = np.asarray(self._net.forward()[0], np.float64)
        names = (*SIGHTS, *JOINTS)
        return {name: _sight(scores, to_picture) for name, scores in zip(names, maps, strict=True)}


@functools.cache
def legs_network(path: Path | None = None) -> LegsNetwork:
    """The shipped network, or that of a file; read at the first call."""
    file = resources.files("pose_fit.sights").joinpath("legs.onnx") if path is None else path
    return LegsNetwork(file.read_bytes())


def window_map(hips_px: NDArray[np.float64], ankles_px: NDArray[np.float64]) -> NDArray[np.float64]:
    """(2, 3) affine map from window (column, row) to picture pixels."""
    along = ankles_px - hips_px
    scale = float(np.hypot(*along)) / LEG_PX
    along = along / np.hypot(*along)
    across = np.array([along[1], -along[0]])
    middle = (WINDOW_PX[1] - 1) / 2
    corner = hips_px - scale * (middle * across + WINDOW_HIP_ROW * along)
    return np.column_stack([across * scale, along * scale, corner])


def _window(picture: NDArray[np.uint8], to_picture: NDArray[np.float64]) -> NDArray[np.uint8]:
    """(H, W, 3) the window; smoothed first where it has fewer pixels than the picture."""
    height, width = WINDOW_PX
    corners = np.array([[0, 0, 1], [width, 0, 1], [0, height, 1], [width, height, 1]], float)
    shrink = float(np.hypot(*to_picture[:, 0]))
    rows, columns = window_around(picture.shape, corners @ to_picture.T, margin_px=3.0 + 2 * shrink)
    part, moved = picture[rows, columns], to_picture.copy()
    moved[:, 2] -= (columns.start, rows.start)
    if shrink > 1.3:
        part = np.asarray(cv2.GaussianBlur(part, (0, 0), 0.35 * shrink), np.uint8)
    window = cv2.warpAffine(
        part,
        moved,
        (width, height),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(window, np.uint8)


def _sight(scores: NDArray[np.float64], to_picture: NDArray[np.float64]) -> NetworkSight:
    """Mode, spread and sureness of a map of log weights."""
    weights = np.exp(scores - scores.max())
    weights /= weights.sum()
    smooth = cv2.GaussianBlur(weights, (0, 0), 2.0)
    row, column = np.unravel_index(int(smooth.argmax()), smooth.shape)
    rows, columns = np.indices(weights.shape)
    near = (np.abs(rows - row) <= _NEAR) & (np.abs(columns - column) <= _NEAR)
    mass = float(weights[near].sum())
    place = np.array([(weights * near * columns).sum(), (weights * near * rows).sum()]) / mass
    along = np.cumsum(weights.sum(axis=1))
    low, high = np.interp([0.16, 0.84], along, np.arange(len(along)))
    # A cell's middle lies half a pixel behind its first pixel.
    inside = place * STRIDE + (STRIDE - 1) / 2
    return NetworkSight(
        point_px=to_picture[:, :2] @ inside + to_picture[:, 2],
        spread_px=float(high - low) / 2 * STRIDE * float(np.hypot(*to_picture[:, 0])),
        sureness=mass,
    )
