"""The printed sheet, found by its markers."""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.metrology.propagation import weighted_mean
from pose_fit.notice_codes import NoticeCode
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.reference.edges import linear_light
from pose_fit.reference.find_markers import (
    CORNER_SD_WORKING_PX,
    are_mirrored,
    as_seen_mm,
    find_markers,
)
from pose_fit.reference.print_scale import PrintScale, seen_print_scale
from pose_fit.reference.printed_sheet import MARKER_IDS, RULER_MM, marker_corners_mm
from pose_fit.reference.reference import Placement, PointReference
from pose_fit.refusal import Refusal

__all__ = ["LOG_SCALE_SD_MEASURED", "LOG_SCALE_SD_UNMEASURED", "find_sheet"]

#: With the ruler read by a tape to half a millimetre.
LOG_SCALE_SD_MEASURED: Final = 0.003
#: Unmeasured: printers and copiers run 99 to 102 % (from memory, weak).
LOG_SCALE_SD_UNMEASURED: Final = 0.012
#: A printer stretches one way of the page a little more than the other.
LOG_ASPECT_SD: Final = 0.002
_REMEDY: Final = (
    "Hang the whole sheet flat beside the legs, in the light and not covered,"
    " and take the picture from 2 to 3 m away."
)


def find_sheet(
    photo: Photo, *, placement: Placement, ruler_mm: float | None
) -> PointReference | Refusal:
    """The sheet's marker corners, or a refusal.

    Parameters
    ----------
    ruler_mm
        What the printed ruler measures with a tape, or None where nobody measured it.
    """
    grey = photo.grey
    seen = find_markers(grey, MARKER_IDS)
    if not seen and are_mirrored(grey, MARKER_IDS):
        return Refusal.because(
            "picture_mirrored",
            "The printed sheet appears mirrored in the picture.",
            "Send the picture as the camera took it: selfie cameras mirror it.",
        )
    if not seen:
        return _refused(
            "reference_missing", "The printed sheet with the square markers was not found."
        )
    if len(seen) < 2:
        return _refused(
            "reference_hidden", f"Only {len(seen)} of the sheet’s 4 markers can be read."
        )
    if any(len(quads) > 1 for quads in seen.values()):
        return _refused("reference_ambiguous", "There are two printed sheets in the picture.")
    known_mm = marker_corners_mm()
    corners_px = np.stack([quads[0] for quads in seen.values()])
    corners_mm = as_seen_mm(np.stack([known_mm[marker] for marker in seen]), corners_px)
    scale = _print_scale(grey, corners_mm, corners_px, ruler_mm)
    return PointReference(
        kind="sheet",
        placement=placement,
        object_mm=corners_mm.reshape(-1, 2) * math.exp(scale.log_scale),
        image_px=photo.upright_px(corners_px.reshape(-1, 2)),
        point_sd_px=CORNER_SD_WORKING_PX * photo.working_scale,
        log_size_sd=scale.sd,
        log_aspect_sd=LOG_ASPECT_SD,
    )


def _print_scale(
    grey: NDArray[np.uint8],
    corners_mm: NDArray[np.float64],
    corners_px: NDArray[np.float64],
    ruler_mm: float | None,
) -> PrintScale:
    """The scale by the paper's edges and the ruler, as far as they tell; else what printers do.

    Where edges and ruler differ by more than they should, the scale is less sure than either.
    """
    places_px = corners_px.reshape(-1, 2)
    # The paper reaches an eighth of the marks' block beyond it; half does for two markers of four.
    rows, columns = window_around(
        grey.shape, places_px, margin_px=0.5 * float(np.ptp(places_px, axis=0).max())
    )
    light = linear_light(grey[rows, columns])
    seen = seen_print_scale(light, corners_mm, corners_px - [columns.start, rows.start])
    told = [] if seen is None else [seen]
    if ruler_mm is not None:
        told.append(PrintScale(math.log(ruler_mm / RULER_MM), LOG_SCALE_SD_MEASURED))
    if not told:
        return PrintScale(0.0, LOG_SCALE_SD_UNMEASURED)
    mean, sd = weighted_mean([scale.log_scale for scale in told], [scale.sd for scale in told])
    return PrintScale(mean, sd)


def _refused(code: NoticeCode, message: str) -> Refusal:
    return Refusal.because(code, message, _REMEDY)
