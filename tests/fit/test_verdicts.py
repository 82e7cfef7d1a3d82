"""Probabilities of the verdicts: known answers, Monte Carlo, and what must hold for any child."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.fit.fleet import Fleet
from pose_fit.fit.inseams_of_change import thresholds
from pose_fit.fit.judge import judge
from pose_fit.fit.outgrown import BY_SADDLE
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.verdicts import VERDICTS, judge_many
from pose_fit.inseam.inseam import Inseam

from .bikes import DEMO, bare, full

SKILLS = ("first_pedals", "sure", "off_road")
INSEAMS = st.floats(300, 900)
SDS = st.floats(1, 60)
RIDERS = st.builds(Rider, skill=st.sampled_from(SKILLS), soles_mm=st.floats(0, 40))
POLICIES = st.builds(
    Policy, stretch=st.booleans(), max_contact_risk=st.sampled_from([0.001, 0.025, 0.2])
)
#: The whole demo stock, and bicycles of which less is known.
STOCK = (
    *DEMO,
    bare(),
    bare(frame="step_through", standover_mm=400.0),
    bare(frame="unknown", standover_source="published"),
    bare(saddle_min_mm=640.0),
    full(saddle_max_mm=700.0, standover_mm=720.0),
    full(handlebar_reach_mm=120.0, handlebar_height_mm=800.0),
)
FLEET = Fleet.of(STOCK)


def judged(mean_mm, sd_mm, rider, policy, fleet=FLEET):
    return judge_many(mean_mm, sd_mm, thresholds(fleet, rider=rider, policy=policy), policy=policy)


@pytest.mark.parametrize(
    ("clearance_mm", "verdict"),
    [
        (-1.0, "contact"),
        (1.0, "tight"),
        # 16 CFR 1512.19(c): no less than one inch between top tube and crotch.
        (25.3, "tight"),
        (25.5, "good"),
        (50.7, "good"),
        (50.9, "roomy"),
    ],
)
def test_zones_of_clearance(clearance_mm, verdict):
    rider = Rider(soles_mm=15.0)
    (fit,) = judge(Inseam.stated(600 - 15 + clearance_mm, 0.01), (bare(600.0),), rider=rider)
    assert fit.clearance_mm == pytest.approx(clearance_mm)
    changes = fit.changes
    edges = (changes.contact_below_mm, changes.good_from_mm, changes.roomy_from_mm)
    assert VERDICTS[sum(fit.inseam.mean_mm > edge for edge in edges)] == verdict


def test_off_road_wants_two_inches():
    sure, off_road = (
        judge(Inseam.stated(630, 1.0), (bare(600.0),), rider=Rider(skill=skill, soles_mm=10.0))[0]
        for skill in ("sure", "off_road")
    )
    assert (sure.verdict, off_road.verdict) == ("good", "tight")


def test_against_monte_carlo():
    """JCGM 101: draw inseam, sole, standover and the saddle's limit, and count verdicts."""
    draws = 400_000
    random = np.random.default_rng(20)
    rider, bike = Rider(soles_mm=15.0, soles_sd_mm=4.0), bare(600.0, standover_source="published")
    inseam_mm = random.normal(612, 14, draws)
    clearance_mm = inseam_mm + random.normal(15, 4, draws) - random.normal(600, 15, draws)
    counted = [
        np.mean(clearance_mm <= 0),
        np.mean((clearance_mm > 0) & (clearance_mm <= 25.4)),
        np.mean((clearance_mm > 25.4) & (clearance_mm <= 50.8)),
    ]
    (fit,) = judge(Inseam.stated(612, 14), (bike,), rider=rider)
    found = [fit.probabilities[verdict] for verdict in ("contact", "tight", "good")]
    assert found == pytest.approx(counted, abs=0.003)


@given(INSEAMS, SDS, RIDERS, POLICIES)
def test_probabilities_are_shares_of_one(mean_mm, sd_mm, rider, policy):
    found = judged(mean_mm, sd_mm, rider, policy)
    assert found.probabilities.min() >= 0
    assert found.probabilities.sum(axis=0) == pytest.approx(1.0, abs=1e-12)
    assert found.fitting.min() >= 0
    assert found.fitting.max() <= 1


@given(INSEAMS, SDS, st.floats(0, 100), RIDERS, POLICIES)
def test_more_inseam_never_makes_contact_likelier_nor_cramped_less(
    mean_mm, sd_mm, more_mm, rider, policy
):
    short, long = (judged(mean, sd_mm, rider, policy) for mean in (mean_mm, mean_mm + more_mm))
    assert (long.probabilities[0] <= short.probabilities[0]).all()
    assert (long.probabilities[-1] >= short.probabilities[-1]).all()


