"""The inseam from what was found in one photo: sights in, fused reading out."""

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.people import Relation, people
from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.inseam.cloth_hang import hang_below_crotch_mm
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import Floor, LegGeometry, PhotoEquation, Top, leg_geometry
from pose_fit.metrology.propagation import Propagated, Quantity, independent, propagate
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.reference.reference import CircleReference, Reference
from pose_fit.sights.clicked import CLICK_SD_PART
from pose_fit.sights.crotch import CrotchPoint
from pose_fit.sights.wall_base import SKIRTING_DEPTH_MM
from pose_fit.task.legwear import Legwear

__all__ = ["UNKNOWN_SOLES_MM", "PhotoReading", "PhotoSights", "legs_of", "read_inseam"]

#: Sources of the plane's evidence that return in every photo of the same child.
_SHARED_PLANE_SOURCES: Final = ("reference size", "reference shape")
#: Soles of a child of whom nobody said what it wears: barefoot to thick sports shoes, mean and
#: standard uncertainty (common practice, no source).
UNKNOWN_SOLES_MM: Final = (10.0, 9.0)
#: Departures from linearity and from normality keep two readings from agreeing better than this.
_LEAST_OWN_SD_MM: Final = 1.0
#: A reading this much less sure than the best says nothing: its rays all but miss the plane, and
#: the steps of its propagation leave what is linear.
_SAYS_NOTHING: Final = 30.0
_LOST_SD_MM: Final = 1000.0


