"""The printed sheet, found by its markers."""

from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo import Photo
from pose_fit.reference.reference import Mount, PointReference
from pose_fit.reference.sheet import MARKER_IDS, RULER_MM, marker_corners_mm, marker_dictionary
from pose_fit.refusal import Notice, Refusal

__all__ = ["find_sheet"]

#: With the ruler read by a tape to half a millimetre.
LOG_SCALE_SD_MEASURED: Final = 0.003
#: Unmeasured: printers and copiers run 99 to 102 % (from memory, weak).
LOG_SCALE_SD_UNMEASURED: Final = 0.012
#: A printer stretches one way of the page a little more than the other.
LOG_ASPECT_SD: Final = 0.002
#: Scatter of a refined marker corner, working pixels.
CORNER_SD_WORKING_PX: Final = 0.45
#: The smallest marker side at which its bits can still be told apart.
MIN_MARKER_SIDE_PX: Final = 10.0
_REMEDY: Final = (
    "Hang the whole sheet flat beside the legs, in the light and not covered,"
    " and take the picture from 2 to 3 m away."
)


def find_sheet(photo: Photo, *, mount: Mount, ruler_mm: float | None) -> PointReference | Refusal:
    """The sheet's marker corners, or a refusal.

    Parameters
    ----------
    ruler_mm
        What the printed ruler measures with a tape, or None where nobody measured it.
    """
    seen = _marker_corners_px(photo.grey)
    if not seen:
        return _refused(
            "reference_missing", "The printed sheet with the square markers was not found."
        )
    if len(seen) < 2:
        return _refused(
            "reference_hidden", f"Only {len(seen)} of the sheet’s 4 markers can be read."
        )
    known_mm = marker_corners_mm()
    scale = 1.0 if ruler_mm is None else ruler_mm / RULER_MM
    return PointReference(
        kind="sheet",
        mount=mount,
        object_mm=np.vstack([known_mm[marker] for marker in seen]) * scale,
        image_px=photo.upright_px(np.vstack(list(seen.values()))),
        point_sd_px=CORNER_SD_WORKING_PX * photo.working_scale,
        log_size_sd=LOG_SCALE_SD_UNMEASURED if ruler_mm is None else LOG_SCALE_SD_MEASURED,
        log_aspect_sd=LOG_ASPECT_SD,
    )


def _marker_corners_px(grey: NDArray[np.uint8]) -> dict[int, NDArray[np.float64]]:
    """(4, 2) corners by marker number, working pixels, each marker of the sheet at most once."""
    best: dict[int, NDArray[np.float64]] = {}
    # Enlarging helps the detector's thresholds with markers of few pixels.
    for enlargement in (1, 2):
        found = _detect(grey, enlargement)
        if len(found) > len(best):
            best = found
        if len(best) == len(MARKER_IDS):
            break
    return dict(sorted(best.items()))


def _detect(grey: NDArray[np.uint8], enlargement: int) -> dict[int, NDArray[np.float64]]:
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    settings.cornerRefinementWinSize = 4
    settings.adaptiveThreshWinSizeMax = 43
    settings.minMarkerPerimeterRate = 4 * MIN_MARKER_SIDE_PX / max(grey.shape)
    detector = cv2.aruco.ArucoDetector(marker_dictionary(), settings)
    if enlargement > 1:
        grey = cv2.resize(  # type: ignore[assignment]
            grey, None, fx=enlargement, fy=enlargement, interpolation=cv2.INTER_CUBIC
        )
    quads, numbers, _ = detector.detectMarkers(grey)
    found: dict[int, NDArray[np.float64]] = {}
    for quad, number in zip(quads, [] if numbers is None else numbers.ravel(), strict=True):
        if int(number) in MARKER_IDS:
            found[int(number)] = (quad.reshape(4, 2).astype(float) + 0.5) / enlargement - 0.5
    return found


def _refused(code: str, message: str) -> Refusal:
    return Refusal((Notice(code, message),), (_REMEDY,))
