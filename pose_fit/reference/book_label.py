"""The printable label for the end of a book: where its markers lie, and the page itself.

The child straddles a hardback book that is pushed up between the legs, spine on top and
level. The label covers the end that faces the camera; its bold top edge lies level with the
spine, so that it is where a tape would find the crotch. Four square markers below it say
where the edge is, whatever the trousers' colour. The label's frame has its origin at the
middle of the top edge, x to the right and y down, in millimetres.
"""

import io
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from pose_fit.reference.paper import Paper, paper_size_mm
from pose_fit.reference.printed_sheet import draw_marker, marker_dictionary

__all__ = [
    "LABEL_HEIGHT_MM",
    "LABEL_MARKER_IDS",
    "LABEL_MARKER_SIDE_MM",
    "LABEL_WIDTH_MM",
    "label_corners_mm",
    "label_image",
    "label_pdf",
]

#: The panel that faces the camera. Twice as wide as two legs part, so that four markers are
#: readable from 3 m; low enough to end above the knees of a child of three.
LABEL_WIDTH_MM: Final = 110.0
LABEL_HEIGHT_MM: Final = 120.0
LABEL_MARKER_SIDE_MM: Final = 42.0
#: Top left, top right, bottom left, bottom right; the sheet has other numbers.
LABEL_MARKER_IDS: Final = (41, 42, 43, 44)
#: The bold top edge.
_BAR_MM: Final = 9.0
_GAP_MM: Final = 10.0
_BELOW_BAR_MM: Final = 8.0
#: Folded back onto the spine, and folded behind the panel to stiffen it.
_TONGUE_MM: Final = 50.0
_STIFFENER_MM: Final = 60.0


def label_corners_mm() -> dict[int, NDArray[np.float64]]:
    """Corners of each marker on a label printed true to scale.

    Returns
    -------
    dict of int to (4, 2) array
        Millimetres in the label's frame, clockwise from top left.
    """
    side_mm = LABEL_MARKER_SIDE_MM
    square_mm = side_mm * np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    lefts_mm = (-_GAP_MM / 2 - side_mm, _GAP_MM / 2)
    tops_mm = (_BAR_MM + _BELOW_BAR_MM, _BAR_MM + _BELOW_BAR_MM + side_mm + _GAP_MM)
    places_mm = [(left_mm, top_mm) for top_mm in tops_mm for left_mm in lefts_mm]
    return {
        marker: square_mm + np.array(place_mm)
        for marker, place_mm in zip(LABEL_MARKER_IDS, places_mm, strict=True)
    }


def label_image(*, px_per_mm: float = 4.0) -> NDArray[np.uint8]:
    """The panel that faces the camera as a picture, for rendered scenes and tests.

    Returns
    -------
    (H, W) array of uint8
        Its first row is the top edge, its middle column the label's middle.
    """
    height_px, width_px = round(LABEL_HEIGHT_MM * px_per_mm), round(LABEL_WIDTH_MM * px_per_mm)
    panel = np.full((height_px, width_px), 255, np.uint8)
    panel[: round(_BAR_MM * px_per_mm)] = 0
    side_px = round(LABEL_MARKER_SIDE_MM * px_per_mm)
    for marker, corners_mm in label_corners_mm().items():
        left_px, top_px = (
            round(float(value)) for value in (corners_mm[0] + [LABEL_WIDTH_MM / 2, 0]) * px_per_mm
        )
        code = cv2.aruco.generateImageMarker(marker_dictionary(), marker, side_px)
        panel[top_px : top_px + side_px, left_px : left_px + side_px] = code
    return panel


def label_pdf(*, paper: Paper) -> bytes:
    """The page as a PDF, true to scale when printed at 100 %."""
    from reportlab.lib.units import mm
    from reportlab.pdfgen.canvas import Canvas

    width_mm, height_mm = paper_size_mm(paper)
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pagesize=(width_mm * mm, height_mm * mm), invariant=True)
    canvas.setTitle("Book label")
    # The origin is the middle of the top edge; the cut-out stands at the page's foot.
    canvas.translate(width_mm / 2 * mm, (10 + _STIFFENER_MM + LABEL_HEIGHT_MM) * mm)
    half_mm = LABEL_WIDTH_MM / 2
    canvas.setFillGray(0)
    canvas.rect(-half_mm * mm, -_BAR_MM * mm, LABEL_WIDTH_MM * mm, _BAR_MM * mm, stroke=0, fill=1)
    for marker, corners_mm in label_corners_mm().items():
        draw_marker(canvas, marker, corners_mm[0] * mm, LABEL_MARKER_SIDE_MM * mm)
    _draw_outline(canvas, half_mm, mm)
    canvas.setFont("Helvetica", 8)
    canvas.drawCentredString(0, (_TONGUE_MM / 2) * mm, "Fold back. Tape this part along the spine.")
    canvas.drawCentredString(
        0,
        -(LABEL_HEIGHT_MM + _STIFFENER_MM / 2) * mm,
        "Fold behind and glue: it keeps the label flat.",
    )
    canvas.setFont("Helvetica", 10)
    for line, text in enumerate(_HOW_TO):
        canvas.drawCentredString(0, (_TONGUE_MM + 27 - 5 * line) * mm, text)
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


_HOW_TO: Final = (
    f"Print at 100 %. The black bar should be {LABEL_WIDTH_MM:.0f} mm long. Cut along the solid line.",
    "Fold at the bar’s top edge. Tape the label over the end of a thin hardback, bar level with the spine.",
    "Push the book up between the legs, spine on top and level, label to the camera.",
    "Let it stand out a little before the thighs. Hold it there and take the picture.",
)


def _draw_outline(canvas, half_mm: float, mm: float) -> None:  # type: ignore[no-untyped-def]
    """Solid where it is cut, dashed where it is folded."""
    low_mm = LABEL_HEIGHT_MM + _STIFFENER_MM
    canvas.setLineWidth(0.25 * mm)
    canvas.setStrokeGray(0.3)
    canvas.rect(-half_mm * mm, -low_mm * mm, 2 * half_mm * mm, (low_mm + _TONGUE_MM) * mm)
    canvas.setDash(3, 3)
    for fold_mm in (0.0, -LABEL_HEIGHT_MM):
        canvas.line(-half_mm * mm, fold_mm * mm, half_mm * mm, fold_mm * mm)
