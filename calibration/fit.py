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
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from calibration.observe import Observation, stated_legwear, world_of, worlds_of
from calibration.scored import Scored, result_of
from calibration.true_view import cast_true, leg_down_px, true_mm, true_px
from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.inseam import error_model
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import foot_reach_mm
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.sights.candidates import CrotchCandidate
from pose_fit.sights.wall_base import SKIRTING_DEPTH_MM
from pose_fit.task.legwear import LEGWEAR

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
#: 0.13 to 0.16 (calibration/results/real_sights.md), so that renders do not know it better than this.
LEAST_HIP_SHIFT_SD: Final = 0.035
#: Least error of the skin's crotch by the network beyond its own spread: fitted to worlds that its
#: weights never saw, all of one body model.
LEAST_SKIN_CROTCH_SD: Final = 0.020
#: Shares of belief in the lines where the network is left out.
_LINES_ALONE: Final = 0.85
#: Intervals are not made narrower than this part of what their sources say.
LEAST_FACTOR: Final = 0.80

_Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Seen:
    """An observation with its sights and the candidates that are right."""

    truth: Mapping[str, Any]
    sights: PhotoSights


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
    return replace(model, interval_factor=_interval_factor(observations, model))


def left_out_models(observations: Sequence[Observation]) -> dict[str, ErrorModel]:
    """For each world the model fitted on all the others."""
    return {
        world: fit_model([item for item in observations if world_of(item.truth) != world])
        for world in worlds_of(observations)
    }


def write_model(model: ErrorModel, path: Path = MODEL_FILE) -> None:
    """Write the shipped file."""
    path.write_text(json.dumps(asdict(model), indent=2) + "\n", encoding="utf-8")


@dataclass(frozen=True, slots=True)
class _Pooled:
    """Values of one error by world."""

    mean: float
    sd: float


def _pooled(seen: Sequence[Seen], error_of: Callable[[Seen], float | None]) -> _Pooled:
    """Mean of the worlds' medians; spread within a world and between the worlds."""
    by_world: dict[str, list[float]] = {}
    for item in seen:
        error = error_of(item)
        if error is not None:
            by_world.setdefault(world_of(item.truth), []).append(error)
    groups = [np.array(values) for values in by_world.values() if len(values) >= 8]
    if not groups:
        raise ValueError("wanted at least eight photos of a world for each error, found fewer")
    centres = np.array([np.median(group) for group in groups])
    within = np.mean([_spread(group) ** 2 for group in groups])
    between = centres.var(ddof=1) if len(centres) > 1 else 0.0
    return _Pooled(float(centres.mean()), float(np.sqrt(within + between)))


def _spread(values: _Array) -> float:
    """Standard deviation by the 10th and 90th percentile: blunders do not count in full."""
    low, high = np.quantile(values, [0.1, 0.9])
    return float(high - low) / (2 * 1.2816)


