"""Where the marks go on the picture: what was found, and the two lines that the inseam lies between.

The floor line is the fused one: the floors that were seen count with the weights of their
readings. The crotch line lies the inseam above it in the child's own plane, less what a wide
stance or bent knees take away in the picture.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.drawing.svg import SCALE_MM
from pose_fit.inseam.photo_reading import PhotoReading
from pose_fit.measure import PhotoMeasurement
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.projection import project
from pose_fit.reference.reference import Reference

__all__ = ["SCALE_MM", "FoundMarks", "Marks", "found_marks", "picture_marks"]

#: How far the floor and crotch lines reach to each side of the child.
_REACH_MM: Final = 260.0
#: Where the arrow from floor to crotch stands beside the child.
_ARROW_MM: Final = 220.0

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class FoundMarks:
    """What was found in a picture, in working pixels.

    Attributes
    ----------
    legs_px
        (2, 3, 2) array: hip, knee and ankle of each leg.
    person_px
        (2, 2) array: upper left and lower right corner around the person; None without a mask.
    reference_px
        (N, 2) array of the reference's points, or None.
    """

    legs_px: _Array
    person_px: _Array | None
    reference_px: _Array | None


@dataclass(frozen=True, slots=True, eq=False)
class Marks:
    """What was found and what was measured, in working pixels.

    Attributes
    ----------
    found
        Person, legs and reference.
    floor_px, crotch_px, band_low_px, band_high_px
        (2, 2) arrays, left and right end: floor, crotch, and the ends of the 95 % interval.
    arrow_px
        (2, 2) array: from the floor up to the crotch, beside the child.
    scale_px
        Length of ``SCALE_MM`` along the floor line at the child.
    seen_crotch_px
        (2,) array: top of the gap between the legs, or None where it is not seen.
    """

    found: FoundMarks
    floor_px: _Array
    crotch_px: _Array
    band_low_px: _Array
    band_high_px: _Array
    arrow_px: _Array
    scale_px: float
    seen_crotch_px: _Array | None


def found_marks(photo: Photo, body: Body, reference: Reference | None) -> FoundMarks:
    """Marks of what was found."""
    joints_px = photo.working_px(body.points_px(LEG_LANDMARKS))
    rows, columns = np.nonzero(body.mask > 0.5)
    person_px = None
    if rows.size:
        corners = [[columns.min(), rows.min()], [columns.max(), rows.max()]]
        person_px = np.array(corners, dtype=np.float64)
    return FoundMarks(
        legs_px=joints_px.reshape(3, 2, 2).transpose(1, 0, 2),
        person_px=person_px,
        reference_px=None if reference is None else photo.working_px(reference.image_px),
    )


def picture_marks(measurement: PhotoMeasurement) -> Marks:
    """Marks of one measured photo."""
    photo, sights, legs = measurement.photo, measurement.sights, measurement.legs
    inseam = measurement.inseam
    across = np.array([legs.down[1], -legs.down[0], 0.0])
    hips_mm, ankles_mm = legs.hips_mm.mean(axis=0), legs.ankles_mm.mean(axis=0)
    # Barefoot, the soles of the feet would be here; the floor is a shoe's sole lower.
    feet_mm = people().ankle_height_from_hip_to_ankle.mean_mm(legs.straight_mm) + _floor_shift_mm(
        measurement.reading
    )
    crotch_from_hips_mm = legs.upright_mm + feet_mm - inseam.mean_mm

    def px(points_mm: list[_Array]) -> _Array:
        return photo.working_px(project(sights.plane.parameters, np.stack(points_mm)))

    def line_px(middle_mm: _Array) -> _Array:
        return px([middle_mm - _REACH_MM * across, middle_mm + _REACH_MM * across])

    # The floor is drawn at the ankles' depth, the crotch at that of the hips.
    floor_mm = ankles_mm + (feet_mm + sights.soles_mm) * legs.down
    crotch_mm = hips_mm + crotch_from_hips_mm * legs.down
    half_mm = COVERAGE_FACTOR_95 * inseam.sd_mm * legs.down
    crotch = sights.crotch
    side = _free_side(crotch_mm, across, measurement) * _ARROW_MM * across
    return Marks(
        found=found_marks(photo, sights.body, sights.reference),
        floor_px=line_px(floor_mm),
        crotch_px=line_px(crotch_mm),
        band_low_px=line_px(crotch_mm + half_mm),
        band_high_px=line_px(crotch_mm - half_mm),
        arrow_px=px([floor_mm + side, crotch_mm + side]),
        scale_px=math.dist(*px([floor_mm, floor_mm + SCALE_MM * across])),
        seen_crotch_px=None if crotch is None else photo.working_px(crotch.point_px),
    )


def _floor_shift_mm(reading: PhotoReading) -> float:
    """How far the fused floor lies below the one by the ankles.

    Two readings with one top differ by their floors, so that a floor's distance from the ankles'
    one follows from the values, and its share in the result from the weights.
    """
    by_ankles = {one.top: one.value_mm for one in reading.readings if one.floor == "ankles"}
    having = [one for one in reading.readings if one.top in by_ankles]
    total = sum(one.weight for one in having)
    if total <= 0:
        return 0.0
    shifts = (one.weight * (one.value_mm - by_ankles[one.top]) for one in having)
    return sum(shifts) / total


def _free_side(middle_mm: _Array, across: _Array, measurement: PhotoMeasurement) -> float:
    """1 or -1: the side of the child away from the reference."""
    sights = measurement.sights
    right_px = project(sights.plane.parameters, np.stack([middle_mm, middle_mm + across]))
    reference_px = sights.reference.image_px.mean(axis=0)
    towards = float((reference_px - right_px[0]) @ (right_px[1] - right_px[0]))
    return -1.0 if towards > 0 else 1.0
