"""A made-up child in front of a true camera: errors put in one at a time are found where they are."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image

from calibration.observe import Observation
from calibration.score.ablation import VARIANTS, ablations_on
from calibration.score.fusing import best_weights, fused_over
from calibration.score.scored import Scored, scores_of
from calibration.score.sources import TOGETHER, errors_apart, errors_by_source, true_inputs
from pose_fit.body.body import LANDMARKS, LEG_LANDMARKS, Body
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_reading import PhotoSights, quantities_of, read_inseam
from pose_fit.plane import PlaneScale, project
from pose_fit.propagation import Propagated
from pose_fit.reference.reference import PointReference
from tests.calibration.scored_photos import truth_of

ORIGIN_MM = np.array([-300.0, -500.0, 0.0])
CAMERA_MM = np.array([0.0, -1000.0, -2500.0])
FOCAL_PX, CENTRE_PX = 900.0, (449.5, 599.5)
LANDMARKS_MM = {
    "hip_left": (60.0, -520.0, -90.0),
    "hip_right": (-60.0, -520.0, -90.0),
    "knee_left": (64.0, -300.0, -92.0),
    "knee_right": (-64.0, -300.0, -92.0),
    "ankle_left": (67.5, -60.0, -85.0),
    "ankle_right": (-67.5, -60.0, -85.0),
    "heel_left": (67.5, 0.0, -30.0),
    "heel_right": (-67.5, 0.0, -30.0),
    "crotch": (0.0, -450.0, -110.0),
}
MODEL = replace(
    error_model(),
    gap_mean_mm=30.0,
    hang_mean_mm=0.0,
    shift_parts=(0.0, 0.0),
    interval_factor=1.0,
)


def _plane(*, log_focal_error=0.0):
    parameters = np.zeros(12)
    parameters[3:6] = ORIGIN_MM - CAMERA_MM
    parameters[6:9] = np.log(FOCAL_PX) + log_focal_error, *CENTRE_PX
    shifts = np.zeros((12, 1))
    shifts[6] = 0.02
    return PlaneScale(parameters, shifts, ("focal length",), 1.0)


def _px(*points_mm):
    return project(_plane().parameters, np.array(points_mm, float) - ORIGIN_MM)


def _truth():
    pixels = {name: _px(point)[0].tolist() for name, point in LANDMARKS_MM.items()}
    return truth_of(
        inseam_mm=450.0,
        soles_mm=0.0,
        landmarks_mm={name: list(point) for name, point in LANDMARKS_MM.items()},
        landmarks_px=pixels,
        erect_joint_heights_mm={"hip": 520.0, "knee": 300.0, "ankle": 60.0},
        reference={
            "kind": "sheet",
            "origin_mm": ORIGIN_MM.tolist(),
            "ruler_mm": None,
            "print_scale": 1.0,
        },
        camera={
            "focal_px": FOCAL_PX,
            "focal_y_px": FOCAL_PX,
            "centre_px": list(CENTRE_PX),
            "k1": 0.0,
            "position_mm": CAMERA_MM.tolist(),
            "rotation": np.eye(3).tolist(),
            "true_focal_35mm": 26.0,
        },
    )


def _scored(*, plane=None, hips_down_px=0.0, soles_mm=0.0, crotch_down_px=0.0, model=MODEL):
    truth = _truth()
    looks = np.zeros((3, len(LANDMARKS), 2))
    for mark in LEG_LANDMARKS:
        side, joint = mark.split("_")
        point = np.array(truth["landmarks_px"][f"{joint}_{side}"])
        point[1] += hips_down_px * (joint == "hip")
        looks[:, LANDMARKS.index(mark)] = point
    half_mm = np.array([105.0, 148.5])
    corners_mm = half_mm * [[-1, -1], [1, -1], [1, 1], [-1, 1]]
    reference = PointReference(
        kind="sheet",
        mount="wall",
        object_mm=corners_mm,
        image_px=_px(*(ORIGIN_MM + np.column_stack([corners_mm, np.zeros(4)]))),
        point_sd_px=0.5,
        log_size_sd=0.003,
        log_aspect_sd=0.002,
    )
    crotch_px = np.array(truth["landmarks_px"]["crotch"])
    crotch_px[1] += crotch_down_px
    sights = PhotoSights(
        plane=plane or _plane(),
        reference=reference,
        body=Body(looks, np.ones(len(LANDMARKS)), np.zeros((1, 1), np.float32)),
        crotch=SimpleNamespace(point_px=crotch_px, edge_sd_px=1.0, contrast=50.0),
        toes_px=_px((67.5, 0.0, -200.0), (-67.5, 0.0, -200.0)),
        wall_foot_px=_px((-300.0, 0.0, -8.0), (300.0, 0.0, -8.0)),
        soles_mm=soles_mm,
        soles_sd_mm=3.0,
    )
    return Scored(truth, sights, read_inseam(sights, model=model))


def _by_name(item, model=MODEL):
    return {one.source: one for one in errors_apart(item, model=model)}


def test_true_inputs_give_the_true_inseam():
    apart = _by_name(_scored())
    assert apart["what the equation itself leaves out"].error_mm == pytest.approx(0.0, abs=1.0)
    assert apart["reference and camera"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["pose model’s joints"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["distance from the wall"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["end of the line between the legs"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["foot of the wall"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["shoe soles"].error_mm == 0.0


@pytest.mark.parametrize(
    ("changes", "source"),
    [
        ({"plane": _plane(log_focal_error=0.03)}, "reference and camera"),
        ({"hips_down_px": 6.0}, "pose model’s joints"),
        ({"soles_mm": 8.0}, "shoe soles"),
        ({"crotch_down_px": 5.0}, "end of the line between the legs"),
    ],
)
def test_an_error_is_found_where_it_was_put(changes, source):
    before, after = _by_name(_scored()), _by_name(_scored(**changes))
    moved = {name: after[name].error_mm - before[name].error_mm for name in before}
    largest = max((name for name in moved if name != TOGETHER), key=lambda name: abs(moved[name]))
    assert largest == source
    total_mm = _scored(**changes).error_mm - _scored().error_mm
    # Weights move a little with the sights; the error itself is all there.
    assert moved[source] == pytest.approx(total_mm, abs=0.15 * abs(total_mm) + 0.1)


def test_a_line_end_10_px_low_reads_its_millimetres_short():
    apart = _by_name(_scored(crotch_down_px=10.0))
    mm_a_px = (2500.0 - 110.0) / FOCAL_PX
    share = sum(
        r.weight for r in _scored(crotch_down_px=10.0).reading.readings if r.top == "crotch"
    )
    expected_mm = -10.0 * mm_a_px * share
    assert apart["end of the line between the legs"].error_mm == pytest.approx(
        expected_mm, rel=0.05
    )


def test_the_claims_make_up_the_budget():
    item = _scored()
    own = [one for one in errors_apart(item, model=MODEL) if one.source != TOGETHER]
    total = np.sqrt(sum(one.claimed_mm**2 for one in own))
    assert total == pytest.approx(item.sd_mm, rel=1e-6)


def test_sources_gather_over_photos():
    items = [_scored(soles_mm=soles_mm) for soles_mm in (0.0, 4.0, 8.0)]
    soles = next(s for s in errors_by_source(items, model=MODEL) if s.source == "shoe soles")
    assert soles.errors_mm.size == 3
    assert soles.bias_mm == pytest.approx(soles.errors_mm[1], rel=0.1)
    assert soles.claimed_mm == pytest.approx(soles.sds_mm.mean(), rel=0.05)


def test_a_photo_without_crotch_and_floor_has_fewer_inputs():
    item = _scored()
    sights = replace(item.sights, crotch=None, toes_px=None, wall_foot_px=None)
    fewer = Scored(item.truth, sights, read_inseam(sights, model=MODEL))
    inputs = true_inputs(fewer, quantities_of(sights, model=MODEL))
    assert len(inputs.values) == 7
    assert "foot of the wall" not in inputs.sources


def test_an_unknown_input_is_not_passed_over():
    item = _scored()
    quantities = quantities_of(item.sights, model=MODEL)
    with pytest.raises(ValueError, match="wanted the truth of"):
        true_inputs(item, [*quantities, quantities[-1]])


# Fusing


def _propagated(values, sds):
    return Propagated(
        np.array(values), np.diag(np.array(sds, float)), ("a",) * len(sds), (False,) * len(sds)
    )


def test_weights_of_independent_readings_are_inverse_variances():
    # With a millimetre of its own, 3 mm and 7 mm count as 10 and 50.
    assert best_weights(np.diag([9.0, 49.0])) == pytest.approx([5 / 6, 1 / 6])


def test_fused_from_the_kept_readings_alone():
    names = (("legs", "ankles"), ("crotch", "ankles"), ("crotch", "toes"))
    propagated = _propagated([100.0, 200.0, 260.0], [3.0, 3.0, 7.0])
    mean_mm, sd_mm = fused_over(propagated, names, keep=lambda top, floor: top == "crotch")
    assert mean_mm == pytest.approx(210.0)
    assert sd_mm == pytest.approx(np.hypot(5 / 6 * 3, 7 / 6))
    assert fused_over(propagated, names, keep=lambda top, floor: floor == "wheel") is None


# Ablation


def _read(name, item):
    variant = next(variant for variant in VARIANTS if variant.name.startswith(name))
    return variant.read(item.sights, None, MODEL)


def test_no_plane_offset_reads_the_near_child_too_long():
    flat_legs = replace(MODEL, gap_mean_mm=100.0, depth_parts=(0.0, 0.0, 0.0))
    item = _scored()
    sights = replace(item.sights, crotch=None, toes_px=None, wall_foot_px=None)
    variant = next(variant for variant in VARIANTS if variant.name.startswith("no plane"))
    flat_mm, _ = variant.read(sights, None, flat_legs)
    true_mm = read_inseam(sights, model=flat_legs).length.mean_mm
    # Seen from 2.5 m, legs 100 mm before the wall look 2500 / 2400 longer on it; a constant part
    # of the regressions does not grow with them.
    assert 0.8 * 100 / 2400 < flat_mm / true_mm - 1 <= 1.05 * 100 / 2400


def test_silhouette_only_does_not_mind_the_hips():
    straight, moved = _scored(), _scored(hips_down_px=8.0)
    pose_mm = _read("pose only", moved)[0] - _read("pose only", straight)[0]
    crotch_mm = _read("silhouette only", moved)[0] - _read("silhouette only", straight)[0]
    assert abs(pose_mm) > 15
    assert abs(crotch_mm) < 0.2 * abs(pose_mm)


def test_ablations_read_the_photos_files(tmp_path):
    item = _scored()
    Image.new("RGB", (900, 1200)).save(tmp_path / item.truth["photo"])
    observation = Observation(item.truth, None, item.sights, None)
    assert scores_of([observation], model=MODEL)[0].error_mm == item.error_mm
    ablations = ablations_on([observation], [observation], bench=tmp_path, model=MODEL)
    assert [one.name for one in ablations] == ["the whole program", *(v.name for v in VARIANTS)]
    for one in ablations:
        assert one.whole.mae_mm == pytest.approx(abs(item.error_mm))
        # The same photo is fitted on: its own error is all there is to take off.
        assert one.refitted_mae_mm == pytest.approx(0.0, abs=1e-9)
