"""Drawings: well-formed, to scale, told in words, and harmless to open."""

import math
import xml.etree.ElementTree as ET

import pytest

from pose_fit.drawing.child_on_bicycle import standing_svg
from pose_fit.drawing.figure import Figure, figure
from pose_fit.fit.judge import judge
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal
from tests.fit.bikes import PEDALLED, bare, full

SVG = "{http://www.w3.org/2000/svg}"


def drawn(inseam_mm, bike):
    shape = figure(inseam_mm, bike)
    assert isinstance(shape, Figure)
    (fit,) = judge(Inseam.stated(inseam_mm, 6.0), (bike,))
    return shape, fit


@pytest.mark.parametrize("bike", PEDALLED, ids=lambda bike: bike.name)
def test_drawings_are_well_formed_and_told_in_words(bike):
    for inseam_mm in (0.85 * bike.saddle_min_mm, 1.1 * bike.saddle_max_mm):
        shape, fit = drawn(inseam_mm, bike)
        picture = ET.fromstring(standing_svg(shape, fit))
        named = picture.attrib["aria-labelledby"].split()
        found = {part.attrib.get("id") for part in picture}
        assert set(named) <= found
        title, description = picture.find(f"{SVG}title"), picture.find(f"{SVG}desc")
        assert bike.name in title.text
        assert "to scale" in description.text
        assert "nan" not in ET.tostring(picture, encoding="unicode")


def test_names_cannot_break_out_of_the_picture():
    shape, fit = drawn(640.0, full(name="<script>alert('x')</script> & co"))
    text = standing_svg(shape, fit)
    assert "<script" not in text
    ET.fromstring(text)


@pytest.mark.parametrize("inseam_mm", [610.0, 700.0])
def test_heights_are_drawn_to_scale(inseam_mm):
    """Wheel, saddle mark and the dimension lines, read back from the picture's coordinates."""
    shape, fit = drawn(inseam_mm, full())
    picture = ET.fromstring(standing_svg(shape, fit))
    lines = [
        [tuple(map(float, pair.split(","))) for pair in line.attrib["points"].split()]
        for line in picture.iter(f"{SVG}polyline")
    ]
    heights = {
        round(abs(line[0][1] - line[-1][1]), 1)
        for line in lines
        if len(line) == 2 and math.isclose(line[0][0], line[-1][0])
    }
    assert {604.0, round(inseam_mm + 15, 1), round(inseam_mm + 15 - 604, 1)} <= heights
    assert any(math.isclose(math.dist(line[0], line[-1]), 254.0) for line in lines)
    radii = {float(circle.attrib["r"]) for circle in picture.iter(f"{SVG}circle")}
    tyre = full().tyre
    assert round(tyre.outside_diameter_mm / 2 - 0.4 * tyre.width_mm, 1) in radii


def test_the_bar_passes_where_it_is_straddled():
    for bike in PEDALLED:
        shape, _ = drawn(bike.saddle_min_mm, bike)
        assert shape.bicycle.straddle[1] == bike.standover_mm
        assert shape.bicycle.straddle in shape.bicycle.top_tube
        # Feet on the ground beside it, crotch at inseam and sole.
        assert shape.standing.near.heel[1] == 0
        assert shape.standing.crotch[1] == bike.saddle_min_mm + 15


def test_no_drawing_without_geometry():
    for bike in (bare(), full(chainstay_mm=None, wheelbase_mm=None)):
        assert isinstance(figure(640.0, bike), Refusal)
