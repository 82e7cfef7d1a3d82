import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.fit.fleet import Fleet
from pose_fit.fit.inseams_of_change import thresholds
from pose_fit.fit.judge import judge
from pose_fit.fit.leg import Leg
from pose_fit.fit.outgrown import KNEE_ROOM_MM
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.saddle import saddle_wanted_mm
from pose_fit.fit.side_view import knee_gap_mm
from pose_fit.inseam.inseam import Inseam

from .bikes import PEDALLED, bare, full

SKILLS = ("first_pedals", "sure", "off_road")


@pytest.mark.parametrize("skill", SKILLS)
def test_a_bicycle_is_outgrown_where_the_wanted_saddle_is_the_highest(skill):
    fleet, rider = Fleet.of(PEDALLED), Rider(skill=skill)
    changes = thresholds(fleet, rider=rider, policy=Policy())
    by_saddle = changes.cramped_by == 1
    assert by_saddle.sum() > 20
    wanted_mm = saddle_wanted_mm(fleet, changes.cramped_from_mm, rider=rider)
    np.testing.assert_allclose(
        wanted_mm[by_saddle], fleet.saddle_max_mm[by_saddle], rtol=0, atol=1e-6
    )


@pytest.mark.parametrize("skill", SKILLS)
def test_knees_meet_where_their_room_ends(skill):
    reaches_mm = (140.0, 170.0, 200.0, 230.0, 260.0, 290.0)
    close = [full(handlebar_reach_mm=reach, handlebar_height_mm=840.0) for reach in reaches_mm]
    fleet, rider = Fleet.of(close), Rider(skill=skill)
    changes = thresholds(fleet, rider=rider, policy=Policy())
    inside = changes.cramped_by == 2
    assert inside.sum() >= 2
    assert (changes.cramped_from_mm > changes.contact_below_mm + 1).all()
    inseam_mm = changes.cramped_from_mm
    saddle_mm = np.clip(
        saddle_wanted_mm(fleet, inseam_mm, rider=rider), fleet.saddle_min_mm, fleet.saddle_max_mm
    )
    gap_mm = knee_gap_mm(fleet, Leg.of_inseam(inseam_mm, rider=rider), saddle_mm=saddle_mm)
    assert gap_mm[inside] == pytest.approx(KNEE_ROOM_MM, abs=0.5)
    assert (gap_mm >= KNEE_ROOM_MM - 0.5).all()


@given(st.floats(380, 860), st.sampled_from(SKILLS))
def test_a_taller_child_wants_a_higher_saddle(inseam_mm, skill):
    fleet, rider = Fleet.of(PEDALLED), Rider(skill=skill)
    low, high = (
        saddle_wanted_mm(fleet, np.array([inseam]), rider=rider)
        for inseam in (inseam_mm, inseam_mm + 1)
    )
    assert (high > low).all()


def test_beginners_want_both_feet_flat_so_a_lower_saddle():
    fleet = Fleet.of((full(),))
    flat, toes = (
        saddle_wanted_mm(fleet, np.array([640.0]), rider=Rider(skill=skill, soles_mm=15.0))[0]
        for skill in ("first_pedals", "sure")
    )
    assert flat == pytest.approx(0.96 * 640 + 15)
    assert flat < 640 + 15 < toes


def test_a_lowest_saddle_out_of_reach_keeps_a_bicycle_from_fitting():
    rider = Rider(skill="first_pedals")
    low, high = full(name="low", saddle_min_mm=600.0), full(name="high", saddle_min_mm=760.0)
    fits = judge(Inseam.stated(650, 3.0), (low, high), rider=rider)
    assert [fit.recommended for fit in fits] == [True, False]
    assert fits[1].verdict == "tight"


def test_step_through_frames_are_judged_by_their_saddle():
    low = full(frame="step_through", standover_mm=380.0, saddle_min_mm=600.0)
    high = full(frame="step_through", standover_mm=380.0, saddle_min_mm=800.0)
    fits = judge(Inseam.stated(620, 3.0), (low, high))
    assert fits[0].recommended
    assert fits[1].verdict == "contact"
    assert fits[1].clearance_mm > 200


@pytest.mark.parametrize(
    "unknown",
    [
        {"saddle_min_mm": None, "saddle_max_mm": None},
        {"saddle_min_mm": None},
        {"saddle_max_mm": None, "handlebar_reach_mm": None},
    ],
)
def test_a_step_through_frame_without_saddle_heights_is_never_called_fitting(unknown):
    bike = full(frame="step_through", standover_mm=380.0, **unknown)
    for inseam_mm in range(360, 900, 20):
        (fit,) = judge(Inseam.stated(inseam_mm, 1.0), (bike,))
        assert not fit.recommended
        assert not fit.changes.judged


def test_missing_geometry_lowers_what_is_claimed():
    inseam = Inseam.stated(700, 3.0)
    known, guessed = judge(inseam, (full(saddle_max_mm=770.0), bare(604.0)))
    assert (known.changes.cramped_by, guessed.changes.cramped_by) == ("saddle", "lift")
    assert guessed.changes.cramped_sd_mm > 3 * known.changes.cramped_sd_mm
