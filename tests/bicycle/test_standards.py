"""Bands against the figures of ISO 8098:2023, ISO 4210-2:2023 and 16 CFR 1512."""

import math

import pytest

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.standards import standards, toe_clearance_mm
from pose_fit.bicycle.tyre import read_marking


def bicycle(**values):
    return Bicycle(
        **{"name": "Pipwren", "tyre": read_marking("47-406"), "standover_mm": 500.0} | values
    )


@pytest.mark.parametrize(
    ("saddle_max_mm", "child", "young_adult", "sidewalk"),
    [
        (435.0, False, False, True),
        (436.0, True, False, True),
        (634.9, True, False, True),
        (635.0, False, True, True),
        (635.1, False, True, False),
        (749.9, False, True, False),
        (750.0, False, False, False),
    ],
)
def test_bands_at_their_edges(saddle_max_mm, child, young_adult, sidewalk):
    met = {found.rule: found.met for found in standards(bicycle(saddle_max_mm=saddle_max_mm))}
    assert met == {
        "ISO 8098 young children's bicycle": child,
        "ISO 4210-2 young adult bicycle": young_adult,
        "16 CFR 1512.2(b) sidewalk bicycle": sidewalk,
    }


def test_nothing_is_claimed_without_geometry():
    assert standards(bicycle()) == ()
    assert toe_clearance_mm(bicycle(crank_mm=140.0)) is None


def test_toe_clearance_with_the_axles_level():
    # A 500 mm wheel whose axle is as high as the crank's: pedal, hub and tyre lie on one line.
    level = bicycle(
        tyre=read_marking("47-406"),
        bottom_bracket_height_mm=250.0,
        crank_mm=140.0,
        front_centre_mm=500.0,
    )
    assert toe_clearance_mm(level) == pytest.approx(500 - 140 - 250)
    assert standards(level)[-1].met


def test_toe_clearance_by_marching_along_the_pedals_height():
    low = bicycle(bottom_bracket_height_mm=210.0, crank_mm=152.0, front_centre_mm=470.0)
    hub_x, radius = math.sqrt(470**2 - 40**2), 250.0
    x = 152.0
    while math.hypot(x - hub_x, 210 - radius) > radius:
        x += 0.001
    assert toe_clearance_mm(low) == pytest.approx(x - 152, abs=0.01)
    assert not standards(low)[-1].met


def test_an_ambiguous_tyre_gives_no_toe_clearance():
    shared = bicycle(
        tyre=read_marking("20 x 1 3/8"),
        bottom_bracket_height_mm=250.0,
        crank_mm=140.0,
        front_centre_mm=500.0,
    )
    assert toe_clearance_mm(shared) is None