def _single_errors(seen: Sequence[Seen]) -> ErrorModel:
    depths = [_pooled(seen, _at(place, _depth_steps)) for place in range(4)]
    pairs = [
        (_round(depth.mean), _round(max(depth.sd, least)))
        for depth, least in zip(depths, LEAST_DEPTH_SDS, strict=True)
    ]
    joints, seat = _joints(seen), _pooled(seen, _hip_before_wall)
    hang, skin = _hang_model(seen), _skin_model(seen)
    reach = _pooled([item for item in seen if item.sights.toes], _reach_mm)
    line = _pooled([item for item in seen if item.sights.wall_bases], _wall_base_error)
    return ErrorModel(
        version="2.5",
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
    hip, knee, ankle = (_pooled(seen, _at(place, _joint_errors)) for place in range(3))
    return _JointsModel(
        shift_parts=(0.0, _round(ankle.mean)),
        shift_part_sds=(_round(hip.sd), _round(ankle.sd)),
        # What both sides share is the shift's; each side adds about half as much of its own.
        sd_parts=(_round(hip.sd / 2), _round(knee.sd / 2), _round(ankle.sd / 2)),
    )


_SIDES: Final = ("left", "right")
_JOINTS: Final = ("hip", "knee", "ankle")


def _joint_errors(item: Seen) -> _Array:
    """(3,) hip, knee, ankle landmark below the body model's joint along the leg, in legs."""
    down_px = leg_down_px(item.truth)
    leg_px = float(np.hypot(*down_px))
    true = true_px(item.truth, *(f"{j}_{s}" for j in _JOINTS for s in _SIDES))
    off = item.sights.body.points_px(LEG_LANDMARKS) - true
    along: _Array = (off @ (down_px / leg_px) / leg_px).reshape(3, 2).mean(axis=1)
    return along


def _depth_steps(item: Seen) -> _Array:
    """(4,) ankle before heel, hip before ankle, knee before the line between, crotch before hip.

    In inseams: the program's straight leg is near the inseam.
    """
    truth = item.truth
    hip, knee, ankle = (
        -true_mm(truth, f"{joint}_left", f"{joint}_right")[:, 2].mean() for joint in _JOINTS
    )
    heel = -true_mm(truth, "heel_left", "heel_right")[:, 2].mean()
    crotch = -true_mm(truth, "crotch")[0, 2]
    steps = np.array([ankle - heel, hip - ankle, knee - (hip + ankle) / 2, crotch - hip])
    return steps / float(truth["inseam_mm"])


def _hip_before_wall(item: Seen) -> float | None:
    """Hip joint before the wall, in inseams, of a child asked to stand at it; else None."""
    if item.truth.get("stance_group", "asked") != "asked":
        return None
    hips_mm = true_mm(item.truth, "hip_left", "hip_right")
    return float(-hips_mm[:, 2].mean() / item.truth["inseam_mm"])


def _straight_mm(truth: Mapping[str, Any]) -> float:
    hips, knees, ankles = (true_mm(truth, f"{joint}_left", f"{joint}_right") for joint in _JOINTS)
    thigh, shank = np.linalg.norm(hips - knees, axis=1), np.linalg.norm(knees - ankles, axis=1)
    return float((thigh + shank).mean())


def _hang_mm(item: Seen) -> float:
    """How far the seen end of the line lies below the crotch, at the crotch's depth."""
    crotch_mm = true_mm(item.truth, "crotch")[0]
    point_px = _lines(item.sights)[0].point_px[None]
    seen_mm = cast_true(item.truth, point_px, axis=2, at_mm=crotch_mm[2])[0]
    return float(seen_mm[1] - crotch_mm[1])


def _shows_line(item: Seen) -> bool:
    lines = _lines(item.sights)
    return bool(lines) and lines[0].kind == "line" and item.truth["legwear"] != "hidden"


def _lines(sights: PhotoSights) -> tuple[CrotchCandidate, ...]:
    """The crotches found by rule, with the weights that they have without the network."""
    lines = [one for one in sights.crotches if not one.is_at_skin]
    whole = sum(one.weight for one in lines)
    return tuple(replace(one, weight=_LINES_ALONE * one.weight / whole) for one in lines)


def _look_down(item: Seen) -> float:
    """How steeply the true camera looks down on the crotch: tangent of the angle."""
    to_crotch_mm = true_mm(item.truth, "crotch")[0] - item.truth["camera"]["position_mm"]
    return float(to_crotch_mm[1] / to_crotch_mm[2])


@dataclass(frozen=True, slots=True)
class _Hang:
    """Where the seen end of the line lies: (3,) below the crotch, by legwear, and before it."""

    means_mm: _Array
    sds_mm: _Array
    before_part: float


def _hang_model(seen: Sequence[Seen]) -> _Hang:
    """One depth and three heights; a soft loss, so that a few wrong ends do not turn them.

    The end is seen on the front of the body. How far before the crotch follows from photos from
    above, in which it looks lower. Each spread holds what the worlds differ by.
    """
    shown = [item for item in seen if _shows_line(item)]
    hangs = np.array([_hang_mm(item) for item in shown])
    lower = np.array([_look_down(item) * item.truth["inseam_mm"] for item in shown])
    places = np.array([LEGWEAR.index(stated_legwear(item.truth)) for item in shown])
    worlds = np.array([world_of(item.truth) for item in shown])
    is_worn = places[:, None] == np.arange(3)
    *_, before = least_squares(
        lambda line: is_worn @ line[:3] + line[3] * lower - hangs,
        np.zeros(4),
        loss="soft_l1",
        f_scale=5.0,
    ).x
    left = hangs - before * lower
    cores = [_core(left[worn], worlds[worn]) for worn in is_worn.T]
    counts = is_worn.astype(float).sum(axis=0)
    means, sds = np.array(cores, float).T
    return _Hang(_rising(means, counts), np.sqrt(_rising(sds**2, counts)), float(before))


@dataclass(frozen=True, slots=True)
class _Skin:
    """Where the network puts the skin's crotch: (3,) below the true one, by legwear; its error."""

    below_parts: _Array
    hang_share: float
    sd_part: float


def _skin_model(seen: Sequence[Seen]) -> _Skin:
    """How far the network's crotch is too low, in straight legs, where it sees one.

    A soft loss, so that blunders do not turn it, and a weak pull to 0: a legwear may be of one
    world alone. Meant for networks that have not seen the photo's world.
    """
    shown = [
        (item, skin)
        for item in seen
        for skin in item.sights.crotches
        if skin.is_at_skin and item.truth["legwear"] != "hidden"
    ]
    if not shown:
        return _Skin(np.zeros(3), 0.0, LEAST_SKIN_CROTCH_SD)
    errors = np.array([_skin_error(item, skin) for item, skin in shown])
    hangs = np.array([skin.hang_part for _, skin in shown])
    places = np.array([LEGWEAR.index(stated_legwear(item.truth)) for item, _ in shown])
    worlds = np.array([world_of(item.truth) for item, _ in shown])
    design = np.column_stack([places[:, None] == np.arange(3), -hangs])
    *below, share = least_squares(
        lambda line: np.append(design @ line - errors, line * _PULL),
        np.zeros(4),
        loss="soft_l1",
        f_scale=0.015,
    ).x
    left = errors - design @ np.append(below, share)
    core = np.abs(left) < _SKIN_BLUNDER
    groups = [left[core & (worlds == world)] for world in sorted(set(worlds))]
    between = np.var([group.mean() for group in groups], ddof=1) if len(groups) > 1 else 0.0
    within = np.mean([_spread(group) ** 2 for group in groups])
    own = np.median([skin.edge_sd_px / item.sights.body.leg_px for item, skin in shown])
    # What the network's own spread covers is in the budget already.
    sd = float(np.sqrt(max(within + between - own**2, 0.0)))
    return _Skin(np.array(below), float(share), sd)


#: A blunder of the network's, in legs, and how strongly its means are pulled to 0.
_SKIN_BLUNDER: Final = 0.08
_PULL: Final = 0.5


def _skin_error(item: Seen, skin: CrotchCandidate) -> float:
    """How far the network's crotch lies below the true one at its depth, in straight legs."""
    crotch_mm = true_mm(item.truth, "crotch")[0]
    seen_mm = cast_true(item.truth, skin.point_px[None], axis=2, at_mm=crotch_mm[2])[0]
    return float(seen_mm[1] - crotch_mm[1]) / _straight_mm(item.truth)


def _rising(values: _Array, counts: _Array) -> _Array:
    """The nearest values that do not fall: looser cloth hangs no higher and is no surer.

    Isotonic regression by pooling adjacent violators (Barlow et al. 1972).
    """
    pools = [
        ([place], value, count)
        for place, (value, count) in enumerate(zip(values, counts, strict=True))
    ]
    place = 0
    while place + 1 < len(pools):
        (one, low, few), (other, high, many) = pools[place : place + 2]
        if low <= high:
            place += 1
            continue
        pools[place : place + 2] = [
            (one + other, (low * few + high * many) / (few + many), few + many)
        ]
        place = max(place - 1, 0)
    rising = np.empty(len(values))
    for places, value, _ in pools:
        rising[places] = value
    return rising


#: Ends that are no crotch lie anywhere in this range, millimetres below the crotch.
_CLUTTER_MM: Final = (-120.0, 180.0)


def _core(values: _Array, worlds: _Array) -> tuple[float, float]:
    """Mean and spread of the right ends among wrong ones, each world counting alike.

    Expectation and maximisation (Dempster, Laird and Rubin 1977) of a normal among even clutter:
    how often an end is wrong the finder's shares of belief say, not the spread.
    """
    counts = {world: int((worlds == world).sum()) for world in set(worlds)}
    even = np.array([1 / counts[world] for world in worlds])
    density = 1 / (_CLUTTER_MM[1] - _CLUTTER_MM[0])
    mean, sd, share = float(np.median(values)), 15.0, 0.8
    for _ in range(60):
        normal = share * np.exp(-0.5 * ((values - mean) / sd) ** 2) / (sd * np.sqrt(2 * np.pi))
        right = normal / (normal + (1 - share) * density)
        weights = even * right
        mean = float(weights @ values / weights.sum())
        sd = max(float(np.sqrt(weights @ (values - mean) ** 2 / weights.sum())), 4.0)
        share = float(weights.sum() / even.sum())
    return mean, sd


def _reach_mm(item: Seen) -> float:
    """Where the lowest points of the feet meet the floor, beyond the foot length from the heels."""
    floor_mm = cast_true(item.truth, item.sights.toes[0].points_px, axis=1, at_mm=0.0)
    heels_mm = true_mm(item.truth, "heel_left", "heel_right")
    return float((heels_mm - floor_mm)[:, 2].mean()) - foot_reach_mm(_straight_mm(item.truth))


def _wall_base_error(item: Seen) -> float | None:
    """Height of the nearest candidate over the true floor, in straight legs; None if none is near."""
    at_mm = -SKIRTING_DEPTH_MM[0]
    heights_mm = [
        float(cast_true(item.truth, base.line_px, axis=2, at_mm=at_mm)[:, 1].mean())
        for base in item.sights.wall_bases
    ]
    nearest_mm = min(heights_mm, key=abs)
    return nearest_mm / _straight_mm(item.truth) if abs(nearest_mm) < 20.0 else None


def _with_right_legs(seen: Sequence[Seen], model: ErrorModel) -> ErrorModel:
    """Move the hip's shift until the reading by the legs is right on average over the worlds."""

    def error(item: Seen) -> float:
        best = read_inseam(item.sights, model=model).best("legs")
        assert best is not None
        return (best.value_mm - float(item.truth["inseam_mm"])) / _straight_mm(item.truth)

    hip, ankle = model.shift_parts
    # A hip moved up by a part of the leg raises the reading by nearly the same part.
    return replace(model, shift_parts=(_round(hip - _pooled(seen, error).mean), ankle))


def _with_honest_legs(seen: Sequence[Seen], model: ErrorModel) -> ErrorModel:
    """Scale the shifts' spreads until the readings by the legs are as unsure as they are.

    Joints and proportions were taken alone, but where the pose model puts the hips lower the
    body's proportions make up for part of it.
    """

    def ratio(item: Seen) -> float:
        best = read_inseam(item.sights, model=model).best("legs")
        assert best is not None
        return (best.value_mm - float(item.truth["inseam_mm"])) / best.sd_mm

    factor = _pooled(seen, ratio).sd
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
        if (lines := _lines(item.sights)) and item.truth["legwear"] != "hidden"
    ]

    def error(item: Seen) -> float:
        length = read_inseam(item.sights, model=model).length
        return length.mean_mm - float(item.truth["inseam_mm"])

    means_mm = np.array(model.hang_means_mm) - _pooled(shown, error).mean
    return replace(model, hang_means_mm=_three(means_mm))


