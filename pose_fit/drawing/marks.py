"""Where the marks go on the picture: joints, reference, floor and crotch with its band."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.proportions import ankle_height
from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.photogrammetry.plane import project

__all__ = ["Marks", "picture_marks"]

#: How far the floor and crotch lines reach to each side of the child.
_REACH_MM: Final = 260.0


@dataclass(frozen=True, slots=True)
class Marks:
    """Everything in working pixels, ready to be drawn.

    Attributes
    ----------
    legs_px
        (2, 3, 2) array: hip, knee and ankle of each leg.
    reference_px
        (N, 2) array of the reference's points.
    floor_px, crotch_px, band_low_px, band_high_px
        (2, 2) arrays, left and right end: floor, crotch, and the ends of the 95 % interval.
    seen_crotch_px
        (2,) array: top of the gap between the legs, or None where it is not seen.
    """

    legs_px: NDArray[np.float64]
    reference_px: NDArray[np.float64]
    floor_px: NDArray[np.float64]
    crotch_px: NDArray[np.float64]
    band_low_px: NDArray[np.float64]
    band_high_px: NDArray[np.float64]
    seen_crotch_px: NDArray[np.float64] | None


def picture_marks(measurement: PhotoMeasurement) -> Marks:
    """Positions of the marks of one measured photo."""
    photo, legs, inseam = measurement.photo, measurement.legs, measurement.inseam
    across = np.array([legs.down[1], -legs.down[0], 0.0])
    ankles_mm = legs.ankles_mm.mean(axis=0)
    floor_mm = ankles_mm + ankle_height(legs.straight_mm).mean_mm * legs.down

    def line_px(height_mm: float) -> NDArray[np.float64]:
        # Lines are drawn at the ankles' depth, where the floor line is seen.
        middle_mm = floor_mm - height_mm * legs.down
        ends_mm = np.stack([middle_mm - _REACH_MM * across, middle_mm + _REACH_MM * across])
        return photo.working_px(project(measurement.sights.plane.parameters, ends_mm))

    half_mm = COVERAGE_FACTOR_95 * inseam.sd_mm
    joints_px = photo.working_px(measurement.sights.body.points_px(LEG_LANDMARKS))
    crotch = measurement.sights.crotch
    return Marks(
        legs_px=joints_px.reshape(3, 2, 2).transpose(1, 0, 2),
        reference_px=photo.working_px(measurement.sights.reference.image_px),
        floor_px=line_px(0.0),
        crotch_px=line_px(inseam.mean_mm),
        band_low_px=line_px(inseam.mean_mm - half_mm),
        band_high_px=line_px(inseam.mean_mm + half_mm),
        seen_crotch_px=None if crotch is None else photo.working_px(crotch.point_px),
    )
