"""A crotch at the skin beside one at the line's end: the same geometry, another hang and depth."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pose_fit.checks.reading import reading_warnings
from pose_fit.inseam.cloth_hang import loose_cloth_sd_mm, skin_below_part
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.inseam.photo_sights import legs_of
from tests.inseam.drawn_child import Drawn, draw_child

MODEL = error_model()
NO_HANG = replace(
    MODEL,
    hang_means_mm=(0.0, 0.0, 0.0),
    line_before_crotch=0.0,
    skin_crotch_below=(0.0, 0.0, 0.0),
    skin_crotch_hang_share=0.0,
    skin_crotch_sd_part=0.0,
)


def child() -> Drawn:
    return draw_child(np.random.default_rng(11), model=MODEL, pitch_rad=0.2)


def with_kinds(drawn: Drawn, *kinds: str):
    (line,) = drawn.sights.crotches
    crotches = tuple(replace(line, kind=kind, weight=0.9 / len(kinds)) for kind in kinds)
    return replace(drawn.sights, crotches=crotches)


def crotch_mm(sights, model) -> float:
    alone = replace(sights, crotches=tuple(replace(one, weight=1.0) for one in sights.crotches))
    reading = read_inseam(alone, model=model).best("crotch")
    assert reading is not None
    return reading.value_mm


def test_without_hang_and_depth_both_kinds_read_alike() -> None:
    line, skin = (crotch_mm(with_kinds(child(), kind), NO_HANG) for kind in ("line", "learned"))
    assert skin == pytest.approx(line, abs=1e-6)


def test_a_crotch_behind_the_line_reads_lower_from_above() -> None:
    """From above what is farther back is higher in the picture: at one pixel it lies lower."""
    deeper = replace(NO_HANG, line_before_crotch=0.07)
    skin = with_kinds(child(), "learned")
    assert crotch_mm(skin, deeper) < crotch_mm(skin, NO_HANG) - 5.0


def test_a_network_that_sees_the_skin_too_low_is_read_higher_by_as_much() -> None:
    drawn = child()
    sights = with_kinds(drawn, "learned")
    low = replace(NO_HANG, skin_crotch_below=(0.02, 0.03, 0.05))
    straight_mm = legs_of(sights.plane, sights.body, beside=False, model=MODEL).straight_mm
    plain_mm = crotch_mm(sights, NO_HANG)
    for legwear, part in (("snug", 0.02), ("fitted", 0.03), ("loose", 0.05)):
        worn_mm = crotch_mm(replace(sights, legwear=legwear), low)
        assert worn_mm - plain_mm == pytest.approx(part * straight_mm, rel=0.01)


def test_cloth_that_is_seen_to_hang_takes_back_its_share() -> None:
    sights = with_kinds(child(), "learned")
    hanging = replace(sights, crotches=(replace(sights.crotches[0], hang_part=0.04),))
    straight_mm = legs_of(sights.plane, sights.body, beside=False, model=MODEL).straight_mm
    half = replace(NO_HANG, skin_crotch_hang_share=0.5)
    fall_mm = crotch_mm(sights, half) - crotch_mm(hanging, half)
    assert fall_mm == pytest.approx(0.02 * straight_mm, rel=0.01)


def test_legwear_that_nobody_stated_is_between_and_less_sure() -> None:
    worn = {
        legwear: skin_below_part(legwear, 0.0, model=MODEL)
        for legwear in (None, "snug", "fitted", "loose", "hidden")
    }
    means, sds = zip(*worn.values(), strict=True)
    assert min(means[1:]) < means[0] < max(means[1:])
    assert sds[0] > max(sds[1:])
    assert worn["hidden"] == worn["loose"]


def test_line_and_skin_are_alternatives_whose_weights_add_up_to_one() -> None:
    both = read_inseam(with_kinds(child(), "line", "learned"), model=MODEL)
    assert sum(one.weight for one in both.hypotheses) == pytest.approx(1.0)
    assert {one.hypothesis.crotch for one in both.hypotheses} == {0, 1, None}
    hangs = [line.source for line in both.length.budget if line.source == "clothing"]
    assert hangs == ["clothing"]


def test_unfamiliar_legs_are_told() -> None:
    sights = child().sights
    for unfamiliar in (False, True):
        seen = replace(sights, is_unfamiliar=unfamiliar)
        codes = {one.code for one in reading_warnings(seen, read_inseam(seen, model=MODEL))}
        assert ("legs_unfamiliar" in codes) == unfamiliar


def test_a_hem_with_nothing_but_the_networks_guess_above_it_shows_no_crotch() -> None:
    """A dress: the network is sure of a crotch that nobody sees."""
    for kinds, hidden in (
        (("learned", "hem"), True),
        (("learned", "line"), False),
        (("learned",), False),
    ):
        seen = with_kinds(child(), *kinds)
        codes = {one.code for one in reading_warnings(seen, read_inseam(seen, model=MODEL))}
        assert ("crotch_hidden" in codes) == hidden


def test_cloth_seen_to_hang_and_loose_legwear_widen_the_interval_and_move_nothing() -> None:
    sights = replace(with_kinds(child(), "learned"), legwear="fitted")
    hanging = replace(sights, crotches=(replace(sights.crotches[0], hang_part=0.08),))
    unmoved = replace(MODEL, skin_crotch_hang_share=0.0)
    plain, wide = (read_inseam(one, model=unmoved).length for one in (sights, hanging))
    straight_mm = legs_of(sights.plane, sights.body, beside=False, model=MODEL).straight_mm
    assert wide.mean_mm == pytest.approx(plain.mean_mm, abs=0.5)
    added_mm = math.sqrt(wide.sd_mm**2 - plain.sd_mm**2)
    assert added_mm == pytest.approx(loose_cloth_sd_mm("fitted", 0.08 * straight_mm), rel=0.15)
    assert loose_cloth_sd_mm("fitted", 0.0) == 0.0
    assert loose_cloth_sd_mm("loose", 0.0) > loose_cloth_sd_mm(None, 0.0) > 0.0
