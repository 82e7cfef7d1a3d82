import math

import pytest

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.tyre import read_marking
from pose_fit.errors import CatalogueError

TYRE = read_marking("47-406")


def test_a_published_standover_is_less_sure_than_a_measured_one():
    sds = [
        Bicycle(
            name="Pipwren", tyre=TYRE, standover_mm=500, standover_source=source, frame="level"
        ).standover_sd_mm
        for source in ("measured", "published", "unknown")
    ]
    assert 0 < sds[0] < sds[1] <= sds[2]


def test_a_steeper_bar_makes_the_standover_less_sure():
    sds = [
        Bicycle(
            name="Pipwren", tyre=TYRE, standover_mm=500, top_tube_slope_rad=math.radians(slope)
        ).standover_sd_mm
        for slope in (0, 10, 20)
    ]
    assert sds[0] < sds[1] < sds[2]


def test_a_bar_is_assumed_where_the_frame_is_unknown():
    assert Bicycle(name="Pipwren", tyre=TYRE, standover_mm=500).has_top_tube
    assert not Bicycle(
        name="Pipwren", tyre=TYRE, standover_mm=500, frame="step_through"
    ).has_top_tube


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"name": " "}, "name: wanted a name"),
        ({"standover_mm": math.nan}, "standover_mm: wanted 150 to 1000 mm, found nan"),
        ({"crank_mm": 17.0}, "crank_mm: wanted 60 to 190 mm, found 17 mm"),
        ({"price": -1.0}, "price: wanted 0 to 1e\\+07, found -1"),
        # An angle is read and written in degrees.
        (
            {"seat_tube_angle_rad": math.radians(7.15)},
            "seat_tube_angle_rad: wanted 50 to 85°, found 7.15°",
        ),
        ({"standover_source": "guessed"}, "standover_source: wanted one of .*'guessed'"),
    ],
)
def test_wrong_values_are_refused(values, told):
    with pytest.raises(CatalogueError, match=told):
        Bicycle(**{"name": "Pipwren", "tyre": TYRE, "standover_mm": 500.0} | values)
