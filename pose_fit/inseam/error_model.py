"""The shipped error model of a photo, read once from ``error_model.json``.

The file is written by ``python -m calibration fit``; its version, date and source
stand in it. Nothing else in the package reads it.
"""

import json
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

__all__ = ["ErrorModel", "error_model"]


@dataclass(frozen=True, slots=True)
class ErrorModel:
    """What the pose model, the silhouette and people's posture do to a photo's readings.

    Lengths are millimetres; a "part" is a part of the straight leg, hip to knee to ankle.

    Attributes
    ----------
    gap_mean_mm, gap_sd_mm
        From the wall to the heels of a child asked to put the heels to the wall.
    beside_sd_mm
        Distance between the legs' plane and the plane of an object said to be in it.
    depth_parts, depth_part_sds
        Hip, knee and ankle joint centres in front of the heels.
    crotch_depth_part, crotch_depth_part_sd
        The visible end of the line between the legs in front of the heels.
    shift_parts, shift_part_sds
        Hip and ankle landmark below the joint centre.
    joint_sd_parts
        Landmark scatter between photos of hip, knee and ankle.
    scatter_factor
        Standard error of a landmark, in standard errors of the mean of repeated looks.
    hang_means_mm, hang_sds_mm
        Visible end of the line between the legs below the crotch, at the depth above, in snug,
        fitted and loose legwear.
    reach_mean_mm, reach_sd_mm
        Lowest point of foot or shoe beyond the foot length's regression, from the heels.
    toe_sd_part
        Error of a foot's lowest point in the picture along the legs, in legs.
    wall_foot_sd_part
        Error of a place on the foot of the wall in the picture, in legs.
    interval_factor
        Every contribution is multiplied by this, so that 95 % means 95 % on the bench.
    """

    version: str
    date: str
    source: str
    gap_mean_mm: float
    gap_sd_mm: float
    beside_sd_mm: float
    depth_parts: tuple[float, float, float]
    depth_part_sds: tuple[float, float, float]
    crotch_depth_part: float
    crotch_depth_part_sd: float
    shift_parts: tuple[float, float]
    shift_part_sds: tuple[float, float]
    joint_sd_parts: tuple[float, float, float]
    scatter_factor: float
    hang_means_mm: tuple[float, float, float]
    hang_sds_mm: tuple[float, float, float]
    reach_mean_mm: float
    reach_sd_mm: float
    toe_sd_part: float
    wall_foot_sd_part: float
    interval_factor: float


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
