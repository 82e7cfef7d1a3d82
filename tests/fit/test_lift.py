import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from pose_fit.bicycle.tyre import read_marking
from pose_fit.errors import LengthError
from pose_fit.fit.lift import expected_lift, inseam_from_lift, straddle_mm
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import UncertainLength
from pose_fit.refusal import Refusal

from .bikes import DEMO_BY_NAME, bare, full

RIDER = Rider(soles_mm=15.0, soles_sd_mm=4.0)


def turned(bike, ahead_mm, tilt_rad):
    """Rise of the straddled point and of the front tyre's lowest point, by a rotation matrix."""
    radius = bike.tyre.outside_diameter_mm / 2
    turn = np.array(
        [[math.cos(tilt_rad), -math.sin(tilt_rad)], [math.sin(tilt_rad), math.cos(tilt_rad)]]
    )
    axle = np.array([0.0, radius])
    bar = turn @ (np.array([ahead_mm, bike.standover_mm]) - axle) + axle
    hub = turn @ (np.array([bike.wheelbase_mm, radius]) - axle) + axle
    return bar[1] - bike.standover_mm, hub[1] - radius


@pytest.mark.parametrize("clearance_mm", [5.0, 40.0, 120.0])
def test_front_wheel_lift_by_a_rotation_matrix(clearance_mm):
    bike = DEMO_BY_NAME["Brambit 20"]
    ahead_mm, _ = straddle_mm(bike)
    tilt = brentq(lambda angle: turned(bike, ahead_mm, angle)[0] - clearance_mm, 0, 0.9)
    inseam = Inseam.stated(bike.standover_mm - 15 + clearance_mm, 5.0)
    lift = expected_lift(inseam, bike, lifted="front_wheel", rider=RIDER)
    assert isinstance(lift, UncertainLength)
    assert lift.mean_mm == pytest.approx(turned(bike, ahead_mm, tilt)[1], rel=1e-9)


def test_a_small_lift_is_a_lever():
    """Wheelbase over the place straddled, while the tilt is small."""
    bike = full()
    ahead_mm, _ = straddle_mm(bike)
    lift = expected_lift(
        Inseam.stated(604 - 15 + 1.0, 5.0), bike, lifted="front_wheel", rider=RIDER
    )
    assert isinstance(lift, UncertainLength)
    assert lift.mean_mm == pytest.approx(956 / ahead_mm, rel=0.01)


@given(st.floats(1, 150), st.sampled_from(["whole", "front_wheel"]))
def test_lift_and_inseam_invert(clearance_mm, lifted):
    inseam_mm = 604 - 15 + clearance_mm
    lift = expected_lift(Inseam.stated(inseam_mm, 5.0), full(), lifted=lifted, rider=RIDER)
    assert isinstance(lift, UncertainLength)
    back = inseam_from_lift(lift.mean_mm, full(), lifted=lifted, rider=RIDER)
    assert isinstance(back, Inseam)
    assert back.mean_mm == pytest.approx(inseam_mm)
    assert back.method == "lift"


def test_inseam_from_a_front_lift_against_monte_carlo():
    bike, lift_mm = full(), 160.0
    found = inseam_from_lift(lift_mm, bike, lifted="front_wheel", rider=RIDER)
    assert isinstance(found, Inseam)
    random, draws = np.random.default_rng(3), 200_000
    ahead_mm, ahead_sd_mm = straddle_mm(bike)
    radius_mm = bike.tyre.outside_diameter_mm / 2
    tilt = np.arcsin(random.normal(lift_mm, 8.0, draws) / bike.wheelbase_mm)
    ahead = random.normal(ahead_mm, ahead_sd_mm, draws)
    standover = random.normal(604, bike.standover_sd_mm, draws)
    bar = radius_mm + ahead * np.sin(tilt) + (standover - radius_mm) * np.cos(tilt)
    drawn_mm = bar - random.normal(15, 4, draws)
    assert found.mean_mm == pytest.approx(drawn_mm.mean(), abs=0.5)
    assert found.sd_mm == pytest.approx(drawn_mm.std(), rel=0.03)


def test_expected_front_lift_against_monte_carlo():
    bike = full()
    ahead_mm, ahead_sd_mm = straddle_mm(bike)
    lift = expected_lift(Inseam.stated(669, 5.0), bike, lifted="front_wheel", rider=RIDER)
    assert isinstance(lift, UncertainLength)
    random = np.random.default_rng(4)
    radius_mm, drawn = bike.tyre.outside_diameter_mm / 2, []
    for _ in range(4000):
        standover = random.normal(604, bike.standover_sd_mm)
        rise = random.normal(669, 5) + random.normal(15, 4) - standover
        ahead, above = random.normal(ahead_mm, ahead_sd_mm), standover - radius_mm
        tilt = brentq(
            lambda t, a=ahead, b=above, r=rise: a * math.sin(t) - b * (1 - math.cos(t)) - r,
            -0.3,
            0.9,
        )
        drawn.append(bike.wheelbase_mm * math.sin(tilt))
    assert lift.mean_mm == pytest.approx(np.mean(drawn), rel=0.03)
    assert lift.sd_mm == pytest.approx(np.std(drawn), rel=0.08)


def test_a_touching_bar_is_not_lifted():
    lift = expected_lift(Inseam.stated(500, 5.0), full(), rider=RIDER)
    assert isinstance(lift, UncertainLength)
    assert lift.mean_mm == 0
    nothing = inseam_from_lift(0.0, full(), rider=RIDER)
    assert isinstance(nothing, Refusal)
    assert nothing.reasons[0].code == "top_tube_touches"


def test_a_published_standover_dominates_the_budget():
    inseam = inseam_from_lift(50.0, bare(600.0, standover_source="published"), rider=RIDER)
    assert isinstance(inseam, Inseam)
    assert inseam.length.largest.source == "standover height"
    assert inseam.mean_mm == pytest.approx(600 + 50 - 15)


@pytest.mark.parametrize(
    ("bike", "code"),
    [
        (full(frame="step_through"), "no_top_tube"),
        (bare(), "geometry_missing"),
        (full(tyre=read_marking("24 x 1 3/8")), "geometry_missing"),
        (full(standover_mm=300.0), "top_tube_never_touches"),
    ],
)
def test_where_a_lift_says_nothing(bike, code):
    found = expected_lift(Inseam.stated(700, 5.0), bike, lifted="front_wheel", rider=RIDER)
    assert isinstance(found, Refusal)
    assert found.reasons[0].code == code


def test_a_lift_without_seat_geometry_is_less_sure():
    known = inseam_from_lift(160.0, full(), lifted="front_wheel", rider=RIDER)
    rough = inseam_from_lift(160.0, full(chainstay_mm=None), lifted="front_wheel", rider=RIDER)
    assert isinstance(known, Inseam)
    assert isinstance(rough, Inseam)
    assert rough.sd_mm > known.sd_mm


@pytest.mark.parametrize("lift_mm", [-1.0, math.nan, math.inf, 2000.0])
def test_impossible_lifts_are_refused(lift_mm):
    for lifted in ("whole", "front_wheel"):
        with pytest.raises(LengthError, match=r"lift_mm: |gives an inseam of"):
            inseam_from_lift(lift_mm, full(), lifted=lifted, rider=RIDER)
