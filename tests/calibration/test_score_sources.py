"""Errors put in one at a time are found where they were put."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from calibration.observe import Observation
from calibration.score.ablation import VARIANTS, ablations_on
from calibration.score.fusing import best_weights, fused_over
from calibration.score.scored import Scored, scores_of
from calibration.score.sources import TOGETHER, errors_apart, errors_by_source, true_inputs
from pose_fit.inseam.photo_reading import quantities_of, read_inseam
from pose_fit.metrology.propagation import Propagated
from tests.calibration.seen_child import FOCAL_PX, MODEL, seen_child, true_plane


def _by_name(item, model=MODEL):
    return {one.source: one for one in errors_apart(item, model=model)}


def test_true_inputs_give_the_true_inseam():
    apart = _by_name(seen_child())
    assert apart["what the equation itself leaves out"].error_mm == pytest.approx(0.0, abs=1.0)
    assert apart["reference and camera"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["pose model’s joints"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["distance from the wall"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["end of the line between the legs"].error_mm == pytest.approx(0.0, abs=1e-3)
    assert apart["foot of the wall"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["shoe soles"].error_mm == 0.0


@pytest.mark.parametrize(
    ("changes", "source"),
    [
        ({"plane": true_plane(log_focal_error=0.03)}, "reference and camera"),
        ({"hips_down_px": 6.0}, "pose model’s joints"),
        ({"soles_mm": 8.0}, "shoe soles"),
        ({"crotch_down_px": 5.0}, "end of the line between the legs"),
    ],
)
def test_an_error_is_found_where_it_was_put(changes, source):
    before, after = _by_name(seen_child()), _by_name(seen_child(**changes))
    moved = {name: after[name].error_mm - before[name].error_mm for name in before}
    largest = max((name for name in moved if name != TOGETHER), key=lambda name: abs(moved[name]))
    assert largest == source
    total_mm = seen_child(**changes).error_mm - seen_child().error_mm
    # Weights move a little with the sights; the error itself is all there.
    assert moved[source] == pytest.approx(total_mm, abs=0.15 * abs(total_mm) + 0.1)


def test_a_line_end_10_px_low_reads_its_millimetres_short():
    apart = _by_name(seen_child(crotch_down_px=10.0))
    mm_a_px = (2500.0 - 110.0) / FOCAL_PX
    share = sum(
        r.weight for r in seen_child(crotch_down_px=10.0).reading.readings if r.top == "crotch"
    )
    expected_mm = -10.0 * mm_a_px * share
    assert apart["end of the line between the legs"].error_mm == pytest.approx(
        expected_mm, rel=0.05
    )


def test_the_claims_make_up_the_budget():
    item = seen_child()
    own = [one for one in errors_apart(item, model=MODEL) if one.source != TOGETHER]
    total = np.sqrt(sum(one.claimed_mm**2 for one in own))
    assert total == pytest.approx(item.sd_mm, rel=1e-6)


def test_sources_gather_over_photos():
    items = [seen_child(soles_mm=soles_mm) for soles_mm in (0.0, 4.0, 8.0)]
    soles = next(s for s in errors_by_source(items, model=MODEL) if s.source == "shoe soles")
    assert soles.errors_mm.size == 3
    assert soles.bias_mm == pytest.approx(soles.errors_mm[1], rel=0.1)
    assert soles.claimed_mm == pytest.approx(soles.sds_mm.mean(), rel=0.05)


def test_a_photo_without_crotch_and_floor_has_fewer_inputs():
    item = seen_child()
    sights = replace(item.sights, crotch=None, toes_px=None, wall_foot_px=None)
    fewer = Scored(item.truth, sights, read_inseam(sights, model=MODEL))
    inputs = true_inputs(fewer, quantities_of(sights, model=MODEL))
    assert len(inputs.values) == 7
    assert "foot of the wall" not in inputs.sources


def test_an_unknown_input_is_not_passed_over():
    item = seen_child()
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
    item = seen_child()
    sights = replace(item.sights, crotch=None, toes_px=None, wall_foot_px=None)
    variant = next(variant for variant in VARIANTS if variant.name.startswith("no plane"))
    flat_mm, _ = variant.read(sights, None, flat_legs)
    true_mm = read_inseam(sights, model=flat_legs).length.mean_mm
    # Seen from 2.5 m, legs 100 mm before the wall look 2500 / 2400 longer on it; a constant part
    # of the regressions does not grow with them.
    assert 0.8 * 100 / 2400 < flat_mm / true_mm - 1 <= 1.05 * 100 / 2400


def test_silhouette_only_does_not_mind_the_hips():
    straight, moved = seen_child(), seen_child(hips_down_px=8.0)
    pose_mm = _read("pose only", moved)[0] - _read("pose only", straight)[0]
    crotch_mm = _read("silhouette only", moved)[0] - _read("silhouette only", straight)[0]
    assert abs(pose_mm) > 15
    assert abs(crotch_mm) < 0.2 * abs(pose_mm)


def test_ablations_read_the_photos_files(tmp_path):
    item = seen_child()
    Image.new("RGB", (900, 1200)).save(tmp_path / item.truth["photo"])
    observation = Observation(item.truth, None, item.sights, None)
    assert scores_of([observation], model=MODEL)[0].error_mm == item.error_mm
    ablations = ablations_on([observation], [observation], bench=tmp_path, model=MODEL)
    assert [one.name for one in ablations] == ["the whole program", *(v.name for v in VARIANTS)]
    for one in ablations:
        assert one.whole.mae_mm == pytest.approx(abs(item.error_mm))
        # The same photo is fitted on: its own error is all there is to take off.
        assert one.refitted_mae_mm == pytest.approx(0.0, abs=1e-9)
