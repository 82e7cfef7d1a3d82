"""The label over a book's end, found by its markers between hips and knees."""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.reference.book_label import (
    LABEL_MARKER_IDS,
    LABEL_WIDTH_MM,
    label_corners_mm,
)
from pose_fit.reference.find_markers import CORNER_SD_WORKING_PX, as_seen_mm, find_markers
from pose_fit.reference.find_sheet import LOG_SCALE_SD_MEASURED, LOG_SCALE_SD_UNMEASURED
from pose_fit.reference.reference import PointReference
from pose_fit.refusal import Refusal

__all__ = ["BookLabel", "book_reference", "find_book_label"]

#: A label is searched for this far from the line from hips to knees, in legs: lower than it may
#: hang, since a label that slipped must be reported.
_REACH_LEGS: Final = 0.45
#: A printed page that nobody glued to a board is a little curved.
_LOG_ASPECT_SD: Final = 0.006
_REMEDY: Final = (
    "Push the book up between the legs with the whole label facing the camera, nothing before it."
)


@dataclass(frozen=True, slots=True, eq=False)
class BookLabel:
    """A label as seen, in pixels of the upright picture.

    Attributes
    ----------
    corners_mm, corners_px
        (N, 2) arrays: corners of the markers read, in the label's frame and in the picture.
    top_px
        (2, 2) array: left and right end of the top edge.
    middle_px
        (2,) array: its middle.
    sd_px
        Standard uncertainty of a corner and of the edge.
    """

    corners_mm: NDArray[np.float64]
    corners_px: NDArray[np.float64]
    top_px: NDArray[np.float64]
    middle_px: NDArray[np.float64]
    sd_px: float


def find_book_label(photo: Photo, body: Body) -> BookLabel | Refusal | None:
    """The label; None where no book is held, a refusal where it is there and cannot be read."""
    hips_px, ankles_px = photo.working_px(body.hips_px), photo.working_px(body.ankles_px)
    legs_px = np.stack([hips_px, (hips_px + ankles_px) / 2])
    reach_px = _REACH_LEGS * body.leg_px / photo.working_scale
    rows, columns = window_around(photo.grey.shape, legs_px, margin_px=reach_px)
    seen = find_markers(
        np.ascontiguousarray(photo.grey[rows, columns]),
        LABEL_MARKER_IDS,
        further=(3.0, 4.0),
    )
    if not seen:
        return None
    if len(seen) < 2 or any(len(quads) > 1 for quads in seen.values()):
        return Refusal.because(
            "book_label_hidden",
            f"Only {len(seen)} of the 4 markers of the book’s label can be read.",
            _REMEDY,
        )
    known_mm = label_corners_mm()
    corner_px = np.array([columns.start, rows.start])
    corners_px = np.stack([quads[0] for quads in seen.values()]) + corner_px
    corners_mm = as_seen_mm(np.stack([known_mm[marker] for marker in seen]), corners_px)
    flat_mm, flat_px = corners_mm.reshape(-1, 2), corners_px.reshape(-1, 2)
    homography, _ = cv2.findHomography(flat_mm, flat_px)
    edge_mm = np.array([[-LABEL_WIDTH_MM / 2, 0.0], [LABEL_WIDTH_MM / 2, 0.0], [0.0, 0.0]])
    edge_px = photo.upright_px(
        np.asarray(cv2.perspectiveTransform(edge_mm[None], homography)[0], np.float64)
    )
    # With two markers the edge is a guess beyond them rather than one of their sides.
    factor = 1.0 if len(seen) > 2 else 2.0
    return BookLabel(
        flat_mm,
        photo.upright_px(flat_px),
        edge_px[:2],
        edge_px[2],
        factor * CORNER_SD_WORKING_PX * photo.working_scale,
    )


def book_reference(label: BookLabel, *, bar_mm: float | None) -> PointReference:
    """The label as the object of known size, where nothing else is.

    Parameters
    ----------
    bar_mm
        What the bold bar measures with a tape, or None where nobody measured it.
    """
    measured = bar_mm is not None
    scale = bar_mm / LABEL_WIDTH_MM if bar_mm is not None else 1.0
    return PointReference(
        kind="book",
        placement="beside",
        object_mm=label.corners_mm * scale,
        image_px=label.corners_px,
        point_sd_px=label.sd_px,
        log_size_sd=LOG_SCALE_SD_MEASURED if measured else LOG_SCALE_SD_UNMEASURED,
        log_aspect_sd=_LOG_ASPECT_SD,
    )
