import io
import shutil
import subprocess

import cv2
import numpy as np
import pypdf
import pytest
from PIL import Image

from pose_fit.errors import InputError
from pose_fit.reference.paper import PAPER_SIZE_MM
from pose_fit.reference.printed_sheet import (
    BLOCK_HEIGHT_MM,
    BLOCK_WIDTH_MM,
    MARKER_IDS,
    MARKER_SIDE_MM,
    RULER_MM,
    marker_corners_mm,
    marker_dictionary,
    sheet_image,
    sheet_pdf,
)

PAPERS = sorted(PAPER_SIZE_MM)
MM_PER_POINT = 25.4 / 72


def markers_px(page: np.ndarray) -> dict[int, np.ndarray]:
    """What OpenCV's own detector reads on a page."""
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    quads, numbers, _ = cv2.aruco.ArucoDetector(marker_dictionary(), settings).detectMarkers(page)
    return {int(n): q.reshape(4, 2) for n, q in zip(numbers.ravel(), quads, strict=True)}


def printed_page(paper: str, dpi: int, tmp_path) -> np.ndarray:
    """The PDF as poppler prints it."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("poppler-utils is not installed")
    (tmp_path / "sheet.pdf").write_bytes(sheet_pdf(paper=paper))
    command = ["pdftoppm", "-gray", "-png", "-r", str(dpi), "-singlefile", "sheet.pdf", "page"]
    subprocess.run(command, cwd=tmp_path, check=True)
    return np.asarray(Image.open(tmp_path / "page.png").convert("L"))


def test_paper_sizes():
    """US Letter is 8.5 by 11 in (ANSI/ASME Y14.1 size A), A4 210 by 297 mm (ISO 216)."""
    assert PAPER_SIZE_MM["letter"] == pytest.approx((8.5 * 25.4, 11 * 25.4))
    assert PAPER_SIZE_MM["a4"] == (210.0, 297.0)


def test_markers_lie_on_the_block_and_do_not_touch():
    corners_mm = marker_corners_mm()
    every_mm = np.vstack(list(corners_mm.values()))
    np.testing.assert_allclose(np.ptp(every_mm, axis=0), [BLOCK_WIDTH_MM, BLOCK_HEIGHT_MM])
    np.testing.assert_allclose(every_mm.mean(axis=0), 0, atol=1e-9)
    # A marker is read only with a white margin of at least one of its six cells around it.
    assert BLOCK_WIDTH_MM - 2 * MARKER_SIDE_MM >= MARKER_SIDE_MM / 6 - 1


@pytest.mark.parametrize("paper", PAPERS)
def test_everything_fits_on_the_paper_with_the_margin_printers_need(paper):
    """Common printers leave 4.2 to 6.4 mm blank (common practice, no source)."""
    width_mm, height_mm = PAPER_SIZE_MM[paper]
    assert (width_mm - BLOCK_WIDTH_MM) / 2 > 6.4
    assert (height_mm - BLOCK_HEIGHT_MM) / 2 > 6.4
    assert RULER_MM < BLOCK_WIDTH_MM


@pytest.mark.parametrize("paper", PAPERS)
def test_the_pdf_is_one_page_of_the_paper(paper):
    reader = pypdf.PdfReader(io.BytesIO(sheet_pdf(paper=paper)))
    assert len(reader.pages) == 1
    box = reader.pages[0].mediabox
    size_mm = np.array([box.width, box.height], float) * MM_PER_POINT
    np.testing.assert_allclose(size_mm, PAPER_SIZE_MM[paper], atol=0.01)
    text = reader.pages[0].extract_text()
    assert "100 %" in text
    assert f"{RULER_MM:.0f} mm" in text


@pytest.mark.parametrize("paper", PAPERS)
def test_the_printed_markers_measure_true(paper, tmp_path):
    """Printed by poppler at 300 dots an inch and read back by OpenCV: 0.1 mm everywhere."""
    page = printed_page(paper, 300, tmp_path)
    mm_per_px = 25.4 / 300
    seen = markers_px(page)
    assert sorted(seen) == sorted(MARKER_IDS)
    middle_px = np.array(page.shape[::-1]) / 2
    for marker, corners_mm in marker_corners_mm().items():
        seen_mm = (seen[marker] + 0.5 - middle_px) * mm_per_px
        np.testing.assert_allclose(seen_mm, corners_mm, atol=0.12)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_printed_ruler_measures_true(paper, tmp_path):
    page = printed_page(paper, 300, tmp_path)
    row = page[page.shape[0] // 2 - 2 : page.shape[0] // 2 + 2].min(axis=0)
    dark_px = np.flatnonzero(row < 128)
    assert (dark_px[-1] - dark_px[0] + 1) * 25.4 / 300 == pytest.approx(RULER_MM, abs=0.4)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_picture_of_the_page_is_the_page(paper):
    px_per_mm = 4.0
    page = sheet_image(paper=paper, px_per_mm=px_per_mm)
    np.testing.assert_allclose(
        np.array(page.shape[::-1]) / px_per_mm, PAPER_SIZE_MM[paper], atol=0.2
    )
    seen = markers_px(page)
    assert sorted(seen) == sorted(MARKER_IDS)
    middle_px = np.array(page.shape[::-1]) / 2
    for marker, corners_mm in marker_corners_mm().items():
        seen_mm = (seen[marker] + 0.5 - middle_px) / px_per_mm
        np.testing.assert_allclose(seen_mm, corners_mm, atol=0.3)


def test_the_same_page_every_time():
    assert sheet_pdf(paper="a4") == sheet_pdf(paper="a4")


def test_unknown_paper():
    with pytest.raises(InputError, match="unknown paper 'a5'; wanted one of letter, a4"):
        sheet_pdf(paper="a5")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="unknown paper"):
        sheet_image(paper="a5")  # type: ignore[arg-type]