def _interval_factor(observations: Sequence[Observation], model: ErrorModel) -> float:
    """What makes 95 % mean 95 %, each world counting alike; never below `LEAST_FACTOR`.

    Only of photos that the checks let pass: what is refused has no interval, and its error must
    not widen the others'. What the mixture and the worlds add does not follow the factor, so it
    is found in a few steps.
    """
    factor = 1.0
    for _ in range(4):
        tried = replace(model, interval_factor=factor)
        passed = [
            result
            for result in (result_of(item, model=tried) for item in observations)
            if isinstance(result, Scored)
        ]
        sizes = Counter(world_of(one.truth) for one in passed)
        even = np.array([1 / sizes[world_of(one.truth)] for one in passed])
        ratios = np.array([abs(one.error_mm) / one.sd_mm for one in passed])
        order = np.argsort(ratios)
        shares = np.cumsum(even[order]) / even.sum()
        reached = float(ratios[order][np.searchsorted(shares, 0.95)])
        factor = max(factor * reached / COVERAGE_FACTOR_95, LEAST_FACTOR)
    return _round(factor, 3)


def _round(value: float, digits: int = 4) -> float:
    return round(float(value), digits)


def _three(values: _Array) -> tuple[float, float, float]:
    first, second, third = (_round(value) for value in values)
    return first, second, third
