"""The error model of a photo, from rendered photos of known truth of several worlds.

Each number is the mean or spread of one error, taken alone with everything else at its truth.
What differs from world to world is not averaged away: a mean is that of the worlds' means, and
a spread holds what they differ by. Where people stand is not fitted at all, since no renderer
knows it. Two numbers are fitted last and together: the hip landmark's shift and the mean of the
line's end, which make the readings by the legs and the fused ones right on average.
"""

import datetime as dt
import json
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.fit.crotch_errors import LEAST_SKIN_CROTCH_SD, hang_model, skin_model
from calibration.fit.pooled import pooled
from calibration.fit.true_errors import (
    Seen,
    depth_steps,
    hip_before_wall,
    joint_errors,
    lines_alone,
    reach_mm,
    straight_mm,
    wall_base_error,
)
from calibration.observe import Observation, world_of, worlds_of
from calibration.scored import Scored, result_of
from pose_fit.inseam import error_model
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = ["MODEL_FILE", "fit_model", "left_out_models", "write_model"]

MODEL_FILE: Final = Path(error_model.__file__).with_name("error_model.json")
#: Heels of a child asked to put them to the wall, and of one who stands free of it; how many do
#: in pictures of strangers (common practice, no source). Not fitted: a drawn habit is no habit.
GAP_AT_WALL_MM: Final = (25.0, 18.0)
GAP_FREE_MM: Final = (70.0, 40.0)
FREE_SHARE: Final = 0.35
#: An object said to stand beside the child (common practice, no source), as the bench draws it.
BESIDE_SD_MM: Final = 30.0
#: Standing people sway and lean more than posed bodies do: least standard uncertainties of the
#: depths of ankle before heel, hip before ankle, knee, and line's end before hip, in parts; and
#: of the hip before a wall that the seat touches, for seats and what is worn on them differ.
LEAST_DEPTH_SDS: Final = (0.018, 0.035, 0.018, 0.030)
LEAST_SEAT_SD: Final = 0.030
#: Least standard uncertainty of how far feet and shoes reach, and of what differs between
#: pictures and people: rendered worlds share one body model, people do not.
LEAST_REACH_SD_MM: Final = 22.0
LEAST_WORLD_SD_MM: Final = 8.0
#: Least standard uncertainty of the hips' shift, in straight legs. In 21 real pictures the pose model
#: puts them 0.195 of a leg above the end of the line between the legs; in rendered children it is
#: 0.14 to 0.15 (calibration/results/real_sights.md), so that renders do not know it better than this.
LEAST_HIP_SHIFT_SD: Final = 0.035
#: Intervals are not made narrower than this part of what their sources say.
LEAST_FACTOR: Final = 0.70

_Array = NDArray[np.float64]


def fit_model(
    observations: Sequence[Observation], *, world_sd_mm: float = LEAST_WORLD_SD_MM
) -> ErrorModel:
    """The error model from the observations whose truth is known.

    Parameters
    ----------
    world_sd_mm
        What differs between worlds in the fused reading; see `left_out_models`.
    """
    seen = [Seen(item.truth, item.sights) for item in observations if item.sights is not None]
    model = replace(_single_errors(seen), world_sd_mm=max(world_sd_mm, LEAST_WORLD_SD_MM))
    model = _with_right_legs(seen, model)
    model = _with_honest_legs(seen, model)
    model = _with_joints_alone(seen, model)
    model = _with_right_crotches(seen, model)
    return _with_right_intervals(observations, model)


def left_out_models(observations: Sequence[Observation]) -> dict[str, ErrorModel]:
    """For each world the model fitted on all the others."""
    return {
        world: fit_model([item for item in observations if world_of(item.truth) != world])
        for world in worlds_of(observations)
    }


def write_model(model: ErrorModel, path: Path = MODEL_FILE) -> None:
    """Write the shipped file."""
    path.write_text(json.dumps(asdict(model), indent=2) + "\n", encoding="utf-8")


