"""What fitters know of a child with an inseam of 25 to 25 1/2 in, from geometry alone.

A 24 in bicycle is slightly big yet safe; the smallest grown-up's 26 in frame touches; on a 20 in
one the lift is over a foot, which is too small: knees near the handlebar.
"""

import numpy as np
import pytest

from pose_fit.fit.cockpit import Cockpit, cockpit
from pose_fit.fit.judge import judge
from pose_fit.fit.lift import expected_lift
from pose_fit.fit.policy import Rider
from pose_fit.fit.shown import CLEARED
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import UncertainLength
from pose_fit.metrology.units import MM_PER_INCH

from .bikes import DEMO, bare, full

#: Careful tape readings.
SD_MM = 5.0
FOOT_MM = 12 * MM_PER_INCH


def of_size(wheel_class_in, inseam_in):
    bikes = [
        bike
        for bike in DEMO
        if bike.tyre.wheel_class_in == wheel_class_in
        and bike.has_top_tube
        and bike.standover_source == "measured"
    ]
    assert len(bikes) >= 2
    return judge(Inseam.stated(inseam_in * MM_PER_INCH, SD_MM), bikes)


@pytest.mark.parametrize("inseam_in", [25.0, 25.25, 25.5])
def test_a_24_inch_bicycle_is_slightly_big_yet_safe(inseam_in):
    for fit in of_size(24, inseam_in):
        assert fit.probabilities["contact"] < 0.025, fit.bicycle.name
        assert fit.probabilities["cramped"] < 0.025
        assert fit.recommended
        assert fit.shown in ("good", "roomy")
        # Slightly big: the saddle is in the lower half of its travel.
        seat = cockpit(fit.inseam.mean_mm, fit.bicycle)
        assert isinstance(seat, Cockpit)
        assert seat.saddle_mm < np.mean(seat.saddle_range_mm)


@pytest.mark.parametrize("inseam_in", [25.0, 25.25, 25.5])
def test_the_smallest_26_inch_frame_touches(inseam_in):
    smallest = min(of_size(26, inseam_in), key=lambda fit: fit.bicycle.standover_mm)
    assert smallest.verdict == "contact"
    assert smallest.clearance_mm < 0
    assert smallest.shown == "touching"


@pytest.mark.parametrize("inseam_in", [25.0, 25.25, 25.5])
def test_a_20_inch_bicycle_lifts_over_a_foot_and_is_too_small(inseam_in):
    for fit in of_size(20, inseam_in):
        assert fit.verdict == "cramped", fit.bicycle.name
        assert fit.shown == "outgrown", fit.bicycle.name
        # Nearer to the handlebar than on the bicycles of the right size.
        seat = cockpit(fit.inseam.mean_mm, fit.bicycle)
        assert isinstance(seat, Cockpit)
        for right in of_size(24, inseam_in):
            fitting_seat = cockpit(fit.inseam.mean_mm, right.bicycle)
            assert isinstance(fitting_seat, Cockpit)
            assert seat.knee_gap_mm < fitting_seat.knee_gap_mm - 25
        # The lift is that of the front wheel; whole, it is half a foot.
        whole = expected_lift(fit.inseam, fit.bicycle)
        assert isinstance(whole, UncertainLength)
        assert 0.3 * FOOT_MM < whole.mean_mm < 0.6 * FOOT_MM
        front = expected_lift(fit.inseam, fit.bicycle, lifted="front_wheel")
        if isinstance(front, UncertainLength):  # refused where the tyre's size is ambiguous
            assert front.mean_mm > FOOT_MM


@pytest.mark.parametrize("lift_in", [1.0, 1.25, 1.5])
def test_a_lift_of_an_inch_to_an_inch_and_a_half_is_good(lift_in):
    """The usual test in the shop: lifted until the top tube touches, the tyres are so far up."""
    bike, rider = full(), Rider()
    lift_mm = lift_in * MM_PER_INCH
    inseam = Inseam.stated(bike.standover_mm - rider.soles_mm + lift_mm + 0.1, SD_MM)
    lift = expected_lift(inseam, bike, rider=rider)
    assert isinstance(lift, UncertainLength)
    assert lift.mean_mm == pytest.approx(lift_mm, abs=0.2)
    (fit,) = judge(inseam, (bare(bike.standover_mm),), rider=rider)
    assert fit.verdict == "good"
    assert fit.shown == "good"
    assert fit.probabilities["contact"] < 0.025


@pytest.mark.parametrize("lift_in", [0.0, 0.5])
def test_a_smaller_lift_is_no_good_without_stretching(lift_in):
    bike, rider = full(), Rider()
    inseam = Inseam.stated(bike.standover_mm - rider.soles_mm + lift_in * MM_PER_INCH, SD_MM)
    (fit,) = judge(inseam, (bare(bike.standover_mm),), rider=rider)
    assert not fit.recommended
    assert fit.shown not in CLEARED
