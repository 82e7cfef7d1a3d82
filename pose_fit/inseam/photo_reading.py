"""The inseam from what was found in one photo: quantities in, fused reading out."""

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import Relation, people
from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.body.crotch import CrotchPoint
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import inseam_readings, leg_geometry
from pose_fit.plane import PlaneScale
from pose_fit.propagation import Propagated, Quantity, independent, propagate
from pose_fit.reference.reference import Mount
from pose_fit.uncertain import Contribution, UncertainLength

__all__ = ["PhotoReading", "photo_quantities", "read_inseam"]

#: Sources of the plane's evidence that return in every photo of the same child.
_SHARED_PLANE_SOURCES: Final = ("reference size", "reference shape")


@dataclass(frozen=True, slots=True)
class PhotoReading:
    """The fused inseam of one photo and the readings it came from.

    Attributes
    ----------
    length
        Fused inseam with its budget, biggest source first.
    readings_mm, reading_sds_mm
        Each reading alone: by the legs, and by the silhouette where there is one.
    weights
        Weight of each reading in the fused value; they add up to 1.
    disagreement
        Difference of the two readings in its own standard uncertainties; 0 with one.
    """

    length: UncertainLength
    readings_mm: tuple[float, ...]
    reading_sds_mm: tuple[float, ...]
    weights: tuple[float, ...]
    disagreement: float


def photo_quantities(
    plane: PlaneScale,
    body: Body,
    crotch: CrotchPoint | None,
    *,
    mount: Mount,
    model: ErrorModel,
) -> list[Quantity]:
    """The inputs of `inseam_readings` with their uncertainties, in its order.

    The inputs are independent of each other. The plane's depend on the picture of the
    reference alone, apart from the direction of the legs, whose error is of second order.
    """
    joints_px = body.points_px(LEG_LANDMARKS)
    beside = mount == "beside"
    # An object in the legs' own plane: depths count from the joints' mean.
    mean_depth_part = float(np.mean(model.depth_parts)) if beside else 0.0
    depth_parts, shift_parts = (
        np.array(model.depth_parts) - mean_depth_part,
        np.array(model.shift_parts),
    )
    gap_mean_mm, gap_sd_mm = (
        (0.0, model.beside_sd_mm) if beside else (model.gap_mean_mm, model.gap_sd_mm)
    )
    legs = leg_geometry(plane.parameters, joints_px, gap_mean_mm, depth_parts, shift_parts)
    ankle, hip = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    straight_mm = legs.straight_mm
    quantities = [
        Quantity(
            plane.parameters,
            plane.shifts,
            plane.sources,
            tuple(source in _SHARED_PLANE_SOURCES for source in plane.sources),
        ),
        _joints(body, joints_px, model),
        independent("distance from the wall", [gap_mean_mm], [gap_sd_mm], shared=False),
        independent("posture", list(depth_parts), list(model.depth_part_sds), shared=False),
        independent("pose model", list(shift_parts), list(model.shift_part_sds), shared=True),
        _departures(ankle, hip, straight_mm),
    ]
    if crotch is not None:
        is_faint = crotch.contrast < model.faint_contrast
        hang_sd_mm = model.faint_hang_sd_mm if is_faint else model.hang_sd_mm
        quantities += [
            independent(
                "crotch edge", list(crotch.point_px), [crotch.edge_sd_px] * 2, shared=False
            ),
            independent(
                "posture",
                [model.crotch_depth_part - mean_depth_part],
                [model.crotch_depth_part_sd],
                shared=False,
            ),
            independent("clothing", [model.hang_mean_mm], [hang_sd_mm], shared=True),
        ]
    return quantities


def read_inseam(quantities: list[Quantity], *, interval_factor: float) -> PhotoReading:
    """Propagate the quantities and fuse the readings by inverse covariance."""
    result = propagate(inseam_readings, quantities)
    weights = _weights(result)
    contributions = interval_factor * weights @ result.contributions
    by_source: dict[tuple[str, bool], float] = defaultdict(float)
    for source, shared, contribution in zip(
        result.sources, result.shared, contributions, strict=True
    ):
        by_source[source, shared] += float(contribution) ** 2
    budget = sorted(
        (
            Contribution(source, math.sqrt(square), shared)
            for (source, shared), square in by_source.items()
        ),
        key=lambda line: -line.sd_mm,
    )
    sds = np.sqrt(np.diag(result.covariance)) * interval_factor
    return PhotoReading(
        length=UncertainLength(float(weights @ result.values), tuple(budget)),
        readings_mm=tuple(float(value) for value in result.values),
        reading_sds_mm=tuple(float(sd) for sd in sds),
        weights=tuple(float(weight) for weight in weights),
        disagreement=_disagreement(result) / interval_factor,
    )


def _weights(result: Propagated) -> NDArray[np.float64]:
    """Best linear unbiased weights (Gauss-Markov), kept between 0 and 1."""
    count = len(result.values)
    if count == 1:
        return np.ones(1)
    raw = np.linalg.solve(result.covariance, np.ones(count))
    clipped = np.clip(raw / raw.sum(), 0.0, 1.0)
    weights: NDArray[np.float64] = clipped / clipped.sum()
    return weights


def _disagreement(result: Propagated) -> float:
    if len(result.values) == 1:
        return 0.0
    apart_mm = float(result.values[1] - result.values[0])
    sd_mm = float(np.linalg.norm(result.contributions[1] - result.contributions[0]))
    return apart_mm / sd_mm


def _joints(body: Body, joints_px: NDArray[np.float64], model: ErrorModel) -> Quantity:
    """Joint positions: the scatter of the looks, and what returns in all looks at one photo."""
    looks = len(body.passes_px)
    own_sd_px = np.array([body.scatter_px(mark) for mark in LEG_LANDMARKS]).ravel()
    floor_px = np.repeat(np.repeat(model.joint_sd_parts, 2), 2) * body.leg_px
    sd_px = np.hypot(model.scatter_factor * own_sd_px / math.sqrt(looks), floor_px)
    return independent("pose landmarks", list(joints_px.ravel()), list(sd_px), shared=False)


def _departures(ankle: Relation, hip: Relation, straight_mm: float) -> Quantity:
    """How far this child is from the regressions: between persons, and of the lines themselves."""
    hip_height_mm = straight_mm * (1 + ankle.slope) + ankle.intercept_mm
    factor = np.zeros((2, 4))
    for row, (line, x_mm) in enumerate(((ankle, straight_mm), (hip, hip_height_mm))):
        factor[row, 2 * row] = line.person_sd_mm + line.person_sd_slope * x_mm
        factor[row, 2 * row + 1] = math.hypot(
            line.systematic_sd_mm, line.systematic_sd_slope * x_mm
        )
    sources = ("ankle height", "ankle height", "hip to crotch", "hip to crotch")
    return Quantity(np.zeros(2), factor, sources, (True,) * 4)
