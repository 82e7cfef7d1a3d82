"""Whether the feet reach the ground from the lowest saddle: promised only where it is sure."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.fit.feet import feet_on_ground
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Rider
from pose_fit.inseam.inseam import Inseam

from .bikes import bare, full

ORDER = ("not at the lowest saddle", "perhaps tiptoes", "tiptoes", "both feet flat")


def feet(inseam_mm, *, sd_mm=2.0, saddle_mm=600.0, soles_mm=15.0):
    bike = full(standover_mm=500.0, saddle_min_mm=saddle_mm, saddle_max_mm=760.0)
    rider = Rider(soles_mm=soles_mm)
    (fit,) = judge(Inseam.stated(inseam_mm, sd_mm), (bike,), rider=rider)
    return feet_on_ground(fit)


@pytest.mark.parametrize(
    ("inseam_mm", "reach"),
    [
        # Flat from (600 - 15) / 0.96 = 609 mm, toes from (600 - 15 - 15) / 1.077 = 529 mm; the
        # saddle's own uncertainty of 8.5 mm lies on top.
        (630.0, "both feet flat"),
        (609.0, "tiptoes"),
        (545.0, "tiptoes"),
        (530.0, "perhaps tiptoes"),
        (510.0, "not at the lowest saddle"),
    ],
)
def test_where_the_feet_reach(inseam_mm, reach):
    assert feet(inseam_mm) == reach


def test_an_unknown_saddle_says_nothing():
    (fit,) = judge(Inseam.stated(640.0, 5.0), (bare(),))
    assert fit.feet is None


@given(st.floats(400, 800), st.floats(2, 40), st.floats(0, 100), st.floats(0, 30))
def test_longer_legs_and_thicker_soles_reach_no_less(inseam_mm, sd_mm, more_mm, soles_mm):
    first = ORDER.index(feet(inseam_mm, sd_mm=sd_mm, soles_mm=0.0))
    assert ORDER.index(feet(inseam_mm + more_mm, sd_mm=sd_mm, soles_mm=0.0)) >= first
    assert ORDER.index(feet(inseam_mm, sd_mm=sd_mm, soles_mm=soles_mm)) >= first


@given(st.floats(400, 800), st.floats(2, 20), st.floats(0, 40))
def test_less_certainty_promises_no_more(inseam_mm, sd_mm, wider_mm):
    """Of flat feet and of tiptoes; what is not reached may become unsure."""
    sharp, wide = feet(inseam_mm, sd_mm=sd_mm), feet(inseam_mm, sd_mm=sd_mm + wider_mm)
    if ORDER.index(wide) >= 2:
        assert ORDER.index(sharp) >= ORDER.index(wide)
