"""Does the child stand upright, or lean to one side?

A camera is tilted now and then, and a sheet hangs askew, so a body leans only where it does so both in
the picture and against the object.
"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import Body, Landmark
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.photogrammetry.projection import cast
from pose_fit.reference.reference import CircleReference, Reference
from pose_fit.refusal import Notice

__all__ = ["leaning_warnings"]

#: From shoulders to ankles against the picture's and the object's vertical: at most 3.5 degrees of 170
#: rendered children beside a sheet, paper or door. A wheel has no vertical of its own, so the
#: camera's tilt adds to it.
MAX_LEAN_RAD: Final = math.radians(5.0)
MAX_LEAN_BY_WHEEL_RAD: Final = math.radians(10.0)
#: Trunk against legs: at most 3.6 degrees of 214.
MAX_BENT_RAD: Final = math.radians(6.0)


def leaning_warnings(
    body: Body, plane: PlaneScale, legs: LegGeometry, reference: Reference
) -> tuple[Notice, ...]:
    """What is told where the body leans, or bends at the hips to one side."""
    shoulders_px, hips_px, ankles_px = (
        body.points_px(pair).mean(axis=0) for pair in (_SHOULDERS, _HIPS, _ANKLES)
    )
    depth_mm = -float(legs.hips_mm[:, 2].mean())
    in_plane_mm = cast(plane.parameters, np.stack([shoulders_px, ankles_px]), depth_mm)[:, :2]
    lean_rad = min(
        abs(_aside_rad(ankles_px - shoulders_px)), abs(_aside_rad(in_plane_mm[1] - in_plane_mm[0]))
    )
    bent_rad = abs(_aside_rad(hips_px - shoulders_px) - _aside_rad(ankles_px - hips_px))
    is_wheel = isinstance(reference, CircleReference)
    most_rad = MAX_LEAN_BY_WHEEL_RAD if is_wheel else MAX_LEAN_RAD
    if lean_rad < most_rad and bent_rad < MAX_BENT_RAD:
        return ()
    return (
        Notice("not_upright", "The child leans to one side: standing straight is measured surer."),
    )


_SHOULDERS: Final[tuple[Landmark, ...]] = ("left_shoulder", "right_shoulder")
_HIPS: Final[tuple[Landmark, ...]] = ("left_hip", "right_hip")
_ANKLES: Final[tuple[Landmark, ...]] = ("left_ankle", "right_ankle")


def _aside_rad(down: NDArray[np.float64]) -> float:
    """How far a way down points to the side."""
    return math.atan2(float(down[0]), float(down[1]))
