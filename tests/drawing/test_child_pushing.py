"""The drawing of a child on a bicycle without pedals: well-formed, to scale, told in words."""

import dataclasses
import xml.etree.ElementTree as ET

import pytest

from pose_fit.drawing.child_pushing import pushing_svg
from pose_fit.fit.judge import judge
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Refusal
from tests.fit.bikes import DEMO

SVG = "{http://www.w3.org/2000/svg}"
PUSHED = [bike for bike in DEMO if not bike.pedals]


def fit_of(inseam_mm, bike):
    (fit,) = judge(Inseam.stated(inseam_mm, 5.0), (bike,))
    return fit


@pytest.mark.parametrize("bike", PUSHED, ids=lambda bike: bike.name)
@pytest.mark.parametrize("inseam_mm", [260.0, 330.0, 400.0, 600.0])
def test_drawings_are_well_formed_and_told_in_words(bike, inseam_mm):
    fit = fit_of(inseam_mm, bike)
    picture = ET.fromstring(pushing_svg(fit))
    description = picture.find(f"{SVG}desc").text
    assert "to scale" in description
    assert "saddle at" in description
    assert bike.name in picture.find(f"{SVG}title").text
    assert "nan" not in ET.tostring(picture, encoding="unicode")


def test_wheels_saddle_and_scale_are_drawn_to_scale():
    bike = PUSHED[0]
    picture = ET.fromstring(pushing_svg(fit_of(370.0, bike)))
    circles = [circle.attrib for circle in picture.iter(f"{SVG}circle")]
    radius_mm = bike.tyre.outside_diameter_mm / 2 - 0.4 * bike.tyre.width_mm
    tyres = [circle for circle in circles if circle["r"] == f"{radius_mm:.1f}"]
    assert len(tyres) == 2
    run_mm = abs(float(tyres[0]["cx"]) - float(tyres[1]["cx"]))
    assert run_mm == pytest.approx(bike.wheelbase_mm, abs=0.2)
    # The dot in the saddle's range: 0.96 of the inseam and the sole over the floor.
    floor_y = float(tyres[0]["cy"]) + bike.tyre.outside_diameter_mm / 2
    (dot,) = [circle for circle in circles if circle["r"] == "9.0"]
    assert floor_y - float(dot["cy"]) == pytest.approx(0.96 * 370 + 15, abs=0.3)


def test_no_drawing_without_geometry():
    bare = dataclasses.replace(PUSHED[0], wheelbase_mm=None)
    assert isinstance(pushing_svg(fit_of(370.0, bare)), Refusal)
