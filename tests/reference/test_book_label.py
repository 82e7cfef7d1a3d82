import io

import cv2
import numpy as np
import pypdf
import pytest

from pose_fit.errors import InputError
from pose_fit.reference.book_label import (
    LABEL_HEIGHT_MM,
    LABEL_MARKER_IDS,
    LABEL_MARKER_SIDE_MM,
    LABEL_WIDTH_MM,
    label_corners_mm,
    label_image,
    label_pdf,
)
from pose_fit.reference.paper import PAPER_SIZE_MM
from pose_fit.reference.printed_sheet import MARKER_IDS, marker_dictionary

PAPERS = sorted(PAPER_SIZE_MM)


def markers_px(page):
    quads, numbers, _ = cv2.aruco.ArucoDetector(marker_dictionary()).detectMarkers(page)
    return {int(n): q.reshape(4, 2) for n, q in zip(numbers.ravel(), quads, strict=True)}


def test_its_markers_are_not_the_sheets():
    assert not set(LABEL_MARKER_IDS) & set(MARKER_IDS)


def test_markers_lie_on_the_panel_below_the_bar_with_white_around_them():
    every_mm = np.stack(list(label_corners_mm().values()))
    assert np.abs(every_mm[..., 0]).max() < LABEL_WIDTH_MM / 2 - 6
    assert every_mm[..., 1].min() > 9 + 6
    assert every_mm[..., 1].max() < LABEL_HEIGHT_MM - 6
    np.testing.assert_allclose(every_mm[..., 0].mean(), 0, atol=1e-9)


def test_the_picture_is_the_panel():
    px_per_mm = 8.0
    page = label_image(px_per_mm=px_per_mm)
    assert page.shape == (LABEL_HEIGHT_MM * px_per_mm, LABEL_WIDTH_MM * px_per_mm)
    assert (page[: int(8 * px_per_mm)] == 0).all()
    assert (page[int(10 * px_per_mm) : int(16 * px_per_mm)] == 255).all()
    seen = markers_px(np.pad(page, 80, constant_values=128))
    assert sorted(seen) == sorted(LABEL_MARKER_IDS)
    for marker, corners_mm in label_corners_mm().items():
        seen_mm = (seen[marker] + 0.5 - 80) / px_per_mm - [LABEL_WIDTH_MM / 2, 0]
        np.testing.assert_allclose(seen_mm, corners_mm, atol=0.3)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_pdf_holds_cut_out_and_how_to(paper):
    reader = pypdf.PdfReader(io.BytesIO(label_pdf(paper=paper)))
    assert len(reader.pages) == 1
    text = " ".join(reader.pages[0].extract_text().split())
    for words in ("100 %", "110 mm", "Cut along", "Fold at the bar", "between the legs", "level"):
        assert words in text
    assert label_pdf(paper=paper) == label_pdf(paper=paper)


@pytest.mark.parametrize("paper", PAPERS)
def test_it_prints_true_to_scale(paper, printed):
    """By poppler at 300 dots an inch, read back by OpenCV."""
    page, mm_per_px = printed(label_pdf(paper=paper)), 25.4 / 300
    seen = markers_px(page)
    sides_mm = [
        np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1) * mm_per_px
        for quad in seen.values()
    ]
    assert sorted(seen) == sorted(LABEL_MARKER_IDS)
    np.testing.assert_allclose(sides_mm, LABEL_MARKER_SIDE_MM, atol=0.25)


def test_unknown_paper():
    with pytest.raises(InputError, match="unknown paper"):
        label_pdf(paper="a5")  # type: ignore[arg-type]
