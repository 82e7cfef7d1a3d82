"""The top of the head in the picture, by the person's mask above the face."""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo

__all__ = ["Crown", "find_crown"]

#: How far above and beside the face's middle the crown is looked for, in distances from there to
#: between the shoulders. The face's middle lies half way up the head.
_REACH: Final = 1.6
_ASIDE: Final = 0.45
#: The head ends where fewer than this share of the looks put it on the person: what few of them
#: see above the rest is hair.
_END: Final = 0.25
#: A mask that fades over more than this, in the same distances, shows no edge.
_MAX_BLUR: Final = 0.9
_SEEN: Final = 0.5


@dataclass(frozen=True, eq=False, slots=True)
class Crown:
    """(2,) highest place of head and hair in upright pixels, and its standard uncertainty."""

    point_px: NDArray[np.float64]
    sd_px: float


def find_crown(photo: Photo, body: Body) -> Crown | None:
    """The crown; None where the head is cut off, unseen, or runs into something above it."""
    if min(body.seen("nose"), body.seen("left_shoulder"), body.seen("right_shoulder")) < _SEEN:
        return None
    face_px = photo.working_px(
        body.points_px(("left_eye", "right_eye", "left_ear", "right_ear", "nose"))
    ).mean(axis=0)
    neck_px = photo.working_px(body.points_px(("left_shoulder", "right_shoulder"))).mean(axis=0)
    up = face_px - neck_px
    size_px = float(np.hypot(*up))
    # The body's axis, not the neck's, says what is up: a head held aside is no taller for it.
    axis = photo.working_px(body.hips_px) - photo.working_px(body.ankles_px)
    up = axis / np.hypot(*axis)
    if size_px < 4:
        return None
    aside = np.array([-up[1], up[0]])
    places = np.linspace(0, _REACH * size_px, round(2 * _REACH * size_px) + 1)
    columns = np.linspace(-_ASIDE, _ASIDE, 19) * size_px
    grid = face_px + columns[:, None, None] * aside + places[None, :, None] * up
    shares = cv2.remap(
        body.mask,
        grid[..., 0].astype(np.float32),
        grid[..., 1].astype(np.float32),
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_REPLICATE,
    )
    tops_px, blurs_px = zip(*(_top(column, places) for column in shares), strict=True)
    top = int(np.argmax(tops_px))
    height_px = tops_px[top]
    if height_px <= 0 or height_px >= places[-1] - 1 or blurs_px[top] > _MAX_BLUR * size_px:
        return None
    point_px = face_px + columns[top] * aside + height_px * up
    limits = np.array(photo.pixels.shape[1::-1]) - 2.0
    if not ((point_px > 2) & (point_px < limits)).all():
        return None
    # The mask's edge is good to a quarter of the way over which it fades.
    sd_px = max(0.25 * blurs_px[top], 0.03 * size_px)
    return Crown(photo.upright_px(point_px), sd_px * photo.working_scale)


def _top(shares: NDArray[np.float32], places: NDArray[np.float64]) -> tuple[float, float]:
    """Where the mask ends first, and over what length it fades from 0.8 to 0.2."""

    def ends(level: float) -> float:
        below = np.flatnonzero(shares < level)
        if not below.size:
            return float(places[-1])
        first = int(below[0])
        if first == 0:
            return 0.0
        high, low = float(shares[first - 1]), float(shares[first])
        part = (high - level) / max(high - low, 1e-6)
        return float(places[first - 1] + part * (places[first] - places[first - 1]))

    return ends(_END), ends(0.2) - ends(0.8)