def _single_errors(seen: Sequence[Seen]) -> ErrorModel:
    depths = [pooled(seen, _at(place, depth_steps)) for place in range(4)]
    pairs = [
        (_round(depth.mean), _round(max(depth.sd, least)))
        for depth, least in zip(depths, LEAST_DEPTH_SDS, strict=True)
    ]
    joints, seat = _joints(seen), pooled(seen, hip_before_wall)
    hang, skin = hang_model(seen), skin_model(seen)
    reach = pooled([item for item in seen if item.sights.toes], reach_mm)
    line = pooled([item for item in seen if item.sights.wall_bases], wall_base_error)
    return ErrorModel(
        version="2.6",
        date=dt.date.today().isoformat(),
        source=f"{len(seen)} rendered photos of {len({world_of(one.truth) for one in seen})}"
        " worlds, python -m calibration fit",
        gap_at_wall_mm=GAP_AT_WALL_MM,
        gap_free_mm=GAP_FREE_MM,
        free_share=FREE_SHARE,
        beside_sd_mm=BESIDE_SD_MM,
        ankle_before_heel=pairs[0],
        hip_before_ankle=pairs[1],
        knee_before_line=pairs[2],
        crotch_before_hip=(_round(depths[3].mean + hang.before_part), pairs[3][1]),
        hip_before_wall=(_round(seat.mean), _round(max(seat.sd, LEAST_SEAT_SD))),
        shift_parts=joints.shift_parts,
        shift_part_sds=joints.shift_part_sds,
        joint_sd_parts=joints.sd_parts,
        alone_shift_parts=joints.shift_parts,
        alone_shift_part_sds=joints.shift_part_sds,
        alone_joint_sd_parts=joints.sd_parts,
        scatter_factor=1.0,
        hang_means_mm=_three(hang.means_mm),
        hang_sds_mm=_three(hang.sds_mm),
        reach_mm=(_round(reach.mean), _round(max(reach.sd, LEAST_REACH_SD_MM))),
        toe_sd_part=0.004,
        wall_base_sd_part=_round(max(line.sd, 0.004)),
        line_before_crotch=_round(hang.before_part),
        skin_crotch_below=_three(skin.below_parts),
        skin_crotch_hang_share=_round(skin.hang_share),
        skin_crotch_sd_part=_round(max(skin.sd_part, LEAST_SKIN_CROTCH_SD)),
        interval_factor=1.0,
        legs_only_factor=1.0,
        world_sd_mm=LEAST_WORLD_SD_MM,
    )


def _at(place: int, errors_of: Callable[[Seen], _Array]) -> Callable[[Seen], float]:
    """One of the errors that are worked out together."""
    return lambda item: float(errors_of(item)[place])


@dataclass(frozen=True, slots=True)
class _JointsModel:
    """Hip and ankle below the joint centres with their spread, and each joint's own scatter."""

    shift_parts: tuple[float, float]
    shift_part_sds: tuple[float, float]
    sd_parts: tuple[float, float, float]


def _joints(seen: Sequence[Seen]) -> _JointsModel:
    hip, knee, ankle = (pooled(seen, _at(place, joint_errors)) for place in range(3))
    return _JointsModel(
        shift_parts=(0.0, _round(ankle.mean)),
        shift_part_sds=(_round(hip.sd), _round(ankle.sd)),
        # What both sides share is the shift's; each side adds about half as much of its own.
        sd_parts=(_round(hip.sd / 2), _round(knee.sd / 2), _round(ankle.sd / 2)),
    )


def _with_right_legs(seen: Sequence[Seen], model: ErrorModel) -> ErrorModel:
    """Move the hip's shift until the reading by the legs is right on average over the worlds."""

    def error(item: Seen) -> float:
        best = read_inseam(item.sights, model=model).best("legs")
        assert best is not None
        return (best.value_mm - float(item.truth["inseam_mm"])) / straight_mm(item.truth)

    hip, ankle = model.shift_parts
    # A hip moved up by a part of the leg raises the reading by nearly the same part.
    return replace(model, shift_parts=(_round(hip - pooled(seen, error).mean), ankle))


