"""Balance bicycles: both feet flat over the saddle range, no crank, no top tube unless there is one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import parse_catalogue
from pose_fit.bicycle.tyre import read_marking
from pose_fit.errors import CatalogueError
from pose_fit.fit.cockpit import cockpit
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam


def balance(**values):
    known = {
        "name": "Pipwren 12 Push",
        "tyre": read_marking("12 1/2 x 2 1/4"),
        "standover_mm": 260.0,
        "standover_source": "measured",
        "pedals": False,
        "saddle_min_mm": 300.0,
        "saddle_max_mm": 420.0,
    }
    return Bicycle(**known | values)


def fit_of(inseam_mm, bike=None, *, sd_mm=4.0, skill="sure", soles_mm=15.0):
    rider = Rider(skill=skill, soles_mm=soles_mm)
    (fit,) = judge(Inseam.stated(inseam_mm, sd_mm), (bike or balance(),), rider=rider)
    return fit


@pytest.mark.parametrize("skill", ["first_pedals", "sure", "off_road"])
def test_370_mm_fits_a_saddle_of_300_to_420(skill):
    """The reported case: it was said to be outgrown."""
    fit = fit_of(370.0, skill=skill)
    assert fit.recommended
    assert fit.shown in ("good", "roomy")
    assert fit.feet == "both feet flat"


@pytest.mark.parametrize(
    ("inseam_mm", "shown"),
    [(270.0, "too big"), (315.0, "good"), (350.0, "roomy"), (480.0, "outgrown")],
)
def test_too_big_good_and_outgrown(inseam_mm, shown):
    assert fit_of(inseam_mm).shown == shown


def test_flat_feet_decide_and_no_clearance_is_asked_for():
    """Inseam and sole against the lowest saddle: straight legs touch, bent ones are wanted."""
    changes = fit_of(370.0).changes
    assert changes.contact_below_mm == pytest.approx(300 - 15)
    assert 0 < changes.good_from_mm - changes.contact_below_mm < 25.4
    assert changes.cramped_by == "saddle"
    assert changes.cramped_from_mm > 420 - 15


def test_a_top_tube_is_cleared_where_there_is_one():
    without, with_tube = balance(standover_mm=350.0), balance(standover_mm=350.0, frame="sloping")
    assert not without.has_top_tube
    assert with_tube.has_top_tube
    assert not fit_of(330.0, with_tube).recommended
    assert fit_of(330.0, without).recommended
    assert fit_of(320.0, with_tube).probabilities["contact"] > 0.9


def test_an_unknown_saddle_is_measured():
    fit = fit_of(370.0, balance(saddle_max_mm=None))
    assert (fit.shown, fit.to_do) == ("measure this bicycle", "measure its highest saddle height")


@given(st.floats(280, 480), st.floats(2, 20))
def test_a_recommended_one_is_reached_with_both_feet(inseam_mm, sd_mm):
    fit = fit_of(inseam_mm, sd_mm=sd_mm)
    if fit.recommended:
        assert inseam_mm + 15 >= 300
        assert fit.feet in ("both feet flat", "tiptoes")


def test_nobody_sits_at_cranks_that_are_not_there():
    refusal = cockpit(370.0, balance())
    assert not refusal
    assert refusal.reasons[0].code == "no_pedals"
    with pytest.raises(CatalogueError, match="without pedals"):
        balance(crank_mm=90.0)


def test_the_catalogue_says_so():
    text = "name,tyre,standover_mm,pedals\nPipwren 12 Push,12 1/2 x 2 1/4,260,no\n"
    (bike,) = parse_catalogue(text, source="shop.csv")
    assert not bike.pedals
