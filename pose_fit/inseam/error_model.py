"""The shipped error model of a photo, read once from ``error_model.json``.

The file is written by ``python -m calibration fit``; its version, date and source
stand in it. Nothing else in the package reads it.
"""

import json
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["WORLD_SOURCE", "ErrorModel", "error_model"]

#: Name of the budget's line for what differs between the pictures that the model was fitted on
#: and people: all photos of a child share it, and pairs of photo and tape can shrink it.
WORLD_SOURCE: Final = "from pictures to people"


@dataclass(frozen=True, slots=True)
class ErrorModel:
    """What the pose model, the silhouette and people's posture do to a photo's readings.

    Lengths are millimetres; a "part" is a part of the straight leg, hip to knee to ankle. A pair
    is a mean and its standard uncertainty.

    Attributes
    ----------
    gap_at_wall_mm, gap_free_mm
        From the wall to the heels of a child with the heels or the seat at the wall, and of one
        who stands free of it.
    free_share
        How many stand free of the wall.
    beside_sd_mm
        Distance between the legs' plane and the plane of an object said to be in it.
    ankle_before_heel, hip_before_ankle, knee_before_line, crotch_before_hip
        Depths in parts: ankle joint before the back of the heel or shoe, hip joint before the
        ankle, knee before the line between them, visible end of the line between the legs before
        the hip.
    hip_before_wall
        Hip joint before the wall in parts, of a child whose seat touches it.
    shift_parts, shift_part_sds
        Hip and ankle landmark below the joint centre.
    joint_sd_parts
        Landmark scatter between photos of hip, knee and ankle.
    alone_shift_parts, alone_shift_part_sds, alone_joint_sd_parts
        The same of the pose model's landmarks alone, without the network's share.
    scatter_factor
        Standard error of a landmark, in standard errors of the mean of repeated looks.
    hang_means_mm, hang_sds_mm
        Visible end of the line between the legs below the crotch, at the depth above, in snug,
        fitted and loose legwear.
    reach_mm
        Lowest point of foot or shoe beyond the foot length's regression, from the heels.
    toe_sd_part
        Error of a foot's lowest point in the picture along the legs, in legs.
    wall_base_sd_part
        Error of a place on the wall base in the picture, in legs.
    line_before_crotch
        Visible end of the line between the legs before the skin's crotch, in parts.
    skin_crotch_below
        How far the skin's crotch, as the network guesses it in clothes that it does not know, lies
        below the true one, in parts, in snug, fitted and loose legwear.
    skin_crotch_hang_share
        Less this share of how far it sees the cloth hang below the skin.
    skin_crotch_sd_part
        Its error beyond that, in parts: what returns in other photos of the child.
    interval_factor
        Every contribution is multiplied by this, so that 95 % means 95 % on the bench.
    legs_only_factor
        The same where no crotch is seen, as under a skirt: hips are guessed worse there.
    world_sd_mm
        What differs from one world of pictures to the next, and from pictures to people.
    """

    version: str
    date: str
    source: str
    gap_at_wall_mm: tuple[float, float]
    gap_free_mm: tuple[float, float]
    free_share: float
    beside_sd_mm: float
    ankle_before_heel: tuple[float, float]
    hip_before_ankle: tuple[float, float]
    knee_before_line: tuple[float, float]
    crotch_before_hip: tuple[float, float]
    hip_before_wall: tuple[float, float]
    shift_parts: tuple[float, float]
    shift_part_sds: tuple[float, float]
    joint_sd_parts: tuple[float, float, float]
    alone_shift_parts: tuple[float, float]
    alone_shift_part_sds: tuple[float, float]
    alone_joint_sd_parts: tuple[float, float, float]
    scatter_factor: float
    hang_means_mm: tuple[float, float, float]
    hang_sds_mm: tuple[float, float, float]
    reach_mm: tuple[float, float]
    toe_sd_part: float
    wall_base_sd_part: float
    line_before_crotch: float
    skin_crotch_below: tuple[float, float, float]
    skin_crotch_hang_share: float
    skin_crotch_sd_part: float
    interval_factor: float
    legs_only_factor: float
    world_sd_mm: float

    def factor(self, *, legs_only: bool) -> float:
        """What every contribution is multiplied by."""
        return self.legs_only_factor if legs_only else self.interval_factor

    def of_pose_alone(self) -> "ErrorModel":
        """The model for joints as the pose model alone sees them."""
        return replace(
            self,
            shift_parts=self.alone_shift_parts,
            shift_part_sds=self.alone_shift_part_sds,
            joint_sd_parts=self.alone_joint_sd_parts,
        )

    def gap_mm(self, *, beside: bool) -> float:
        """Heels before the reference's plane, of a child with the heels at the wall."""
        return 0.0 if beside else self.gap_at_wall_mm[0]

    def depth_parts(self, *, beside: bool) -> NDArray[np.float64]:
        """(4,) hip, knee, ankle and crotch before the heels.

        For an object in the legs' own plane they count from the mean of the joints'.
        """
        return self._from_heels - self.mean_depth_part(beside=beside)

    def mean_depth_part(self, *, beside: bool) -> float:
        """What is taken off the depths for an object in the legs' own plane."""
        return float(self._from_heels[:3].mean()) if beside else 0.0

    @property
    def _from_heels(self) -> NDArray[np.float64]:
        ankle = self.ankle_before_heel[0]
        hip = ankle + self.hip_before_ankle[0]
        knee = (hip + ankle) / 2 + self.knee_before_line[0]
        return np.array([hip, knee, ankle, hip + self.crotch_before_hip[0]])


@cache
def error_model() -> ErrorModel:
    """The shipped model; read at the first call."""
    text = resources.files("pose_fit.inseam").joinpath("error_model.json").read_text("utf-8")
    fields: dict[str, Any] = json.loads(
        text, object_hook=lambda raw: {name: _frozen(value) for name, value in raw.items()}
    )
    return ErrorModel(**fields)


def _frozen(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