def _with_honest_legs(seen: Sequence[Seen], model: ErrorModel) -> ErrorModel:
    """Scale the shifts' spreads until the readings by the legs are as unsure as they are.

    Joints and proportions were taken alone, but where the pose model puts the hips lower the
    body's proportions make up for part of it.
    """

    def ratio(item: Seen) -> float:
        best = read_inseam(item.sights, model=model).best("legs")
        assert best is not None
        return (best.value_mm - float(item.truth["inseam_mm"])) / best.sd_mm

    factor = pooled(seen, ratio).sd
    hip, ankle = (_round(factor * sd) for sd in model.shift_part_sds)
    return replace(model, shift_part_sds=(max(hip, LEAST_HIP_SHIFT_SD), ankle))


def _with_joints_alone(seen: Sequence[Seen], model: ErrorModel) -> ErrorModel:
    """The joints' part again for the pose model's own, by which raised heels are judged."""
    alone = [
        Seen(item.truth, replace(item.sights, body=item.sights.seen_body or item.sights.body))
        for item in seen
    ]
    joints = _joints(alone)
    fitted = replace(
        model,
        shift_parts=joints.shift_parts,
        shift_part_sds=joints.shift_part_sds,
        joint_sd_parts=joints.sd_parts,
    )
    fitted = _with_honest_legs(alone, _with_right_legs(alone, fitted))
    return replace(
        model,
        alone_shift_parts=fitted.shift_parts,
        alone_shift_part_sds=fitted.shift_part_sds,
        alone_joint_sd_parts=fitted.joint_sd_parts,
    )


def _with_right_crotches(seen: Sequence[Seen], model: ErrorModel) -> ErrorModel:
    """Move the mean of the line's end until the fused reading is right on average."""
    # The network's crotch is the skin's: it says nothing of the line's end.
    shown = [
        Seen(item.truth, replace(item.sights, crotches=lines))
        for item in seen
        if (lines := lines_alone(item.sights)) and item.truth["legwear"] != "hidden"
    ]

    def error(item: Seen) -> float:
        length = read_inseam(item.sights, model=model).length
        return length.mean_mm - float(item.truth["inseam_mm"])

    means_mm = np.array(model.hang_means_mm) - pooled(shown, error).mean
    return replace(model, hang_means_mm=_three(means_mm))


def _with_right_intervals(observations: Sequence[Observation], model: ErrorModel) -> ErrorModel:
    """Make 95 % mean 95 %, each world counting alike; no factor falls below `LEAST_FACTOR`.

    Photos that show a crotch and those that show legs only have a factor each. Only photos that
    the checks let pass count: what is refused has no interval, and its error must not widen the
    others'. What the mixture and the worlds add does not follow the factors, so they are found in
    a few steps.
    """
    for _ in range(4):
        results = (result_of(item, model=model) for item in observations)
        passed = [result for result in results if isinstance(result, Scored)]
        shown, legs_only = (
            [one for one in passed if one.sights.legs_only is hidden] for hidden in (False, True)
        )
        model = replace(
            model,
            interval_factor=_next_factor(model.interval_factor, shown),
            legs_only_factor=_next_factor(model.legs_only_factor, legs_only),
        )
    return model


def _next_factor(factor: float, passed: Sequence[Scored]) -> float:
    """One step towards the factor by which 95 % of the errors lie within their intervals."""
    if not passed:
        return factor
    sizes = Counter(world_of(one.truth) for one in passed)
    even = np.array([1 / sizes[world_of(one.truth)] for one in passed])
    ratios = np.array([abs(one.error_mm) / one.sd_mm for one in passed])
    order = np.argsort(ratios)
    shares = np.cumsum(even[order]) / even.sum()
    reached = float(ratios[order][np.searchsorted(shares, 0.95)])
    return _round(max(factor * reached / COVERAGE_FACTOR_95, LEAST_FACTOR), 3)


def _round(value: float, digits: int = 4) -> float:
    return round(float(value), digits)


def _three(values: _Array) -> tuple[float, float, float]:
    first, second, third = (_round(value) for value in values)
    return first, second, third
