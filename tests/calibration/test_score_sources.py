"""Errors put in one at a time are found where they were put."""

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from calibration.observe import Observation
from calibration.score import ablation
from calibration.score.ablation import VARIANTS, ablations_on
from calibration.score.sources import TOGETHER, errors_apart, errors_by_source, true_inputs
from calibration.scored import Scored, result_of
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.inseam.quantities import quantities_of
from tests.calibration.seen_child import FOCAL_PX, MODEL, STRAIGHT_MM, seen_child, true_plane


def _by_name(item, model=MODEL):
    return {one.source: one for one in errors_apart(item, model=model)}


def test_true_inputs_give_the_true_inseam():
    apart = _by_name(seen_child())
    assert apart["what the equation itself leaves out"].error_mm == pytest.approx(0.0, abs=1.0)
    assert apart["reference and camera"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["pose model’s joints"].error_mm == pytest.approx(0.0, abs=1e-6)
    assert apart["distance from the wall and posture"].error_mm == pytest.approx(0.0, abs=1e-3)
    assert apart["end of the line between the legs"].error_mm == pytest.approx(0.0, abs=1e-3)
    assert apart["wall base"].error_mm == pytest.approx(0.0, abs=1e-6)
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
    soles = next(
        s for s in errors_by_source(items, models={"bench": MODEL}) if s.source == "shoe soles"
    )
    assert soles.errors_mm.size == 3
    assert soles.bias_mm == pytest.approx(soles.errors_mm[1], rel=0.1)
    assert soles.claimed_mm == pytest.approx(soles.sds_mm.mean(), rel=0.05)


def test_a_photo_without_crotch_and_floor_has_fewer_inputs():
    item = seen_child()
    sights = replace(item.sights, crotches=(), toes=(), wall_bases=())
    fewer = Scored(item.truth, sights, read_inseam(sights, model=MODEL))
    inputs = true_inputs(fewer, quantities_of(sights, model=MODEL))
    assert len(inputs.values) == 7
    assert "wall base" not in inputs.sources


def test_an_unknown_input_is_not_passed_over():
    item = seen_child()
    quantities = quantities_of(item.sights, model=MODEL)
    with pytest.raises(ValueError, match="wanted the truth of"):
        true_inputs(item, [*quantities, quantities[-1]])


# Ablation


def _read(name, item):
    variant = next(variant for variant in VARIANTS if variant.name.startswith(name))
    return variant.read(item.sights, None, MODEL)


def test_no_plane_offset_reads_the_near_child_too_long():
    flat_legs = replace(
        MODEL,
        gap_at_wall_mm=(100.0, 18.0),
        ankle_before_heel=(0.0, 0.02),
        hip_before_ankle=(0.0, 0.03),
        hip_before_wall=(100.0 / STRAIGHT_MM, 0.03),
        knee_before_line=(0.0, 0.015),
    )
    item = seen_child()
    sights = replace(item.sights, crotches=(), toes=(), wall_bases=())
    variant = next(variant for variant in VARIANTS if variant.name.startswith("no plane"))
    flat_mm, _ = variant.read(sights, None, flat_legs)
    true_mm = read_inseam(sights, model=flat_legs).length.mean_mm
    # Seen from 2.5 m, legs 100 mm before the wall look 2500 / 2400 longer on it; a constant part
    # of the regressions does not grow with them.
    assert 0.8 * 100 / 2400 < flat_mm / true_mm - 1 <= 1.05 * 100 / 2400


def test_the_crotch_does_not_mind_the_hips():
    straight, moved = seen_child(), seen_child(hips_down_px=8.0)
    pose_mm = _read("pose only", moved)[0] - _read("pose only", straight)[0]
    by_crotch = [
        next(r.value_mm for r in item.reading.readings if (r.top, r.floor) == ("crotch", "toes"))
        for item in (straight, moved)
    ]
    assert abs(pose_mm) > 15
    assert abs(by_crotch[1] - by_crotch[0]) < 0.2 * abs(pose_mm)


def test_ablations_read_the_photos_files(tmp_path, monkeypatch):
    item = seen_child()
    path = tmp_path / item.truth["photo"]
    Image.new("RGB", (900, 1200)).save(path)
    monkeypatch.setattr(ablation, "read_photos", lambda folder: [(path, item.truth)])
    scored = result_of(Observation(item.truth, None, item.sights), model=MODEL)
    assert isinstance(scored, Scored)
    assert scored.error_mm == item.error_mm
    ablations = ablations_on([scored], folder=tmp_path, models={"bench": MODEL})
    assert [one.name for one in ablations] == ["the whole program", *(v.name for v in VARIANTS)]
    for one in ablations:
        assert one.whole.mae_mm == pytest.approx(abs(item.error_mm))