@given(INSEAMS, SDS, st.floats(0, 100), RIDERS, POLICIES)
def test_a_higher_top_tube_never_makes_contact_less_nor_a_fit_likelier(
    mean_mm, sd_mm, higher_mm, rider, policy
):
    low, high = (
        judged(mean_mm, sd_mm, rider, policy, dataclasses.replace(FLEET, standover_mm=standover_mm))
        for standover_mm in (FLEET.standover_mm, FLEET.standover_mm + higher_mm)
    )
    tube = FLEET.has_top_tube
    assert (high.probabilities[0] >= low.probabilities[0])[:, tube].all()
    # Elsewhere too small hangs on the tube: it is guessed from it, or searched for from contact on.
    by_saddle = tube & (thresholds(FLEET, rider=rider, policy=policy).cramped_by == BY_SADDLE)
    assert (high.fitting <= low.fitting + 1e-9)[:, by_saddle].all()


@given(INSEAMS, SDS, st.floats(0, 30), st.sampled_from(SKILLS), POLICIES)
def test_thicker_soles_never_make_contact_likelier(mean_mm, sd_mm, thicker_mm, skill, policy):
    thin, thick = (
        judged(mean_mm, sd_mm, Rider(skill=skill, soles_mm=soles_mm), policy)
        for soles_mm in (5.0, 5.0 + thicker_mm)
    )
    assert (thick.probabilities[0] <= thin.probabilities[0]).all()


@given(INSEAMS, SDS, st.floats(0, 100), RIDERS, POLICIES)
def test_a_higher_lowest_saddle_never_makes_a_fit_likelier(
    mean_mm, sd_mm, higher_mm, rider, policy
):
    low, high = (
        judged(mean_mm, sd_mm, rider, policy, dataclasses.replace(FLEET, saddle_min_mm=saddle_mm))
        for saddle_mm in (FLEET.saddle_min_mm, FLEET.saddle_min_mm + higher_mm)
    )
    known = np.isfinite(FLEET.saddle_min_mm) & np.isfinite(FLEET.saddle_max_mm)
    assert (high.fitting <= low.fitting + 1e-9)[:, known].all()


@given(INSEAMS, SDS, st.floats(0, 100), RIDERS, POLICIES)
def test_wider_uncertainty_never_makes_a_recommendation_bolder(
    mean_mm, sd_mm, wider_mm, rider, policy
):
    sharp, wide = (judged(mean_mm, sd, rider, policy) for sd in (sd_mm, sd_mm + wider_mm))
    assert not (wide.recommended & ~sharp.recommended).any()


@given(INSEAMS, SDS, RIDERS)
def test_a_less_sure_standover_never_makes_a_recommendation_bolder(mean_mm, sd_mm, rider):
    measured = Fleet.of([bare(size) for size in range(300, 900, 20)])
    published = Fleet.of([bare(size, standover_source="published") for size in range(300, 900, 20)])
    policy = Policy()
    sharp = judged(mean_mm, sd_mm, rider, policy, measured)
    wide = judged(mean_mm, sd_mm, rider, policy, published)
    assert not (wide.recommended & ~sharp.recommended).any()


@given(INSEAMS, SDS, RIDERS, POLICIES)
def test_no_recommendation_beyond_the_allowed_risk(mean_mm, sd_mm, rider, policy):
    found = judged(mean_mm, sd_mm, rider, policy)
    assert (found.probabilities[0][found.recommended] <= policy.max_contact_risk).all()
    assert (found.fitting[found.recommended] >= 0.5).all()
    # Whatever is likely to fit and is not recommended is told as unsure.
    assert found.unsure[~found.recommended & (found.fitting > 0.5)].all()


@given(INSEAMS, SDS, RIDERS)
def test_stretching_recommends_more_but_never_more_contact(mean_mm, sd_mm, rider):
    plain = judged(mean_mm, sd_mm, rider, Policy())
    stretched = judged(mean_mm, sd_mm, rider, Policy(stretch=True))
    assert (stretched.recommended | ~plain.recommended).all()
    assert (stretched.probabilities[0][stretched.recommended] <= 0.025).all()
    np.testing.assert_array_equal(stretched.probabilities, plain.probabilities)


def test_a_stretching_family_gets_a_tight_bicycle_that_is_surely_clear():
    inseam = Inseam.stated(605, 4.0)
    (plain,) = judge(inseam, (bare(600.0),))
    (stretched,) = judge(inseam, (bare(600.0),), policy=Policy(stretch=True))
    assert plain.verdict == stretched.verdict == "tight"
    assert (plain.recommended, stretched.recommended) == (False, True)


@given(INSEAMS, SDS, RIDERS, POLICIES)
def test_many_children_at_once_is_each_child_alone(mean_mm, sd_mm, rider, policy):
    means, sds = np.array([mean_mm, 500.0, 640.0]), np.array([sd_mm, 7.0, 7.0])
    together = judged(means, sds, rider, policy)
    assert together.probabilities.shape == (5, 3, len(STOCK))
    alone = judged(mean_mm, sd_mm, rider, policy)
    np.testing.assert_array_equal(together.probabilities[:, 0], alone.probabilities[:, 0])


@pytest.mark.parametrize(("mean_mm", "sd_mm"), [(np.nan, 5.0), (600.0, 0.0), (600.0, np.inf)])
def test_unknown_uncertainty_is_refused(mean_mm, sd_mm):
    with pytest.raises(ValueError, match="wanted finite inseams and sd above 0"):
        judged(mean_mm, sd_mm, Rider(), Policy())
