"""The child as its own yardstick: from the crown to the feet it is as tall as somebody measured.

No object is needed, and neither the distance of a wall nor a printer's scale matters, since
the height stands in the legs' own plane. By itself the program takes the crown from the
person's outline and the ankles from the pose, so that shoes do not count; whoever points gives
the crown and the floor between the heels.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.inseam_norms import inseam_at_stature
from pose_fit.anthropometry.people import people
from pose_fit.anthropometry.soles import soles_in_picture_mm
from pose_fit.body.body import Body
from pose_fit.photo.click_error import click_sd_px
from pose_fit.photo.photo import Photo
from pose_fit.reference.find_crown import find_crown
from pose_fit.reference.from_points import check_points
from pose_fit.reference.reference import PointReference
from pose_fit.refusal import Refusal

__all__ = ["STATURE_SD_MM", "BodyHeight", "height_reference"]

#: A height that somebody knows, from a doctor's visit or a mark on the door frame (judgement).
STATURE_SD_MM: Final = 10.0
#: Hair above the head that a measuring board presses down, with the outline's own margin (the first
#: rendered set), and how far knees, back and neck give way while nobody measures (judgement): mean
#: and standard uncertainty.
HAIR_MM: Final = (18.0, 10.0)
SLUMP_MM: Final = (3.0, 7.0)
#: The pose model's ankle lies this part of the leg above the joint's centre, and scatters.
_ANKLE_PART: Final = (0.013, 0.014)
_ANKLE_SD_LEGS: Final = 0.010
#: The floor between the heels is guessed rather than seen.
_FLOOR_SD_LEGS: Final = 0.02
#: The eyes lie this far below the ears, in distances between the ears, in a head that is bowed.
BOWED: Final = 0.35
_REMEDY: Final = (
    "Take the whole child from hair to feet, standing straight and looking ahead without a hat, or"
    " point at the top of the head and the floor between the heels."
)


@dataclass(frozen=True, slots=True)
class BodyHeight:
    """Standing height without shoes on the day of the picture, and what else adds to it."""

    stature_mm: float
    stature_sd_mm: float = STATURE_SD_MM
    soles_mm: float | None = None


def height_reference(
    photo: Photo, body: Body, height: BodyHeight, points_px: NDArray[np.float64] | None
) -> PointReference | Refusal:
    """Crown and ankles, or the clicked crown and floor, as the ends of a known length.

    Raises
    ------
    ReferenceObjectError
        Points that are not two, or lie outside the picture.
    """
    if points_px is not None:
        return _clicked(photo, body, height, points_px)
    if _is_bowed(body):
        return Refusal.because(
            "head_bowed",
            "The head is bowed, so that the child is not seen at its height.",
            _REMEDY,
            asks=("points",),
        )
    crown = find_crown(photo, body)
    if crown is None:
        return Refusal.because(
            "crown_hidden",
            "The top of the head is not seen clearly in the picture.",
            _REMEDY,
            asks=("points",),
        )
    leg_mm, ankle_mm = _leg_mm(height.stature_mm)
    ankle = people().ankle_height_from_hip_to_ankle
    above_mm = ankle_mm + _ANKLE_PART[0] * leg_mm
    length_mm = height.stature_mm + HAIR_MM[0] - SLUMP_MM[0] - above_mm
    sd_mm = math.hypot(
        height.stature_sd_mm,
        HAIR_MM[1],
        SLUMP_MM[1],
        ankle.person_sd_at_mm(leg_mm),
        _ANKLE_PART[1] * leg_mm,
    )
    ankle_sd_px = _ANKLE_SD_LEGS * body.leg_px
    return _length(
        np.stack([crown.point_px, body.ankles_px]),
        length_mm,
        sd_mm,
        math.sqrt((crown.sd_px**2 + ankle_sd_px**2) / 2),
    )


def _clicked(
    photo: Photo, body: Body, height: BodyHeight, points_px: NDArray[np.float64]
) -> PointReference:
    check_points(photo, points_px, kind="height", least=2, most=2)
    soles_mm, soles_sd_mm = soles_in_picture_mm(height.soles_mm)
    length_mm = height.stature_mm + HAIR_MM[0] - SLUMP_MM[0] + soles_mm
    sd_mm = math.hypot(height.stature_sd_mm, HAIR_MM[1], SLUMP_MM[1], soles_sd_mm)
    floor_sd_px = _FLOOR_SD_LEGS * body.leg_px
    ends_px = points_px[np.argsort(points_px[:, 1])]
    point_sd_px = math.sqrt((click_sd_px(photo) ** 2 + floor_sd_px**2) / 2)
    return _length(ends_px, length_mm, sd_mm, point_sd_px)


def _length(
    ends_px: NDArray[np.float64], length_mm: float, sd_mm: float, point_sd_px: float
) -> PointReference:
    return PointReference(
        kind="height",
        placement="beside",
        object_mm=np.array([[0.0, -length_mm / 2], [0.0, length_mm / 2]]),
        image_px=ends_px,
        point_sd_px=point_sd_px,
        log_size_sd=sd_mm / length_mm,
        log_aspect_sd=0.003,
    )


def _leg_mm(stature_mm: float) -> tuple[float, float]:
    """Hip to ankle, and the ankle's height, of people of this stature."""
    hip, ankle = people().inseam_from_hip_height, people().ankle_height_from_hip_to_ankle
    hip_mm = (inseam_at_stature(stature_mm).mean_mm - hip.intercept_mm) / hip.slope
    leg_mm = (hip_mm - ankle.intercept_mm) / (1 + ankle.slope)
    return leg_mm, hip_mm - leg_mm


def _is_bowed(body: Body) -> bool:
    eyes = body.points_px(("left_eye", "right_eye")).mean(axis=0)
    left, right = body.point_px("left_ear"), body.point_px("right_ear")
    down = (body.ankles_px - body.hips_px) / body.leg_px
    below_px = float((eyes - (left + right) / 2) @ down)
    return below_px > BOWED * float(np.hypot(*(left - right)))
