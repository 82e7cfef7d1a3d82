"""The printed sheet, found by its markers."""

import math
from collections import defaultdict
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.metrology.propagation import weighted_mean
from pose_fit.photo.photo import Photo
from pose_fit.photo.window import window_around
from pose_fit.reference.edges import corners_of, edges_of_quad, linear_light
from pose_fit.reference.print_scale import PrintScale, seen_print_scale
from pose_fit.reference.reference import Placement, PointReference
from pose_fit.reference.sheet import MARKER_IDS, RULER_MM, marker_corners_mm, marker_dictionary
from pose_fit.refusal import Notice, Refusal

__all__ = ["LOG_SCALE_SD_MEASURED", "LOG_SCALE_SD_UNMEASURED", "find_sheet"]

#: With the ruler read by a tape to half a millimetre.
LOG_SCALE_SD_MEASURED: Final = 0.003
#: Unmeasured: printers and copiers run 99 to 102 % (from memory, weak).
LOG_SCALE_SD_UNMEASURED: Final = 0.012
#: A printer stretches one way of the page a little more than the other.
LOG_ASPECT_SD: Final = 0.002
#: Scatter of a marker's corner where its sides meet, working pixels: 0.05 to 0.2 on rendered
#: photos, where the paper is flat.
CORNER_SD_WORKING_PX: Final = 0.2
#: The smallest marker side at which its bits can still be told apart.
MIN_MARKER_SIDE_PX: Final = 10.0
#: Longer side of the picture in which the sheet is looked for first, pixels. Where its markers are
#: at least this large in it, another sheet that is overlooked there is less than half as large, so
#: that it does not hang beside the same child.
_FIRST_SIDE_PX: Final = 1024
_FIRST_MARKER_SIDE_PX: Final = 2 * MIN_MARKER_SIDE_PX
#: Largest window of the detector's thresholds, working pixels.
_WINDOW_PX: Final = 43
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
    seen = _marker_corners_px(grey)
    if not seen and _detect(np.ascontiguousarray(grey[:, ::-1]), 1.0):
        return Refusal(
            (Notice("picture_mirrored", "The printed sheet appears mirrored in the picture."),),
            ("Send the picture as the camera took it: selfie cameras mirror it.",),
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
    corners_mm = _as_seen_mm(np.stack([known_mm[marker] for marker in seen]), corners_px)
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


def _as_seen_mm(
    known_mm: NDArray[np.float64], corners_px: NDArray[np.float64]
) -> NDArray[np.float64]:
    """(M, 4, 2) corners of the markers, each as much smaller or larger as all of them look.

    Ink, tone curves and sharpening move every edge of the black squares a little inwards
    or outwards, but leave their centres. The change of size for which a homography fits
    best is found from two fits, since its residuals are nearly linear in it.
    """
    centres_mm = known_mm.mean(axis=1, keepdims=True)

    def resized(part: float) -> NDArray[np.float64]:
        corners_mm: NDArray[np.float64] = centres_mm + (1 + part) * (known_mm - centres_mm)
        return corners_mm

    def residuals(part: float) -> NDArray[np.float64]:
        flat_mm, flat_px = resized(part).reshape(-1, 2), corners_px.reshape(-1, 2)
        homography, _ = cv2.findHomography(flat_mm, flat_px)
        off_px = cv2.perspectiveTransform(flat_mm[None], homography)[0] - flat_px
        return np.asarray(off_px, np.float64).ravel()

    at_0, step = residuals(0.0), 0.01
    change = (residuals(step) - at_0) / step
    return resized(-float(change @ at_0 / (change @ change)))


_Quads = dict[int, list[NDArray[np.float64]]]


def _marker_corners_px(grey: NDArray[np.uint8]) -> _Quads:
    """By marker number of the sheet, (4, 2) corners of each such marker, working pixels."""
    part = _sheet_part(grey)
    if part is not None:
        found = _detect(grey[part], 1.0)
        if len(found) == len(MARKER_IDS):
            rows, columns = part
            corner_px = np.array([columns.start, rows.start])
            return {
                marker: [corners_px + corner_px for corners_px in found[marker]]
                for marker in MARKER_IDS
            }
    best: _Quads = {}
    # Enlarging helps the detector's thresholds with markers of few pixels.
    for enlargement in (1.0, 2.0):
        found = _detect(grey, enlargement)
        if len(found) > len(best):
            best = found
        if len(best) == len(MARKER_IDS):
            break
    return dict(sorted(best.items()))


def _sheet_part(grey: NDArray[np.uint8]) -> tuple[slice, slice] | None:
    """Rows and columns that hold every sheet, by a small picture; None where that shows too little."""
    scale = _FIRST_SIDE_PX / max(grey.shape)
    if scale > 0.9:
        return None
    small = _scaled(grey, scale)
    found = _rough(small, MIN_MARKER_SIDE_PX, round(_WINDOW_PX * scale))
    sides_px = [_side_px(corners_px) for _, corners_px in found]
    if len({marker for marker, _ in found}) < len(MARKER_IDS):
        return None
    if min(sides_px) < _FIRST_MARKER_SIDE_PX:
        return None
    reach_px = np.concatenate([corners_px for _, corners_px in found]) / scale
    return window_around(grey.shape, reach_px, margin_px=_WINDOW_PX + 4 / scale)


def _side_px(corners_px: NDArray[np.float64]) -> float:
    """Length of the shortest side."""
    return float(np.linalg.norm(np.roll(corners_px, -1, axis=0) - corners_px, axis=1).min())


def _detect(grey: NDArray[np.uint8], enlargement: float) -> _Quads:
    """Markers found in the enlarged picture, their corners in pixels of the picture itself."""
    grey = _scaled(grey, enlargement)
    found: _Quads = defaultdict(list)
    for marker, rough_px in _rough(grey, MIN_MARKER_SIDE_PX * enlargement, _WINDOW_PX):
        corners_px = _refined(grey, rough_px)
        if corners_px is not None:
            found[marker].append((corners_px + 0.5) / enlargement - 0.5)
    return found


def _rough(
    grey: NDArray[np.uint8], least_side_px: float, window_px: int
) -> list[tuple[int, NDArray[np.float64]]]:
    """The sheet's markers as the detector sees them: number and (4, 2) corners to a pixel."""
    settings = cv2.aruco.DetectorParameters()
    settings.adaptiveThreshWinSizeMax = window_px
    settings.minMarkerPerimeterRate = 4 * least_side_px / max(grey.shape)
    detector = cv2.aruco.ArucoDetector(marker_dictionary(), settings)
    quads, numbers, _ = detector.detectMarkers(grey)
    return [
        (int(number), quad.reshape(4, 2).astype(float))
        for quad, number in zip(quads, [] if numbers is None else numbers.ravel(), strict=True)
        if int(number) in MARKER_IDS
    ]


def _scaled(grey: NDArray[np.uint8], scale: float) -> NDArray[np.uint8]:
    if scale == 1:
        return grey
    way = cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
    return np.asarray(cv2.resize(grey, None, fx=scale, fy=scale, interpolation=way), np.uint8)


def _refined(
    grey: NDArray[np.uint8], corners_px: NDArray[np.float64]
) -> NDArray[np.float64] | None:
    """Corners by the marker's sides; its black border, a sixth of a side wide, ends there."""
    reach_px = max(1.0, _side_px(corners_px) / 12)
    rows, columns = window_around(grey.shape, corners_px, margin_px=reach_px + 4)
    corner_px = np.array([columns.start, rows.start])
    darkness = 1 - linear_light(grey[rows, columns])
    edges = edges_of_quad(darkness, corners_px - corner_px, reach_px=reach_px)
    return None if edges is None else corners_of(edges) + corner_px


def _refused(code: str, message: str) -> Refusal:
    return Refusal((Notice(code, message),), (_REMEDY,))
