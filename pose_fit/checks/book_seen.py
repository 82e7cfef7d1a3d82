"""Is the book held as it should be, and where in space is the label's top edge?"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.metrology.propagation import weighted_mean
from pose_fit.notice_codes import NoticeCode
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import cast
from pose_fit.reference.find_book_label import BookLabel
from pose_fit.refusal import Refusal
from pose_fit.sights.candidates import BookCrotch

__all__ = ["book_crotch", "check_book"]

#: A spine further from level than this is no longer held against the crotch on both sides.
MAX_TILT_RAD: Final = math.radians(6.0)
#: The top edge below the hips, in straight legs: the crotch lies a twelfth below the hip joints
#: (measured people), and the label is a little nearer than the hips.
CROTCH_PARTS: Final = (-0.06, 0.24)
#: And it hangs this near to the middle between the legs, in straight legs.
ASIDE_PART: Final = 0.16
#: The label before the hips: half a thigh, and what the book stands out (judgement), in straight
#: legs and millimetres, mean and standard uncertainty.
_THIGH_PART: Final = 0.13
_STANDS_OUT_MM: Final = (40.0, 25.0)
_THIGH_SD_MM: Final = 20.0
#: The hips' own distance from the wall: heels near it or off it, and posture.
_HIPS_SD_MM: Final = 35.0
#: Spine against crotch: level front to back within 2.5 degrees over the label's distance from the
#: middle of the body. Two layers of cloth lie between, and the label may be off the book's top
#: (judgement; mean and standard uncertainty).
_PITCH_SD_RAD: Final = math.radians(2.5)
_CONTACT_MM: Final = (2.0, 2.0)
#: A label that is the reference lies in its own plane but for its bend.
_FLAT_SD_MM: Final = 2.0

_REMEDY: Final = (
    "Push the book up until its spine touches, hold the spine level from side to side and front to"
    " back, and keep the label between the thighs."
)


def book_crotch(
    label: BookLabel, plane: PlaneScale, legs: LegGeometry, *, is_reference: bool = False
) -> BookCrotch:
    """Where the top edge is, by how large the label looks and by where books are held.

    Parameters
    ----------
    is_reference
        The label itself gives the plane, so that its size says nothing more.
    """
    near_mm, far_mm = 0.0, 200.0
    sizes = [_size(label, plane, depth_mm) for depth_mm in (near_mm, far_mm)]
    # What a plane nearer to the camera shows is smaller in proportion.
    by_size_mm = near_mm + (sizes[0] - 1) / (sizes[0] - sizes[1]) * (far_mm - near_mm)
    span_px = float(np.ptp(label.corners_px, axis=0).max())
    part_sd = math.hypot(label.sd_px / span_px * 1.5, _LABEL_SCALE_SD)
    by_size_sd_mm = part_sd * plane.distance_mm
    hips_mm = -float(legs.hips_mm[:, 2].mean())
    stands_out_mm, stands_out_sd_mm = _STANDS_OUT_MM
    before_mm = _THIGH_PART * legs.straight_mm + stands_out_mm
    held_sd_mm = math.hypot(stands_out_sd_mm, _THIGH_SD_MM, _HIPS_SD_MM)
    if is_reference:
        depth_mm, depth_sd_mm = by_size_mm, _FLAT_SD_MM
    else:
        depth_mm, depth_sd_mm = weighted_mean(
            [by_size_mm, hips_mm + before_mm], [by_size_sd_mm, held_sd_mm]
        )
    level_mm, contact_sd_mm = _CONTACT_MM
    return BookCrotch(
        point_px=label.middle_px,
        edge_sd_px=label.sd_px,
        depth_mm=depth_mm,
        depth_sd_mm=depth_sd_mm,
        level_mm=level_mm,
        level_sd_mm=math.hypot(contact_sd_mm, _PITCH_SD_RAD * before_mm),
    )


#: Printers and copiers shrink or stretch a page that nobody measured.
_LABEL_SCALE_SD: Final = 0.012


def _size(label: BookLabel, plane: PlaneScale, depth_mm: float) -> float:
    """Size of the label seen at a depth over its true one, by its spread."""
    seen_mm = cast(plane.parameters, label.corners_px, depth_mm)[:, :2]
    return _spread(seen_mm) / _spread(label.corners_mm)


def _spread(points_mm: NDArray[np.float64]) -> float:
    return float(np.linalg.norm(points_mm - points_mm.mean(axis=0)))


def check_book(
    label: BookLabel, crotch: BookCrotch, plane: PlaneScale, legs: LegGeometry
) -> Refusal | None:
    """A refusal where the book is tilted or not at the crotch, else None."""
    ends_mm = cast(plane.parameters, label.top_px, crotch.depth_mm)
    way = ends_mm[1] - ends_mm[0]
    tilt_rad = math.asin(float(np.clip(way @ legs.down / np.linalg.norm(way), -1, 1)))
    if abs(tilt_rad) > MAX_TILT_RAD:
        return _refused("book_tilted", f"The book is tilted by {math.degrees(abs(tilt_rad)):.0f}°.")
    way_mm = ends_mm.mean(axis=0) - legs.hips_mm.mean(axis=0)
    below = float(way_mm @ legs.down) / legs.straight_mm
    across = np.array([legs.down[1], -legs.down[0], 0.0])
    aside = abs(float(way_mm @ across)) / legs.straight_mm
    low, high = CROTCH_PARTS
    if not low <= below <= high or aside > ASIDE_PART:
        return _refused(
            "book_slipped", "The book’s top edge is not where the legs part: it slipped."
        )
    return None


def _refused(code: NoticeCode, message: str) -> Refusal:
    return Refusal.because(code, message, _REMEDY)
