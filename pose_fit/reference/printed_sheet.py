"""The printable reference sheet: where its markers lie, and the page itself.

Four square markers sit at the corners of a block of the same size on Letter and
A4, so the paper need not be known. A ruler between them shows what the printer
did to the scale. The sheet's frame has its origin at the centre of the block,
x to the right and y down, in millimetres.
"""

import io
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.reference.paper import Paper, paper_size_mm

__all__ = [
    "BLOCK_HEIGHT_MM",
    "BLOCK_WIDTH_MM",
    "MARKER_IDS",
    "MARKER_SIDE_MM",
    "RULER_MM",
    "draw_marker",
    "marker_corners_mm",
    "marker_dictionary",
    "sheet_image",
    "sheet_pdf",
]

MARKER_SIDE_MM: Final = 88.0
BLOCK_WIDTH_MM: Final = 190.0
BLOCK_HEIGHT_MM: Final = 256.0
#: Length of the ruler on a page printed true to scale.
RULER_MM: Final = 180.0
#: Top left, top right, bottom left, bottom right.
MARKER_IDS: Final = (31, 32, 33, 34)


def marker_dictionary() -> cv2.aruco.Dictionary:
    """Marker code of the sheet: OpenCV's 4 x 4 bit dictionary, readable at a few pixels per bit."""
    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)


def marker_corners_mm() -> dict[int, NDArray[np.float64]]:
    """Corners of each marker on a sheet printed true to scale.

    Returns
    -------
    dict of int to (4, 2) array
        Millimetres in the sheet's frame, clockwise from top left.
    """
    reach_x_mm = (BLOCK_WIDTH_MM - MARKER_SIDE_MM) / 2
    reach_y_mm = (BLOCK_HEIGHT_MM - MARKER_SIDE_MM) / 2
    square_mm = MARKER_SIDE_MM / 2 * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    centres_mm = [
        (sign_x * reach_x_mm, sign_y * reach_y_mm) for sign_y in (-1, 1) for sign_x in (-1, 1)
    ]
    return {
        marker: square_mm + np.array(centre_mm)
        for marker, centre_mm in zip(MARKER_IDS, centres_mm, strict=True)
    }


def sheet_image(*, paper: Paper = "letter", px_per_mm: float = 4.0) -> NDArray[np.uint8]:
    """The whole page as a picture, for rendered scenes and tests.

    Returns
    -------
    (H, W) array of uint8
        Grey page, white paper; the page's centre is the centre of the marker block.
    """
    width_mm, height_mm = paper_size_mm(paper)
    height_px, width_px = round(height_mm * px_per_mm), round(width_mm * px_per_mm)
    page = np.full((height_px, width_px), 255, np.uint8)
    centre_px = np.array([width_px, height_px]) / 2
    for marker, corners_mm in marker_corners_mm().items():
        left_top = np.round(corners_mm[0] * px_per_mm + centre_px).astype(int)
        side_px = round(MARKER_SIDE_MM * px_per_mm)
        code = cv2.aruco.generateImageMarker(marker_dictionary(), marker, side_px)
        x_px, y_px = (int(value) for value in left_top)
        page[y_px : y_px + side_px, x_px : x_px + side_px] = code
    left_px = round(float(centre_px[0]) - RULER_MM / 2 * px_per_mm)
    base_px = round(float(centre_px[1]))
    for tick_mm in range(0, round(RULER_MM) + 1, 10):
        x_px = left_px + round(tick_mm * px_per_mm)
        reach_px = round((14 if tick_mm in (0, RULER_MM) else 6) * px_per_mm)
        page[base_px - reach_px // 2 : base_px + reach_px // 2, x_px : x_px + 2] = 0
    page[base_px : base_px + 2, left_px : left_px + round(RULER_MM * px_per_mm)] = 0
    return page


def sheet_pdf(*, paper: Paper) -> bytes:
    """The page as a PDF, true to scale when printed at 100 %."""
    from reportlab.lib.units import mm
    from reportlab.pdfgen.canvas import Canvas

    width_mm, height_mm = paper_size_mm(paper)
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pagesize=(width_mm * mm, height_mm * mm), invariant=True)
    canvas.setTitle("Reference sheet")
    canvas.translate(width_mm / 2 * mm, height_mm / 2 * mm)
    for marker, corners_mm in marker_corners_mm().items():
        draw_marker(canvas, marker, corners_mm[0] * mm, MARKER_SIDE_MM * mm)
    _draw_ruler(canvas, mm)
    canvas.setFont("Helvetica", 10)
    for line, text in enumerate(
        (
            "Print at 100 % (no “fit to page”). Measure the line below with a tape:"
            f" it should be {RULER_MM:.0f} mm.",
            "If it is not, tell the program what it measures.",
        )
    ):
        canvas.drawCentredString(0, (30 - 5 * line) * mm, text)
    for line, text in enumerate(
        (
            "Tape the sheet flat to the wall, upright, its middle at the height of the child’s knees,",
            "a hand beside the legs. Heels to the wall, feet a hand apart, phone level at hip height.",
        )
    ):
        canvas.drawCentredString(0, (-27 - 5 * line) * mm, text)
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def draw_marker(canvas, marker: int, left_top_pt: NDArray[np.float64], side_pt: float) -> None:  # type: ignore[no-untyped-def]
    """A marker on a PDF's page, by its top left corner with y down, in points."""
    bits = cv2.aruco.generateImageMarker(marker_dictionary(), marker, 6)
    cell_pt = side_pt / 6
    left_pt, top_pt = float(left_top_pt[0]), -float(left_top_pt[1])
    # One path, so that a viewer leaves no hairline between neighbouring black cells.
    path = canvas.beginPath()
    for row, column in np.argwhere(bits == 0):
        path.rect(left_pt + column * cell_pt, top_pt - (row + 1) * cell_pt, cell_pt, cell_pt)
    canvas.setFillGray(0)
    canvas.drawPath(path, stroke=0, fill=1)


def _draw_ruler(canvas, mm: float) -> None:  # type: ignore[no-untyped-def]
    canvas.setLineWidth(0.3 * mm)
    canvas.line(-RULER_MM / 2 * mm, 0, RULER_MM / 2 * mm, 0)
    canvas.setFont("Helvetica", 7)
    for tick_mm in range(0, round(RULER_MM) + 1, 5):
        is_end = tick_mm in (0, RULER_MM)
        reach_mm = 8.0 if is_end else (4.0 if tick_mm % 10 == 0 else 2.0)
        x_pt = (tick_mm - RULER_MM / 2) * mm
        canvas.line(x_pt, -reach_mm * mm, x_pt, reach_mm * mm)
        if tick_mm % 20 == 0:
            canvas.drawCentredString(x_pt, -12 * mm, str(tick_mm))
