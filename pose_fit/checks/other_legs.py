"""Legs beside the child that belong to nobody seen: a grown person cut off at the waist.

Whom the pose model finds is told of as a person. It finds nobody without a head, so the picture
beside the child is looked at for two legs: rows from below the hips to the floor in which the
segmentation of people shows two strips as wide as legs and as near to each other.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.body.cover import covered
from pose_fit.body.mediapipe_mask import people_mask
from pose_fit.photo.photo import Photo
from pose_fit.reference.reference import Reference
from pose_fit.refusal import Notice

__all__ = ["other_legs_warnings"]

#: Looked at on each side: squares of this half side, in legs, their middle this far from the child.
_HALF, _ASIDE = 1.2, 1.2
#: Rows from this far below the hips to this far below the ankles, in legs, and how many.
_BELOW_HIPS, _BELOW_ANKLES, _ROWS = 0.1, 0.6, 90
#: Width of a leg, and distance between the middles of two, in the child's legs.
_WIDE: Final = (0.05, 0.45)
_APART: Final = (0.08, 0.90)
#: The child's own outline is widened by this, in legs.
_OWN: Final = 0.03
#: Two legs are seen in this share of the rows: in 0.29 and more beside eight of nine rendered children
#: with a person without a head, in 0.23 at most beside 75 children with none.
LEAST_ROWS: Final = 0.26


def other_legs_warnings(photo: Photo, body: Body, reference: Reference) -> tuple[Notice, ...]:
    """What is told where two legs stand beside the child with nobody seen above them."""
    seen = _somebody(photo, body, reference)
    hips_px, ankles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    columns = np.arange(seen.shape[1])
    for side, is_there in (("left", columns < ankles_px[0]), ("right", columns > ankles_px[0])):
        if _rows_with_two(seen & is_there, hips_px, ankles_px) >= LEAST_ROWS:
            return (
                Notice(
                    "others_in_picture",
                    f"To the {side} of the child somebody else’s legs seem to be in the picture."
                    " The person whose head is seen was measured.",
                ),
            )
    return ()


def _somebody(photo: Photo, body: Body, reference: Reference) -> NDArray[np.bool_]:
    """(H, W) working pixels beside the child that look like a person's.

    They do with the child in the picture and without: alone, a chair or a shadow is taken for one.
    """
    pixels = photo.pixels
    height, width = pixels.shape[:2]
    hips_px, ankles_px = photo.working_px(np.stack([body.hips_px, body.ankles_px]))
    leg_px = body.leg_px / photo.working_scale
    people_px = [body.passes_px.mean(axis=0), *(other.points_px for other in body.bystanders)]
    without = covered(pixels, [photo.working_px(points_px) for points_px in people_px])
    found = np.zeros((height, width), bool)
    x, y = (hips_px + ankles_px) / 2
    half = _HALF * leg_px
    top, bottom = max(int(y - half), 0), min(int(y + half), height)
    for middle in (x - _ASIDE * leg_px, x + _ASIDE * leg_px):
        left, right = max(int(middle - half), 0), min(int(middle + half), width)
        if right - left > 0.3 * leg_px:
            parts = (one[top:bottom, left:right] for one in (pixels, without))
            surely = np.min([people_mask().find(part) for part in parts], axis=0)
            found[top:bottom, left:right] |= surely > 0.5
    reach = max(round(_OWN * leg_px), 1)
    kernel = np.ones((2 * reach + 1, 2 * reach + 1), np.uint8)
    taken = cv2.dilate((body.mask > 0.3).astype(np.uint8), kernel)
    # A wheel's tyre is two strips as well.
    hull = cv2.convexHull(np.round(photo.working_px(reference.image_px)).astype(np.int32))
    cv2.fillConvexPoly(taken, hull, (1,))
    beside: NDArray[np.bool_] = found & (taken == 0)
    return beside


def _rows_with_two(
    seen: NDArray[np.bool_], hips_px: NDArray[np.float64], ankles_px: NDArray[np.float64]
) -> float:
    """Share of the rows at leg height with two strips as wide and as near to each other as legs."""
    leg_px = float(np.hypot(*(ankles_px - hips_px)))
    rows = np.linspace(
        hips_px[1] + _BELOW_HIPS * leg_px, ankles_px[1] + _BELOW_ANKLES * leg_px, _ROWS
    )
    rows = np.unique(rows[(rows >= 0) & (rows < len(seen))].astype(int))
    count = 0
    for row in rows:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], seen[row].astype(int), [0]])))
        starts, ends = edges[::2], edges[1::2]
        widths = (ends - starts) / leg_px
        is_leg = (widths > _WIDE[0]) & (widths < _WIDE[1])
        apart = np.diff((starts + ends)[is_leg] / 2 / leg_px)
        count += bool(((apart > _APART[0]) & (apart < _APART[1])).any())
    return count / max(len(rows), 1)
