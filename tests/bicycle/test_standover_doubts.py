"""A measured standover is questioned where it cannot well be, and only there."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.bicycle.standover_doubts import standover_doubts
from pose_fit.bicycle.tyre import read_marking

DEMO = read_catalogue(DEMO_CATALOGUE)
TWENTY = Bicycle(
    name="Alder 20",
    tyre=read_marking("47-406"),
    standover_mm=530.0,
    standover_source="published",
    frame="level",
    saddle_min_mm=610.0,
    bottom_bracket_height_mm=260.0,
)


def kinds(bicycle: Bicycle, standover_mm: float, stock=()) -> set[str]:
    return {doubt.kind for doubt in standover_doubts(bicycle, standover_mm, stock)}


@pytest.mark.parametrize("bicycle", DEMO, ids=lambda bicycle: bicycle.name)
def test_no_bicycle_of_the_demo_stock_is_questioned_for_what_it_is(bicycle):
    for standover_mm in (bicycle.standover_mm - 5, bicycle.standover_mm, bicycle.standover_mm + 5):
        assert standover_doubts(bicycle, standover_mm, DEMO) == ()


@pytest.mark.parametrize(
    ("standover_mm", "told"),
    [
        (530.0, set()),
        # A published height may be off by an inch, not by two.
        (553.0, set()),
        (580.0, {"catalogue"}),
        (620.0, {"catalogue", "saddle"}),
        # The tape read in the wrong unit, or the handlebar measured.
        (208.0, {"catalogue", "wheel", "bottom_bracket"}),
        (900.0, {"catalogue", "wheel", "saddle"}),
    ],
)
def test_each_thing_it_disagrees_with_is_told(standover_mm, told):
    assert kinds(TWENTY, standover_mm) == told


def test_a_height_measured_before_is_held_to_more_closely_than_a_published_one():
    assert kinds(TWENTY, 545.0) == set()
    assert kinds(replace(TWENTY, standover_source="measured"), 545.0) == {"catalogue"}


def test_neighbours_speak_only_where_there_are_enough_of_the_kind():
    like = [replace(TWENTY, name=f"Birch {n}", standover_mm=500.0 + 10 * n) for n in range(3)]
    high = replace(TWENTY, standover_mm=590.0)
    assert kinds(high, 590.0, [high, *like]) == {"neighbours"}
    assert kinds(high, 590.0, [high, *like[:2]]) == set()
    other_wheel = [replace(bicycle, tyre=read_marking("47-507")) for bicycle in like]
    no_tube = [replace(bicycle, frame="step_through") for bicycle in like]
    assert kinds(high, 590.0, [high, *other_wheel, *no_tube]) == set()


def test_a_low_step_through_is_nothing_unusual():
    low = replace(TWENTY, frame="step_through", standover_mm=300.0)
    assert kinds(low, 300.0) == set()
    assert kinds(replace(low, frame="sloping"), 300.0) == {"wheel"}


@given(st.floats(150, 1000))
def test_what_is_told_contradicts_the_height(standover_mm):
    for doubt in standover_doubts(TWENTY, standover_mm, DEMO):
        assert not doubt.low_mm <= standover_mm <= doubt.high_mm