@dataclass(frozen=True, slots=True)
class PhotoSights:
    """What was found in one photo, in pixels of the upright picture.

    Attributes
    ----------
    crotch
        End of the line between the legs, or None.
    toes_px
        (2, 2) lowest points of the feet, or None; twice the clicked one where it was clicked.
    wall_foot_px
        (2, 2) places on the line where wall and floor meet, or None.
    soles_mm, soles_sd_mm
        Soles worn in the photo.
    legwear
        What the child wears on the legs, None where nobody said.
    crotch_clicked, floor_clicked
        A person clicked it, in place of what was found.
    """

    plane: PlaneScale
    reference: Reference
    body: Body
    crotch: CrotchPoint | None
    toes_px: NDArray[np.float64] | None
    wall_foot_px: NDArray[np.float64] | None
    soles_mm: float
    soles_sd_mm: float
    legwear: Legwear | None = None
    crotch_clicked: bool = False
    floor_clicked: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to the inseam: its top and floor, value, own uncertainty and weight."""

    top: Top
    floor: Floor
    value_mm: float
    sd_mm: float
    weight: float


@dataclass(frozen=True, slots=True)
class PhotoReading:
    """The fused inseam of one photo and the readings it came from.

    Attributes
    ----------
    length
        Fused inseam with its budget, biggest source first.
    readings
        Each reading; the weights add up to 1 and may be negative where two readings
        share an error that their difference reveals.
    disagreement
        Best reading by the crotch minus best by the legs, in standard uncertainties of
        that difference; 0 without a crotch.
    floors_apart
        Reading from the foot of the wall minus that from the toes, or from the ankles where no
        toes are seen, likewise; 0 without the foot of the wall.
    """

    length: UncertainLength
    readings: tuple[Reading, ...]
    disagreement: float
    floors_apart: float

    def best(self, top: Top) -> Reading | None:
        """The surest reading with this top, or None."""
        having = [reading for reading in self.readings if reading.top == top]
        return min(having, key=lambda reading: reading.sd_mm, default=None)


def equation_of(sights: PhotoSights) -> PhotoEquation:
    """The measurement equation that these sights allow."""
    reference = sights.reference
    return PhotoEquation(
        has_crotch=sights.crotch is not None,
        has_toes=sights.toes_px is not None,
        has_wall_foot=sights.wall_foot_px is not None,
        wheel_radius_mm=reference.radius_mm if isinstance(reference, CircleReference) else None,
    )


def legs_of(plane: PlaneScale, body: Body, *, beside: bool, model: ErrorModel) -> LegGeometry:
    """The legs in millimetres, everything at its mean."""
    gap_mm, depth_parts, _ = _depths(beside, model)
    joints_px = body.points_px(LEG_LANDMARKS)
    return leg_geometry(
        plane.parameters, joints_px, gap_mm, depth_parts, np.array(model.shift_parts)
    )


def quantities_of(sights: PhotoSights, *, model: ErrorModel) -> list[Quantity]:
    """The inputs of the equation with their uncertainties, in its order.

    The inputs are independent of each other. The plane's depend on the picture of the
    reference alone, apart from the direction of the legs, whose error is of second order.
    """
    beside = sights.reference.placement == "beside"
    gap_mm, depth_parts, mean_part = _depths(beside, model)
    plane, body = sights.plane, sights.body
    legs = legs_of(plane, body, beside=beside, model=model)
    ankle, hip = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    quantities = [
        Quantity(
            plane.parameters,
            plane.shifts,
            plane.sources,
            tuple(source in _SHARED_PLANE_SOURCES for source in plane.sources),
        ),
        _joints(body, model),
        independent(
            "distance from the wall",
            [gap_mm],
            [model.beside_sd_mm if beside else model.gap_sd_mm],
            shared=False,
        ),
        independent("posture", list(depth_parts), list(model.depth_part_sds), shared=False),
        independent("pose model", list(model.shift_parts), list(model.shift_part_sds), shared=True),
        _departures(ankle, hip, legs.straight_mm),
        independent("shoe soles", [sights.soles_mm], [sights.soles_sd_mm], shared=True),
    ]
    if sights.crotch is not None:
        crotch = sights.crotch
        hang_mm, hang_sd_mm = hang_below_crotch_mm(sights.legwear, model=model)
        quantities += [
            independent(
                "crotch click" if sights.crotch_clicked else "crotch edge",
                list(crotch.point_px),
                [crotch.edge_sd_px] * 2,
                shared=False,
            ),
            independent(
                "posture",
                [model.crotch_depth_part - mean_part],
                [model.crotch_depth_part_sd],
                shared=False,
            ),
            independent("clothing", [hang_mm], [hang_sd_mm], shared=True),
        ]
    if sights.toes_px is not None:
        reach_mm = model.reach_mean_mm - mean_part * legs.straight_mm
        quantities += [
            _toes(sights.toes_px, body.leg_px, clicked=sights.floor_clicked, model=model),
            independent("foot length", [reach_mm], [model.reach_sd_mm], shared=True),
        ]
    if sights.wall_foot_px is not None:
        line_sd_px = model.wall_foot_sd_part * body.leg_px
        before_mm, before_sd_mm = SKIRTING_DEPTH_MM
        quantities += [
            independent("floor", list(sights.wall_foot_px.ravel()), [line_sd_px] * 4, shared=False),
            independent("floor", [before_mm], [before_sd_mm], shared=True),
        ]
    return quantities


def read_inseam(sights: PhotoSights, *, model: ErrorModel) -> PhotoReading:
    """Propagate the quantities through the equation and fuse the readings."""
    equation = equation_of(sights)
    result = propagate(equation, quantities_of(sights, model=model))
    weights = _weights(result)
    contributions = model.interval_factor * weights @ result.contributions
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
    sds_mm = np.sqrt(np.diag(result.covariance)) * model.interval_factor
    readings = tuple(
        Reading(top, floor, float(value), float(sd), float(weight))
        for (top, floor), value, sd, weight in zip(
            equation.names, result.values, sds_mm, weights, strict=True
        )
    )
    wall_foot = _place(equation.names, ("legs", "wall foot"))
    feet = _place(equation.names, ("legs", "toes" if equation.has_toes else "ankles"))
    return PhotoReading(
        length=UncertainLength(float(weights @ result.values), tuple(budget)),
        readings=readings,
        disagreement=_apart(result, _best(readings, "crotch"), _best(readings, "legs")),
        floors_apart=_apart(result, wall_foot, feet),
    )


def _weights(result: Propagated) -> NDArray[np.float64]:
    """Best linear unbiased weights (Gauss-Markov theorem); 0 for a reading that says nothing."""
    sds_mm = np.sqrt(np.diag(result.covariance))
    if sds_mm.min() > _LOST_SD_MM:
        # No reading says anything; what is fused says so by its uncertainty.
        return np.full(len(sds_mm), 1 / len(sds_mm))
    told = np.flatnonzero(sds_mm <= _SAYS_NOTHING * max(float(sds_mm.min()), _LEAST_OWN_SD_MM))
    covariance = result.covariance[np.ix_(told, told)] + _LEAST_OWN_SD_MM**2 * np.eye(len(told))
    raw = np.linalg.solve(covariance, np.ones(len(told)))
    weights = np.zeros(len(result.values))
    weights[told] = raw / raw.sum()
    return weights


def _best(readings: tuple[Reading, ...], top: Top) -> int | None:
    """Place of the surest reading with this top."""
    places = [index for index, reading in enumerate(readings) if reading.top == top]
    return min(places, key=lambda index: readings[index].sd_mm, default=None)


def _place(names: tuple[tuple[Top, Floor], ...], name: tuple[Top, Floor]) -> int | None:
    return names.index(name) if name in names else None


def _apart(result: Propagated, one: int | None, other: int | None) -> float:
    """Difference of two readings in its standard uncertainty; 0 where one is missing."""
    if one is None or other is None:
        return 0.0
    difference_mm = float(result.values[one] - result.values[other])
    return difference_mm / float(
        np.linalg.norm(result.contributions[one] - result.contributions[other])
    )


def _depths(beside: bool, model: ErrorModel) -> tuple[float, NDArray[np.float64], float]:
    """Gap, depth parts of hip, knee and ankle, and the part that was taken off them.

    For an object in the legs' own plane, depths count from the mean of the joints'.
    """
    depth_parts = np.array(model.depth_parts)
    mean_part = float(depth_parts.mean()) if beside else 0.0
    return 0.0 if beside else model.gap_mean_mm, depth_parts - mean_part, mean_part


def _joints(body: Body, model: ErrorModel) -> Quantity:
    """Joint positions: the scatter of the looks, and what returns in all looks at one photo."""
    looks = len(body.passes_px)
    own_sd_px = np.array([body.scatter_px(mark) for mark in LEG_LANDMARKS]).ravel()
    # Two landmarks a joint, two coordinates a landmark.
    floor_px = np.repeat(model.joint_sd_parts, 4) * body.leg_px
    sd_px = np.hypot(model.scatter_factor * own_sd_px / math.sqrt(looks), floor_px)
    joints_px = body.points_px(LEG_LANDMARKS)
    return independent("pose landmarks", list(joints_px.ravel()), list(sd_px), shared=False)


def _toes(
    toes_px: NDArray[np.float64], leg_px: float, *, clicked: bool, model: ErrorModel
) -> Quantity:
    """Lowest points of the feet; one click stands for both, so they err as one."""
    places = toes_px.ravel()
    if clicked:
        factor = np.tile(CLICK_SD_PART * leg_px * np.eye(2), (2, 1))
        return Quantity(places, factor, ("floor click",) * 2, (False,) * 2)
    return independent("floor", list(places), [model.toe_sd_part * leg_px] * 4, shared=False)


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
