"""One door for all kinds of reference: what was asked for becomes a `Reference` or a refusal."""

import numpy as np

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_paper import find_paper_corners
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.find_wheel import find_rim_points
from pose_fit.reference.from_points import (
    door_reference,
    length_reference,
    paper_reference,
    wheel_reference,
)
from pose_fit.reference.reference import Reference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal

__all__ = ["find_reference"]


def find_reference(photo: Photo, body: Body, request: ReferenceRequest) -> Reference | Refusal:
    """The reference in the picture, by the points given or found by the program.

    Raises
    ------
    ReferenceObjectError
        Points that are too few, outside the picture or in the wrong order.
    """
    assert request.placement is not None
    placement = request.placement
    points_px = None if request.points_px is None else np.array(request.points_px).reshape(-1, 2)
    match request.kind:
        case "sheet":
            return find_sheet(photo, placement=placement, ruler_mm=request.ruler_mm)
        case "letter" | "a4" as paper:
            found = points_px is None
            corners = find_paper_corners(photo, body, paper=paper) if found else points_px
            if isinstance(corners, Refusal):
                return corners
            assert corners is not None
            return paper_reference(photo, corners, paper=paper, placement=placement, found=found)
        case "wheel":
            assert request.size_mm is not None
            assert request.width_mm is not None
            assert request.size_sd_mm is not None
            found = points_px is None
            rim = (
                find_rim_points(photo, body, diameter_mm=request.size_mm, width_mm=request.width_mm)
                if found
                else points_px
            )
            if isinstance(rim, Refusal):
                return rim
            assert rim is not None
            return wheel_reference(
                photo,
                rim,
                diameter_mm=request.size_mm,
                width_mm=request.width_mm,
                diameter_sd_mm=request.size_sd_mm,
                placement=placement,
                found=found,
            )
        case "door":
            assert points_px is not None
            return door_reference(photo, points_px, height_mm=request.size_mm, placement=placement)
        case "length":
            assert points_px is not None
            assert request.size_mm is not None
            return length_reference(
                photo, points_px, length_mm=request.size_mm, placement=placement
            )
