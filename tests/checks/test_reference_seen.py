"""What is told of the printed sheet's scale."""

import numpy as np
import pytest

from pose_fit.checks.reference_seen import reference_warnings
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.reference.find_sheet import LOG_SCALE_SD_MEASURED
from pose_fit.reference.from_points import rectangle_mm
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest


@pytest.mark.parametrize(
    ("ruler_mm", "codes"),
    [
        (169.2, []),
        (174.6, []),
        (180.0, []),
        (181.0, []),
        (185.6, ["print_scale_differs"]),
        (191.5, ["print_scale_differs"]),
    ],
)
def test_a_ruler_longer_than_drawn_was_misread(ruler_mm: float, codes: list[str]) -> None:
    corners_mm = rectangle_mm(180.0, 250.0)
    sheet = PointReference(
        kind="sheet",
        placement="wall",
        object_mm=corners_mm,
        image_px=corners_mm + 400.0,
        point_sd_px=0.3,
        log_size_sd=LOG_SCALE_SD_MEASURED,
        log_aspect_sd=0.002,
    )
    view = PlaneScale(np.zeros(12), np.zeros((12, 0)), (), 1.0)
    told = reference_warnings(sheet, view, ReferenceRequest("sheet", ruler_mm=ruler_mm))
    assert [notice.code for notice in told] == codes
