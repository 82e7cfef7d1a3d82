"""What the network sees in a photo whose hips and ankles are known, by OpenCV's ``dnn``."""

from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.sights_net.window import SIGHTS, STRIDE, WINDOW_PX, window_map

__all__ = ["Seen", "SightsModel"]


@dataclass(frozen=True, slots=True)
class Seen:
    """One sight in picture pixels: mode of its distribution, (2,), and its spread.

    ``spread_px`` is half the length along the leg that holds 68 % of the distribution;
    ``sureness`` is the share of it within a 38th of a leg of the mode.
    """

    point_px: NDArray[np.float64]
    spread_px: float
    sureness: float


class SightsModel:
    """The network of one ONNX file."""

    def __init__(self, path: Path) -> None:
        self._net = cv2.dnn.readNetFromONNX(str(path))

    def see(
        self,
        picture: NDArray[np.uint8],
        hips_px: NDArray[np.float64],
        ankles_px: NDArray[np.float64],
    ) -> dict[str, Seen]:
        """Every sight; ``picture`` is (H, W, 3) RGB, hips and ankles the middles, (2,)."""
        to_picture = window_map(hips_px, ankles_px)
        shrink = float(np.hypot(*to_picture[:, 0]))
        if shrink > 1.3:
            picture = np.asarray(cv2.GaussianBlur(picture, (0, 0), 0.35 * shrink), np.uint8)
        window = cv2.warpAffine(
            picture,
            to_picture,
            (WINDOW_PX[1], WINDOW_PX[0]),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        )
        self._net.setInput(window.astype(np.float32).transpose(2, 0, 1)[None] / 255)
        maps = np.asarray(self._net.forward()[0], np.float64)
        return {
            name: _seen(scores, to_picture, shrink)
            for name, scores in zip(SIGHTS, maps, strict=True)
        }


def _seen(scores: NDArray[np.float64], to_picture: NDArray[np.float64], shrink: float) -> Seen:
    weights = np.exp(scores - scores.max())
    weights /= weights.sum()
    smooth = cv2.GaussianBlur(weights, (0, 0), 2.0)
    row, column = np.unravel_index(int(smooth.argmax()), smooth.shape)
    rows, columns = np.indices(weights.shape)
    near = (np.abs(rows - row) <= 3) & (np.abs(columns - column) <= 3)
    mass = float(weights[near].sum())
    place = np.array([(weights * near * columns).sum(), (weights * near * rows).sum()]) / mass
    along = np.cumsum(weights.sum(axis=1))
    low, high = np.interp([0.16, 0.84], along, np.arange(len(along)))
    # A cell's middle lies half a pixel behind its first pixel.
    inside = place * STRIDE + (STRIDE - 1) / 2
    return Seen(
        point_px=to_picture[:, :2] @ inside + to_picture[:, 2],
        spread_px=float(high - low) / 2 * STRIDE * shrink,
        sureness=mass,
    )
