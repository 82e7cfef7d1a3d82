"""How far the camera looks down, by upright edges of the room: door frames, corners, furniture.

Upright lines converge in the picture of a camera that looks down. With (x, y) pixels from the
picture's centre, an upright edge there runs along (a - c x, 1 - c y), where a is the tangent of the
camera's roll and 1/c the distance of the vertical vanishing point; c is the tangent of the pitch
over the focal length (Hartley and Zisserman 2004, 8.6), and needs no focal length to be seen.
"""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.camera_prior import CameraPrior, Convergence
from pose_fit.photo.photo import Photo

__all__ = ["find_convergence"]

#: Edges are looked for in a picture of this longer side, pixels, and count from this share of it.
_SIDE_PX: Final = 1000
_LEAST_LENGTH: Final = 0.03
#: At most so many edges, the longest.
_MOST: Final = 200
_FEWEST: Final = 3
#: Further from the picture's upright than this, as a tangent, an edge is taken for another one.
_STEEPEST: Final = 0.36
#: An upright edge of a room is this straight and upright; every other edge lies anywhere.
_EDGE_SD_RAD: Final = np.radians(0.7)
_OTHER: Final = 0.5
#: An edge of this share of the picture counts as one piece of evidence, longer ones as a half more.
_ONE_EDGE: Final = 0.1
_MOST_A_LINE: Final = 1.5
#: Tangents of roll and pitch that are tried, and the roll's standard uncertainty.
_ROLLS: Final = np.tan(np.radians(np.arange(-10.0, 10.1, 0.5)))
_PITCHES: Final = np.tan(np.radians(np.arange(-20.0, 50.1, 0.5)))
_ROLL_SD: Final = 0.05
#: A tangent of the pitch less sure than this says too little; none is surer than the child stands
#: upright and the edges of a room are: in rendered rooms what looked sure to a degree was off by up
#: to five.
_LEAST_SURE: Final = 0.1
_LEAN_SD: Final = 0.05
_ON_PERSON: Final = 0.2


@dataclass(frozen=True, eq=False, slots=True)
class _Edges:
    """(N, 2) middles from the picture's centre in focal lengths, (N, 2) ways, (N,) weights."""

    middles: NDArray[np.float64]
    ways: NDArray[np.float64]
    weights: NDArray[np.float64]


def find_convergence(photo: Photo, body: Body, camera: CameraPrior) -> Convergence | None:
    """The convergence of upright edges around the person; None where there are too few."""
    edges = _edges(photo, body, camera)
    if edges is None:
        return None
    pitches, rolls = _PITCHES[:, None, None], _ROLLS[:, None]
    # (P, R, N): angle of each edge to the way an upright one would run at its place.
    x_way = rolls - edges.middles[:, 0] * pitches
    y_way = 1.0 - edges.middles[:, 1] * pitches + 0.0 * rolls
    cross = x_way * edges.ways[:, 1] - y_way * edges.ways[:, 0]
    off_rad = cross / np.hypot(x_way, y_way)
    upright = np.exp(-0.5 * (off_rad / _EDGE_SD_RAD) ** 2) / (_EDGE_SD_RAD * np.sqrt(2 * np.pi))
    other = 1 / (2 * np.arctan(_STEEPEST))
    logs = (np.log((1 - _OTHER) * upright + _OTHER * other) * edges.weights).sum(axis=-1)
    logs -= 0.5 * (_ROLLS / _ROLL_SD) ** 2
    belief = np.exp(logs - logs.max()).sum(axis=1)
    belief /= belief.sum()
    mean = float(belief @ _PITCHES)
    sd = float(np.sqrt(belief @ (_PITCHES - mean) ** 2))
    if sd > _LEAST_SURE:
        return None
    return Convergence(mean / camera.focal_px, float(np.hypot(sd, _LEAN_SD)) / camera.focal_px)


def _edges(photo: Photo, body: Body, camera: CameraPrior) -> _Edges | None:
    scale = min(_SIDE_PX / max(photo.grey.shape), 1.0)
    grey = cv2.resize(photo.grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    found = cv2.createLineSegmentDetector().detect(grey)[0]
    if found is None:
        return None
    ends = np.asarray(found, float).reshape(-1, 2, 2)
    ways = ends[:, 1] - ends[:, 0]
    lengths = np.linalg.norm(ways, axis=1)
    side = max(grey.shape)
    chosen = (lengths > _LEAST_LENGTH * side) & (
        np.abs(ways[:, 0]) < _STEEPEST * np.abs(ways[:, 1])
    )
    middles_px = (ends.mean(axis=1) + 0.5) / scale - 0.5
    columns, rows = np.round(middles_px.T).astype(int)
    height, width = body.mask.shape
    person = body.mask[np.clip(rows, 0, height - 1), np.clip(columns, 0, width - 1)]
    chosen &= person < _ON_PERSON
    longest = np.flatnonzero(chosen)
    longest = longest[np.argsort(-lengths[longest])][:_MOST]
    if len(longest) < _FEWEST:
        return None
    from_centre_px = photo.upright_px(middles_px[longest]) - np.array(camera.centre_px)
    return _Edges(
        from_centre_px / camera.focal_px,
        ways[longest] / lengths[longest, None],
        np.minimum(lengths[longest] / (_ONE_EDGE * side), _MOST_A_LINE),
    )
