"""The measurement equation of a photo: what is seen, and two readings of the inseam from it.

With the plane of the reference solved, every joint is a ray that meets the body at
a depth in front of that plane. Then

    straight leg = hip to knee + knee to ankle, mean of both sides
    upright      = sqrt(straight leg^2 - (hips' and ankles' half widths apart)^2)
    hip height   = upright + ankle height, by a regression on the straight leg
    legs reading       = inseam by a regression on the hip height, from measured people
    silhouette reading = hip height - drop from the hips to the crotch, as seen

`upright` is the height of the hip joints over the ankles that the same leg has when
it stands erect with the feet a hand apart, so that a wide stance or a slightly bent
knee does not shorten either reading. In the silhouette reading the hip landmark
cancels out wherever the legs are straight.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import people
from pose_fit.plane import PARAMETER_COUNT, cast

__all__ = ["STANCE_ANKLES_APART_MM", "LegGeometry", "inseam_readings", "leg_geometry"]

#: Distance between the ankles in the stance that defines the inseam: feet slightly apart.
STANCE_ANKLES_APART_MM: Final = 135.0


@dataclass(frozen=True, slots=True)
class LegGeometry:
    """The legs in the plane's frame, millimetres.

    Attributes
    ----------
    hips_mm, knees_mm, ankles_mm
        (2, 3) arrays, left and right.
    straight_mm
        Hip to knee to ankle, mean of both sides.
    upright_mm
        Height of the hips over the ankles when standing erect.
    down
        (3,) unit vector from between the hips to between the ankles, in the plane.
    """

    hips_mm: NDArray[np.float64]
    knees_mm: NDArray[np.float64]
    ankles_mm: NDArray[np.float64]
    straight_mm: float
    upright_mm: float
    down: NDArray[np.float64]

    @property
    def thigh_mm(self) -> float:
        """Hip to knee, mean of both sides."""
        return float(np.linalg.norm(self.knees_mm - self.hips_mm, axis=1).mean())

    @property
    def shank_mm(self) -> float:
        """Knee to ankle, mean of both sides."""
        return float(np.linalg.norm(self.ankles_mm - self.knees_mm, axis=1).mean())


def leg_geometry(
    plane: NDArray[np.float64],
    joints_px: NDArray[np.float64],
    gap_mm: float,
    depth_parts: NDArray[np.float64],
    shift_parts: NDArray[np.float64],
) -> LegGeometry:
    """Joints in millimetres.

    Parameters
    ----------
    plane
        (12,) array of plane parameters.
    joints_px
        (6, 2) array in the order of `LEG_LANDMARKS`.
    gap_mm
        Distance from the reference's plane to the heels.
    depth_parts
        (3,) array: how far hip, knee and ankle lie in front of the heels, as parts of
        the straight leg.
    shift_parts
        (2,) array: how far the pose model's hip and ankle lie below the joint centres,
        as parts of the straight leg.
    """
    straight_mm = 0.0
    hips_mm = knees_mm = ankles_mm = np.zeros((2, 3))
    # The depths are parts of the leg's length, which is known only after the depths: three
    # rounds suffice, since a depth of a tenth of the distance changes the scale by a tenth.
    for _ in range(3):
        depths_mm = np.repeat(gap_mm + depth_parts * straight_mm, 2)
        points_mm = cast(plane, joints_px, depths_mm)
        hips_mm, knees_mm, ankles_mm = points_mm[0:2], points_mm[2:4], points_mm[4:6]
        hips_mm = _moved_towards(hips_mm, knees_mm, -shift_parts[0] * straight_mm)
        ankles_mm = _moved_towards(ankles_mm, knees_mm, shift_parts[1] * straight_mm)
        straight_mm = float(
            np.linalg.norm(knees_mm - hips_mm, axis=1).mean()
            + np.linalg.norm(ankles_mm - knees_mm, axis=1).mean()
        )
    down = ankles_mm.mean(axis=0) - hips_mm.mean(axis=0)
    down[2] = 0.0
    down /= np.linalg.norm(down)
    hips_apart_mm = float(np.linalg.norm((hips_mm[0] - hips_mm[1])[:2]))
    sideways_mm = (STANCE_ANKLES_APART_MM - hips_apart_mm) / 2
    return LegGeometry(
        hips_mm,
        knees_mm,
        ankles_mm,
        straight_mm,
        float(np.sqrt(max(straight_mm**2 - sideways_mm**2, 0.0))),
        down,
    )


def _moved_towards(
    points_mm: NDArray[np.float64], targets_mm: NDArray[np.float64], by_mm: float
) -> NDArray[np.float64]:
    ways = targets_mm - points_mm
    moved: NDArray[np.float64] = points_mm + by_mm * ways / np.linalg.norm(
        ways, axis=1, keepdims=True
    )
    return moved


def inseam_readings(inputs: Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
    """The readings in millimetres: by the legs, and by the silhouette where it is given.

    Parameters
    ----------
    inputs
        In this order: plane parameters (12,), joints in pixels (12,), gap in mm (1,),
        depth parts of hip, knee and ankle (3,), shift parts of hip and ankle (2,), this
        child's departures from the regressions of ankle height and of inseam on hip
        height in mm (2,); and for the silhouette the crotch in pixels (2,), its depth
        part (1,) and how far the visible top of the gap lies below the crotch in mm (1,).

    Returns
    -------
    (1,) or (2,) array
    """
    plane, joints_px, gap_mm, depth_parts, shift_parts, departures_mm, *silhouette = inputs
    if plane.shape != (PARAMETER_COUNT,):
        raise ValueError(f"wanted {PARAMETER_COUNT} plane parameters, found {plane.shape}")
    legs = leg_geometry(plane, joints_px.reshape(6, 2), float(gap_mm[0]), depth_parts, shift_parts)
    ankle, crotch = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    ankle_height_mm = ankle.intercept_mm + ankle.slope * legs.straight_mm + departures_mm[0]
    hip_height_mm = legs.upright_mm + ankle_height_mm
    readings = [crotch.intercept_mm + crotch.slope * hip_height_mm + departures_mm[1]]
    if silhouette:
        crotch_px, crotch_depth_part, hang_mm = silhouette
        depth_mm = float(gap_mm[0] + crotch_depth_part[0] * legs.straight_mm)
        crotch_mm = cast(plane, crotch_px[None, :], depth_mm)[0]
        drop_mm = float((crotch_mm - legs.hips_mm.mean(axis=0)) @ legs.down)
        readings.append(hip_height_mm - drop_mm + float(hang_mm[0]))
    return np.array(readings)
