"""One door for all kinds of reference: what was asked for becomes a `Reference` or a refusal."""

import datetime as dt
import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.stature_since import stature_since
from pose_fit.body.body import Body
from pose_fit.errors import ReferenceObjectError
from pose_fit.photo.photo import Photo
from pose_fit.reference.body_height import BodyHeight, height_reference
from pose_fit.reference.find_book_label import book_reference, find_book_label
from pose_fit.reference.find_paper import find_paper_corners
from pose_fit.reference.find_sheet import find_sheet
from pose_fit.reference.find_wheel import find_tyre_points
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

_UNKNOWN_CHILD: Final = Child()


def find_reference(
    photo: Photo,
    body: Body,
    request: ReferenceRequest,
    *,
    child: Child = _UNKNOWN_CHILD,
    soles_mm: float | None = None,
) -> Reference | Refusal:
    """The reference in the picture, by the points given or found by the program.

    Parameters
    ----------
    child, soles_mm
        What is known of the child; only its own height as the reference needs them.

    Raises
    ------
    ReferenceObjectError
        Points that are too few, outside the picture or in the wrong order; the child's own
        height wanted and none stated.
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
            return _wheel(photo, body, request, points_px)
        case "door":
            assert points_px is not None
            return door_reference(photo, points_px, height_mm=request.size_mm, placement=placement)
        case "length":
            assert points_px is not None
            assert request.size_mm is not None
            return length_reference(
                photo, points_px, length_mm=request.size_mm, placement=placement
            )
        case "height":
            height = _body_height(photo, request, child, soles_mm)
            return height_reference(photo, body, height, points_px)
        case "auto":
            raise ValueError("an object that nobody named is looked for by find_object")
        case "book":
            return _book(photo, body, bar_mm=request.ruler_mm)


def _wheel(
    photo: Photo, body: Body, request: ReferenceRequest, points_px: NDArray[np.float64] | None
) -> Reference | Refusal:
    assert request.placement is not None
    assert request.size_mm is not None
    assert request.width_mm is not None
    assert request.size_sd_mm is not None
    tyre_px = points_px
    if tyre_px is None:
        found = find_tyre_points(
            photo, body, diameter_mm=request.size_mm, width_mm=request.width_mm
        )
        if isinstance(found, Refusal):
            return found
        tyre_px = found
    return wheel_reference(
        photo,
        tyre_px,
        diameter_mm=request.size_mm,
        width_mm=request.width_mm,
        diameter_sd_mm=request.size_sd_mm,
        placement=request.placement,
        found=points_px is None,
    )


def _book(photo: Photo, body: Body, *, bar_mm: float | None) -> Reference | Refusal:
    label = find_book_label(photo, body)
    if label is None:
        return Refusal.because(
            "reference_missing",
            "No book with the printed label was found.",
            "Hold the book between the legs with its label facing the camera.",
        )
    return label if isinstance(label, Refusal) else book_reference(label, bar_mm=bar_mm)


def _body_height(
    photo: Photo, request: ReferenceRequest, child: Child, soles_mm: float | None
) -> BodyHeight:
    """The stated height, brought to the day of the picture."""
    stature_mm = request.size_mm if request.size_mm is not None else child.stature_mm
    if stature_mm is None:
        raise ReferenceObjectError("height: wanted the child’s height, found none", about="stature")
    assert request.size_sd_mm is not None
    if request.measured_on is None:
        return BodyHeight(stature_mm, request.size_sd_mm, soles_mm)
    grown_mm, growth_sd_mm = stature_since(
        stature_mm,
        measured_on=request.measured_on,
        seen_on=photo.taken_on or dt.date.today(),
        child=child,
    )
    return BodyHeight(grown_mm, math.hypot(request.size_sd_mm, growth_sd_mm), soles_mm)
