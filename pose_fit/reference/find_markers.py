"""Square markers of a printed page, their corners to a part of a pixel."""

from collections import defaultdict
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.photo.window import window_around
from pose_fit.reference.edges import corners_of, edges_of_quad, linear_light
from pose_fit.reference.printed_sheet import marker_dictionary

__all__ = ["CORNER_SD_WORKING_PX", "MarkersSeen", "are_mirrored", "as_seen_mm", "find_markers"]

#: Scatter of a marker's corner where its sides meet, working pixels: 0.05 to 0.2 on rendered
#: photos, where the paper is flat.
CORNER_SD_WORKING_PX: Final = 0.2
#: The smallest marker side at which its bits can still be distinguished.
MIN_MARKER_SIDE_PX: Final = 10.0
#: Longer side of the picture in which a page is looked for first, pixels. Where its markers are
#: at least this large in it, another page that is overlooked there is less than half as large, so
#: that it does not hang beside the same child.
_FIRST_SIDE_PX: Final = 1024
_FIRST_MARKER_SIDE_PX: Final = 2 * MIN_MARKER_SIDE_PX
#: Largest window of the detector's thresholds, working pixels.
_WINDOW_PX: Final = 43

MarkersSeen = dict[int, list[NDArray[np.float64]]]


def find_markers(
    grey: NDArray[np.uint8],
    numbers: tuple[int, ...],
    *,
    further: tuple[float, ...] = (),
) -> MarkersSeen:
    """By number, (4, 2) corners of each marker that has it, clockwise from its own top left.

    Parameters
    ----------
    grey
        (H, W) array; corners are pixels of it.
    numbers
        Those that lie on one page together.
    further
        Enlargements beyond twice the size, for markers that are still missing.
    """
    part = _page_part(grey, numbers)
    if part is not None:
        found = _detect(grey[part], 1.0, numbers)
        if len(found) == len(numbers):
            rows, columns = part
            corner_px = np.array([columns.start, rows.start])
            return {
                marker: [corners_px + corner_px for corners_px in found[marker]]
                for marker in numbers
            }
    seen: MarkersSeen = {}
    # Enlarging helps the detector's thresholds with markers of few pixels. Corners of one size go
    # together: those of another are off by as much as blur and threshold make of them.
    for enlargement in (1.0, 2.0):
        if len(seen) < len(numbers):
            found = _detect(grey, enlargement, numbers)
            seen = found if len(found) > len(seen) else seen
    for enlargement in further:
        if 0 < len(seen) < len(numbers):
            seen = _detect(grey, enlargement, numbers) | seen
    return dict(sorted(seen.items()))


def _page_part(grey: NDArray[np.uint8], numbers: tuple[int, ...]) -> tuple[slice, slice] | None:
    """Rows and columns that hold every such page, by a small picture; None where that shows too little."""
    scale = _FIRST_SIDE_PX / max(grey.shape)
    if scale > 0.9:
        return None
    small = _scaled(grey, scale)
    found = _rough(small, MIN_MARKER_SIDE_PX, round(_WINDOW_PX * scale), numbers)
    sides_px = [_side_px(corners_px) for _, corners_px in found]
    if len({marker for marker, _ in found}) < len(numbers):
        return None
    if min(sides_px) < _FIRST_MARKER_SIDE_PX:
        return None
    reach_px = np.concatenate([corners_px for _, corners_px in found]) / scale
    return window_around(grey.shape, reach_px, margin_px=_WINDOW_PX + 4 / scale)


def _side_px(corners_px: NDArray[np.float64]) -> float:
    """Length of the shortest side."""
    return float(np.linalg.norm(np.roll(corners_px, -1, axis=0) - corners_px, axis=1).min())


def _detect(grey: NDArray[np.uint8], enlargement: float, numbers: tuple[int, ...]) -> MarkersSeen:
    """Markers found in the enlarged picture, their corners in pixels of the picture itself."""
    grey = _scaled(grey, enlargement)
    found: MarkersSeen = defaultdict(list)
    for marker, rough_px in _rough(grey, MIN_MARKER_SIDE_PX * enlargement, _WINDOW_PX, numbers):
        corners_px = _refined(grey, rough_px)
        if corners_px is not None:
            found[marker].append((corners_px + 0.5) / enlargement - 0.5)
    return found


def _rough(
    grey: NDArray[np.uint8], least_side_px: float, window_px: int, wanted: tuple[int, ...]
) -> list[tuple[int, NDArray[np.float64]]]:
    """The wanted markers as the detector sees them: number and (4, 2) corners to a pixel."""
    settings = cv2.aruco.DetectorParameters()
    settings.adaptiveThreshWinSizeMax = window_px
    settings.minMarkerPerimeterRate = 4 * least_side_px / max(grey.shape)
    detector = cv2.aruco.ArucoDetector(marker_dictionary(), settings)
    quads, numbers, _ = detector.detectMarkers(grey)
    return [
        (int(number), quad.reshape(4, 2).astype(float))
        for quad, number in zip(quads, [] if numbers is None else numbers.ravel(), strict=True)
        if int(number) in wanted
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


def are_mirrored(grey: NDArray[np.uint8], numbers: tuple[int, ...]) -> bool:
    """Whether markers that cannot be read are there in the picture's mirror image."""
    return bool(_detect(np.ascontiguousarray(grey[:, ::-1]), 1.0, numbers))


def as_seen_mm(
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
