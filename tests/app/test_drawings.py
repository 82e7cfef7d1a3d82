"""Drawings: what stands where, and that nothing hangs on colour alone."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.drawing.colours import INK, QUIET, VERDICT_COLOUR, VERDICT_SIGN
from pose_fit.drawing.interval_drawing import Row, interval_drawing
from pose_fit.drawing.zones_drawing import zones_drawing
from pose_fit.fit.judge import judge
from pose_fit.fit.zones import HIGH_MM, LOW_MM, strip_of
from pose_fit.inseam.inseam import Inseam

BICYCLES = read_catalogue(DEMO_CATALOGUE)


@given(st.floats(350, 850), st.floats(2, 40))
def test_zones_cover_the_scale_without_gap_in_the_order_of_growth(mean_mm, sd_mm):
    order = list(VERDICT_COLOUR)
    for fit in judge(Inseam.stated(mean_mm, sd_mm), BICYCLES):
        zones = strip_of(fit).zones
        assert zones[0].low_mm == LOW_MM
        assert zones[-1].high_mm == HIGH_MM
        for before, after in pairwise(zones):
            assert before.high_mm == after.low_mm
            assert order.index(before.verdict) < order.index(after.verdict)


@pytest.mark.parametrize("bicycle", BICYCLES, ids=lambda bicycle: bicycle.name)
def test_a_surely_known_child_stands_in_the_zone_of_its_verdict(bicycle):
    for mean_mm in range(330, 900, 7):
        (fit,) = judge(Inseam.stated(mean_mm, 0.5), [bicycle])
        strip = strip_of(fit)
        if max(fit.probabilities.values()) > 0.95 and LOW_MM < strip.mean_mm < HIGH_MM:
            (at,) = [z.verdict for z in strip.zones if z.low_mm < strip.mean_mm <= z.high_mm]
            assert at == fit.verdict


def test_an_inch_of_clearance_is_where_good_begins():
    """16 CFR 1512.19(b)(2): at least 1 in between top tube and crotch."""
    with_bar = [b for b in BICYCLES if b.has_top_tube]
    starts = [
        zone.low_mm
        for fit in judge(Inseam.stated(600, 5), with_bar)
        for zone in strip_of(fit).zones
        if zone.verdict == "good"
    ]
    assert min(starts) == pytest.approx(25.4)


def test_every_zone_of_the_drawing_has_sign_hatching_and_colour():
    for fit in judge(Inseam.stated(600, 8), BICYCLES):
        svg = zones_drawing(strip_of(fit))
        root = ET.fromstring(svg)
        text = " ".join(root.itertext())
        for zone in strip_of(fit).zones:
            assert f"url(#{zone.verdict})" in svg
            if zone.high_mm - zone.low_mm > 20:
                assert VERDICT_SIGN[zone.verdict] in text


def test_a_child_far_off_the_scale_is_drawn_inside_it():
    for mean_mm in (300, 1000):
        for fit in judge(Inseam.stated(mean_mm, 8), BICYCLES[:3]):
            root = ET.fromstring(zones_drawing(strip_of(fit)))
            xs = [float(line.get("x1")) for line in root.iter("{http://www.w3.org/2000/svg}line")]
            assert all(0 <= x <= 340 for x in xs)


def test_values_stand_between_their_ends_and_in_their_order():
    rows = [Row("Picture", 600, 570, 630), Row("<Tape>", 590, 580, 600)]
    svg = interval_drawing(rows)
    root = ET.fromstring(svg)
    assert "<Tape>" in list(root.itertext())
    bars = [
        (float(e.get("x1")), float(e.get("x2")))
        for e in root.iter("{http://www.w3.org/2000/svg}line")
        if e.get("stroke-width") == "4"
    ]
    ((a_low, a_high), (b_low, b_high)) = bars
    assert a_low < b_low < b_high < a_high
    # 30 mm against 10 mm on one scale.
    assert (a_high - a_low) / (b_high - b_low) == pytest.approx(3, abs=0.02)


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("colour", [*VERDICT_COLOUR.values(), INK, QUIET, "#0b5f5a", "#5a6d73"])
def test_words_have_the_contrast_of_wcag_aa(colour):
    """4.5 to 1 for text (WCAG 2.2, 1.4.3), on white and on the tint of the fields."""
    assert re.fullmatch("#[0-9a-f]{6}", colour)
    for ground in ("#ffffff", "#eef3f2"):
        light, dark = sorted((_luminance(ground), _luminance(colour)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5
