"""The budget against the errors really made, source by source.

The measurement equation of the likeliest hypothesis is worked out twice with the program's own
weights: once with what the program took an input to be, once with the truth in its place. The
difference is the error of that input alone, in millimetres of inseam, and stands beside what the
budget says of it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from calibration.observe import world_of
from calibration.scored import Scored
from calibration.true_view import cast_true, true_mm, true_px
from pose_fit.anthropometry.people import people
from pose_fit.inseam.cloth_hang import loose_cloth_sd_mm
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.hypotheses import readings_of
from pose_fit.inseam.photo_equation import foot_reach_mm
from pose_fit.inseam.photo_sights import legs_of
from pose_fit.inseam.quantities import quantities_of
from pose_fit.inseam.stand import Stand
from pose_fit.metrology.propagation import Quantity, propagate
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.photogrammetry.projection import project

__all__ = [
    "TOGETHER",
    "SourceError",
    "SourceErrors",
    "errors_apart",
    "errors_by_source",
    "straight_leg_mm",
    "true_inputs",
]

Truth = Mapping[str, Any]
Array = NDArray[np.float64]

#: Inputs of the equation that come first in every photo, by their place.
_PLANE, _JOINTS, _GAP, _DEPTHS, _SHIFT, _DEPARTURES, _SOLES = range(7)
#: Two sources that the fit sets off against each other; stands beside its two parts.
TOGETHER: Final = "joints and proportions together"
#: Hips do not follow the heels where the seat is at the wall, so both stand together.
_STAND: Final = "distance from the wall and posture"
_REST: Final = "what the equation itself leaves out"


@dataclass(frozen=True, slots=True)
class SourceError:
    """Error of one source in one photo, and its claimed standard uncertainty, mm of inseam."""

    source: str
    error_mm: float
    claimed_mm: float


@dataclass(frozen=True, eq=False, slots=True)
class SourceErrors:
    """Errors of one source in N photos, (N,) arrays, millimetres of inseam.

    Attributes
    ----------
    errors_mm
        As really made.
    sds_mm
        As the budget says, the interval factor included.
    """

    source: str
    errors_mm: Array
    sds_mm: Array

    @property
    def claimed_mm(self) -> float:
        """Root mean square of what the budget says."""
        return float(np.sqrt(np.mean(self.sds_mm**2)))

    @property
    def bias_mm(self) -> float:
        """Mean error."""
        return float(self.errors_mm.mean())

    @property
    def spread_mm(self) -> float:
        """Standard deviation of the errors; NaN of one photo."""
        return float(self.errors_mm.std(ddof=1)) if self.errors_mm.size > 1 else float("nan")

    @property
    def within95(self) -> float:
        """Share of the errors within 1.96 of what the budget says."""
        return float((np.abs(self.errors_mm) <= COVERAGE_FACTOR_95 * self.sds_mm).mean())


@dataclass(frozen=True, eq=False, slots=True)
class _Inputs:
    """True values by the place of the input, and the places that make up each source."""

    values: dict[int, Array]
    sources: dict[str, tuple[int, ...]]


def errors_by_source(
    items: Sequence[Scored], *, models: Mapping[str, ErrorModel]
) -> list[SourceErrors]:
    """Each source on the photos where it plays a part, the largest claim first."""
    errors: dict[str, list[float]] = {}
    claims: dict[str, list[float]] = {}
    for item in items:
        for one in errors_apart(item, model=models[world_of(item.truth)]):
            errors.setdefault(one.source, []).append(one.error_mm)
            claims.setdefault(one.source, []).append(one.claimed_mm)
    found = [SourceErrors(name, np.array(errors[name]), np.array(claims[name])) for name in errors]
    return sorted(found, key=lambda one: -one.claimed_mm)


def errors_apart(item: Scored, *, model: ErrorModel) -> list[SourceError]:
    """The errors of one photo, source by source."""
    sights, hypothesis = item.believed, item.reading.likeliest
    equation = sights.equation
    straight_mm = legs_of(
        sights.plane, sights.body, beside=sights.is_beside, model=model
    ).straight_mm
    quantities = quantities_of(sights, model=model)
    stand = None if sights.is_beside else Stand.of(quantities, straight_mm, model)
    sole = replace(
        hypothesis,
        crotch=None if hypothesis.crotch is None else 0,
        toes=None if hypothesis.toes is None else 0,
        wall_base=None if hypothesis.wall_base is None else 0,
    )
    forms = readings_of((sole,), equation)
    there = forms.present[0]
    reading_weights = np.array([reading.weight for reading in item.reading.readings])
    weights = reading_weights @ forms.forms[0][there]
    constant_mm = float(reading_weights @ forms.constants_mm[0][there])
    factor = model.factor(legs_only=item.sights.legs_only)
    columns = weights @ propagate(equation, quantities).contributions * factor
    starts = np.cumsum([0] + [quantity.factor.shape[1] for quantity in quantities])
    means = [quantity.mean for quantity in quantities]
    if stand is not None:
        steps, mixes = (part[0] for part in stand.of_each(np.array([hypothesis.heels_free])))
        columns[stand.columns] = columns[stand.columns] @ mixes
        gap_step, *posture_steps = steps[:, 0]
        means[_GAP] = means[_GAP] + quantities[_GAP].factor[:, 0] * gap_step
        means[_DEPTHS] = means[_DEPTHS] + quantities[_DEPTHS].factor[:, :2] @ posture_steps
    taken_mm = float(weights @ equation(means))
    inputs = true_inputs(item, quantities)
    rows = []
    for source, places in inputs.sources.items():
        mixed = [
            inputs.values[place] if place in places else mean for place, mean in enumerate(means)
        ]
        # The line's end errs with its depth; what depths claim stands with the stand.
        own = [place for place in places if place != _DEPTHS or source == _STAND]
        claimed = [columns[starts[place] : starts[place + 1]] for place in own]
        error_mm = taken_mm - float(weights @ equation(mixed))
        sd_mm = float(np.linalg.norm(np.concatenate(claimed)))
        rows.append(SourceError(source, error_mm, sd_mm))
    everything = [inputs.values[place] for place in range(len(means))]
    rest_mm = float(weights @ equation(everything)) + constant_mm - item.true_mm
    # No input of the equation stands for what loose cloth adds to all readings alike.
    loose_mm = 0.0
    if item.sights.book is None:
        hang_mm = item.sights.hang_part * straight_mm
        loose_mm = loose_cloth_sd_mm(item.sights.legwear, hang_mm)
    return [*rows, SourceError(_REST, rest_mm, loose_mm)]


def true_inputs(item: Scored, quantities: Sequence[Quantity]) -> _Inputs:
    """The truth of each input of the photo's equation, in the equation's order.

    The true plane is parallel to the wall through the reference; an object beside the child
    that is turned or leans counts as an error of the plane.
    """
    truth = item.truth
    origin_mm = np.array(truth["reference"]["origin_mm"], float)
    parts = _DepthParts.of(truth, beside=item.sights.reference.placement == "beside")
    values = {
        _PLANE: _true_plane(item, origin_mm),
        _JOINTS: true_px(truth, *_JOINT_NAMES).ravel(),
        _GAP: np.array([parts.gap_mm]),
        _DEPTHS: np.append(parts.joints, parts.crotch),
        _SHIFT: np.zeros(2),
        _DEPARTURES: _departures_mm(truth, parts.straight_mm),
        _SOLES: np.array([float(truth["soles_mm"])]),
    }
    sources: dict[str, tuple[int, ...]] = {
        "reference and camera": (_PLANE,),
        "pose model’s joints": (_JOINTS, _SHIFT),
        _STAND: (_GAP, _DEPTHS),
        "body proportions (ankle height, hip to crotch)": (_DEPARTURES,),
        # The model's hip shift is fitted to make up for the body model's proportions.
        TOGETHER: (_JOINTS, _SHIFT, _DEPARTURES),
        "shoe soles": (_SOLES,),
    }
    place, sights = _SOLES + 1, item.believed
    if sights.crotches:
        values[place] = true_px(truth, "crotch")[0]
        # Line's end and skin at the crotch lie below it by nothing; the skin's depth is counted
        # from the line's.
        below = np.zeros_like(quantities[place + 1].mean)
        below[1:] = quantities[place + 1].mean[1:]
        values[place + 1] = below
        values[_DEPTHS][3] += below[1:].sum()
        sources["end of the line between the legs"] = (place, place + 1, _DEPTHS)
        place += 2
    if sights.toes_px is not None:
        values[place] = sights.toes_px.ravel()
        values[place + 1] = np.array([_reach_mm(item, parts, origin_mm)])
        sources["feet’s lowest points"] = (place, place + 1)
        place += 2
    if sights.wall_base_px is not None:
        before_mm = quantities[place + 1].mean
        values[place] = _true_wall_base_px(item, origin_mm, values[_PLANE], float(before_mm[0]))
        values[place + 1] = before_mm
        sources["wall base"] = (place, place + 1)
        place += 2
    if place != len(quantities):
        raise ValueError(f"wanted the truth of {len(quantities)} inputs, found {place}")
    return _Inputs(values, sources)


_SIDES: Final = ("left", "right")
_JOINT_NAMES: Final = tuple(
    f"{joint}_{side}" for joint in ("hip", "knee", "ankle") for side in _SIDES
)


@dataclass(frozen=True, eq=False, slots=True)
class _DepthParts:
    """True depths, counted as the program does: from the heels, or beside a reference from its plane."""

    gap_mm: float
    joints: Array
    crotch: float
    straight_mm: float

    @classmethod
    def of(cls, truth: Truth, *, beside: bool) -> "_DepthParts":
        plane_mm = float(truth["reference"]["origin_mm"][2])
        points_mm = true_mm(truth, *_JOINT_NAMES).reshape(3, 2, 3)
        straight_mm = straight_leg_mm(truth)
        depths_mm = plane_mm - points_mm[:, :, 2].mean(axis=1)
        heels_mm = plane_mm - float(true_mm(truth, "heel_left", "heel_right")[:, 2].mean())
        gap_mm = float(depths_mm.mean()) if beside else heels_mm
        crotch_mm = plane_mm - float(true_mm(truth, "crotch")[0, 2])
        return cls(
            gap_mm,
            (depths_mm - gap_mm) / straight_mm,
            (crotch_mm - gap_mm) / straight_mm,
            straight_mm,
        )


def straight_leg_mm(truth: Truth) -> float:
    """True hip to knee to ankle, mean of both sides."""
    hips_mm, knees_mm, ankles_mm = true_mm(truth, *_JOINT_NAMES).reshape(3, 2, 3)
    thighs_mm = np.linalg.norm(hips_mm - knees_mm, axis=1)
    return float((thighs_mm + np.linalg.norm(knees_mm - ankles_mm, axis=1)).mean())


def _true_plane(item: Scored, origin_mm: Array) -> Array:
    """(12,) plane parameters; size is true over stated, for the wheel that stands on the floor."""
    truth, camera = item.truth, item.truth["camera"]
    parameters = np.zeros(len(item.sights.plane.parameters))
    rotation = np.array(camera["rotation"], float)
    parameters[0:3] = Rotation.from_matrix(rotation).as_rotvec()
    parameters[3:6] = rotation @ (origin_mm - np.array(camera["position_mm"], float))
    parameters[6] = np.log(camera["focal_px"])
    parameters[7:9] = camera["centre_px"]
    parameters[9] = camera["k1"]
    reference = truth["reference"]
    if reference["kind"] == "wheel":
        parameters[10] = np.log(reference["true_diameter_mm"] / reference["nominal_diameter_mm"])
    return parameters


def _departures_mm(truth: Truth, straight_mm: float) -> Array:
    heights = truth["erect_joint_heights_mm"]
    ankle, hip = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    return np.array(
        [
            heights["ankle"] - ankle.mean_mm(straight_mm),
            truth["inseam_mm"] - hip.mean_mm(heights["hip"]),
        ]
    )


def _reach_mm(item: Scored, parts: _DepthParts, origin_mm: Array) -> float:
    """The reach with which the feet's lowest points, as found, lie on the true floor."""
    toes_px = item.believed.toes_px
    assert toes_px is not None
    floor_mm = cast_true(item.truth, toes_px, axis=1, at_mm=0.0)
    depth_mm = origin_mm[2] - float(floor_mm[:, 2].mean())
    return float(depth_mm - parts.gap_mm - foot_reach_mm(parts.straight_mm))


def _true_wall_base_px(item: Scored, origin_mm: Array, plane: Array, before_mm: float) -> Array:
    """The found places on the wall base, put on the true floor."""
    line_px = item.believed.wall_base_px
    assert line_px is not None
    at_mm = float(origin_mm[2]) - before_mm
    places_mm = cast_true(item.truth, line_px, axis=2, at_mm=at_mm)
    places_mm[:, 1] = 0.0
    return project(plane, places_mm - origin_mm).ravel()
