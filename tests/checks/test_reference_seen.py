"""What is told of the printed sheet: its scale and its shape."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.checks.reference_seen import reference_warnings
from pose_fit.photo.camera_prior import CameraPrior
from pose_fit.photogrammetry.plane import PlaneScale, solve_plane
from pose_fit.photogrammetry.projection import project
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
    view = PlaneScale(np.zeros(12), np.zeros((12, 0)), (), 1.0)
    told = reference_warnings(sheet(), view, ReferenceRequest("sheet", ruler_mm=ruler_mm))
    assert [notice.code for notice in told] == codes


@pytest.mark.parametrize(("taller", "is_told"), [(1.0, False), (1.2, True)])
def test_a_sheet_printed_out_of_shape_is_told_of(taller: float, is_told: bool) -> None:
    view = np.zeros(12)
    view[3:6] = 200.0, 150.0, 2000.0
    view[6:9] = np.log(1000.0), 450.0, 600.0
    printed_mm = sheet().object_mm * [1.0, taller]
    seen_px = project(view, np.column_stack([printed_mm, np.zeros(len(printed_mm))]))
    camera = CameraPrior(1000.0, 0.03, (450.0, 600.0), 10.0, 0.01, from_exif=True)
    plane = solve_plane(replace(sheet(), image_px=seen_px), camera)
    told = reference_warnings(sheet(), plane, ReferenceRequest("sheet", ruler_mm=170.0))
    assert ("reference_uneven" in [notice.code for notice in told]) is is_told


def sheet() -> PointReference:
    corners_mm = rectangle_mm(180.0, 250.0)
    return PointReference(
        kind="sheet",
        placement="wall",
        object_mm=corners_mm,
        image_px=corners_mm + 400.0,
        point_sd_px=0.3,
        log_size_sd=LOG_SCALE_SD_MEASURED,
        log_aspect_sd=0.002,
    )
