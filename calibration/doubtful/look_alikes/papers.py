"""Paper that is not of the size that was said.

Places are parts of the picture's width and height, as in `changes`.
"""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.look_alike import Change, LookAlike, soft
from pose_fit.body.body import Body
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.reference import PointReference

__all__ = ["PAPERS"]

_Pixels = NDArray[np.uint8]


def _plain_sheet(base: str, width_mm: float, height_mm: float) -> Change:
    """A plain sheet of this size where the printed one hung, in its perspective."""

    def change(pixels: _Pixels, _: Body) -> _Pixels:
        sheet = find_sheet(base_of(base)[0], placement="wall", ruler_mm=None)
        assert isinstance(sheet, PointReference)
        to_picture, _inliers = cv2.findHomography(sheet.object_mm, sheet.image_px)
        middle = sheet.object_mm.mean(axis=0)
        half = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [width_mm / 2, height_mm / 2]
        corners = cv2.perspectiveTransform((middle + half)[None], to_picture)[0]
        out = pixels.copy()
        fixed = np.round(corners * 16).astype(np.int32)
        cv2.fillConvexPoly(out, fixed, (232, 231, 227), cv2.LINE_AA, 4)
        return soft(pixels, out)

    return change


PAPERS: Final[tuple[LookAlike, ...]] = (
    LookAlike(
        "a5 as a4", "flat_2", _plain_sheet("flat_2", 148, 210), "a4", score_set="first trial"
    ),
    LookAlike(
        "a3 as a4", "flat_5", _plain_sheet("flat_5", 297, 420), "a4", score_set="first trial"
    ),
    LookAlike(
        "half a letter as letter",
        "flat_3",
        _plain_sheet("flat_3", 140, 216),
        "letter",
        score_set="first trial",
    ),
    LookAlike(
        "tabloid as letter",
        "flat_8",
        _plain_sheet("flat_8", 279, 432),
        "letter",
        score_set="first trial",
    ),
    LookAlike(
        "a square card as letter",
        "flat_6",
        _plain_sheet("flat_6", 210, 210),
        "letter",
        score_set="first trial",
    ),
)
