import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.bicycle.tyre import read_marking
from pose_fit.fit.choice import Choice, NoneFits, choose, rank, wanted_standover_mm
from pose_fit.fit.choice_words import choice_text
from pose_fit.fit.judge import judge
from pose_fit.fit.policy import Policy, Rider
from pose_fit.fit.shown import UNSETTLED
from pose_fit.inseam.inseam import Inseam

from .bikes import DEMO, bare, full


def stock():
    return (
        full(name="small", standover_mm=500.0, saddle_min_mm=600.0, saddle_max_mm=705.0),
        full(name="right", standover_mm=580.0, saddle_min_mm=660.0, saddle_max_mm=800.0),
        full(name="longer", standover_mm=600.0, saddle_min_mm=680.0, saddle_max_mm=840.0),
        full(name="edge", standover_mm=630.0, saddle_min_mm=700.0, saddle_max_mm=860.0),
        full(
            name="big",
            tyre=read_marking("47-559"),
            standover_mm=660.0,
            saddle_min_mm=740.0,
            saddle_max_mm=900.0,
        ),
    )


def test_the_longest_lasting_of_the_safe_ones():
    choice = choose(judge(Inseam.stated(640, 5.0), stock()))
    assert isinstance(choice, Choice)
    assert choice.best.bicycle.name == "longer"
    assert choice.runner_up.bicycle.name == "right"
    assert choice.next_size.fit.bicycle.name == "big"
    assert choice.next_size.wanted_inseam_mm > 660


def judged_with(*more):
    return judge(Inseam.stated(640, 5.0), (*stock(), *more))


def test_a_larger_bicycle_that_fits_already_is_the_next_size_up():
    """A still larger one would be two sizes up."""
    larger = full(
        name="larger",
        tyre=read_marking("47-559"),
        standover_mm=600.0,
        saddle_min_mm=680.0,
        saddle_max_mm=800.0,
    )
    fits = judged_with(larger)
    choice = choose(fits)
    assert choice.best.bicycle.name == "longer"
    assert choice.next_size.fit.bicycle.name == "larger"
    assert choice.next_size.fit.recommended
    assert "Next size up: larger, which fits already (roomy)." in choice_text(choice)
    second = choose([fit for fit in fits if fit.bicycle.name != "right"])
    assert "Runner-up, and the next size up: larger, roomy." in choice_text(second)
    assert choice_text(second).count("larger, ") == 1


def test_a_child_too_small_for_all_hears_what_will_fit_first():
    choice = choose(judge(Inseam.stated(300, 5.0), [bike for bike in DEMO if bike.pedals]))
    assert isinstance(choice, NoneFits)
    assert choice.settle_first is None
    assert "The first to fit later: " in choice_text(choice)
    assert "Next size up" not in choice_text(choice)


def test_after_a_bicycle_with_pedals_no_balance_bicycle_is_a_size_up():
    push = full(
        name="Push 26",
        pedals=False,
        crank_mm=None,
        tyre=read_marking("47-559"),
        standover_mm=640.0,
        saddle_min_mm=650.0,
        saddle_max_mm=900.0,
    )
    choice = choose(judged_with(push))
    assert choice.best.bicycle.pedals
    assert choice.next_size.fit.bicycle.name == "big"


def test_what_is_not_in_stock_is_ranked_but_not_chosen():
    bikes = [full(name="out", standover_mm=600.0, in_stock=False), stock()[1]]
    fits = judge(Inseam.stated(640, 5.0), bikes)
    assert [fit.recommended for fit in fits] == [True, True]
    choice = choose(fits)
    assert isinstance(choice, Choice)
    assert choice.best.bicycle.name == "right"
    assert choice.runner_up is None


def test_none_fits_says_what_to_look_for():
    inseam, rider = Inseam.stated(470, 5.0), Rider()
    nothing = choose(judge(inseam, stock(), rider=rider))
    assert isinstance(nothing, NoneFits)
    assert not nothing
    low_mm, high_mm = nothing.wanted_standover_mm
    # A bicycle at either end, measured in the shop, would be recommended.
    for standover_mm in (low_mm, high_mm - 1):
        (fit,) = judge(inseam, (bare(standover_mm),), rider=rider)
        assert fit.recommended
    (fit,) = judge(inseam, (bare(high_mm + 1),), rider=rider)
    assert not fit.recommended


@given(st.floats(300, 900), st.floats(2, 40), st.booleans())
def test_the_chosen_is_recommended_and_first(mean_mm, sd_mm, stretch):
    fits = judge(Inseam.stated(mean_mm, sd_mm), DEMO, policy=Policy(stretch=stretch))
    ranked, choice = rank(fits), choose(fits)
    assert sorted(fit.bicycle.name for fit in ranked) == sorted(bike.name for bike in DEMO)
    if isinstance(choice, Choice):
        assert choice.best is ranked[0]
        assert choice.best.recommended
        assert choice.best.probabilities["contact"] <= 0.025
    else:
        assert not any(fit.recommended and fit.bicycle.in_stock for fit in fits)


@given(st.floats(320, 850), st.floats(2, 20))
def test_the_next_size_is_recommended_at_its_inseam_and_not_before(mean_mm, sd_mm):
    choice = choose(judge(Inseam.stated(mean_mm, sd_mm), DEMO))
    if choice.next_size is None:
        return
    bike, wanted_mm = choice.next_size.fit.bicycle, choice.next_size.wanted_inseam_mm
    assert wanted_mm > mean_mm or choice.next_size.fit.recommended
    (before,) = judge(Inseam.stated(wanted_mm - 0.5, sd_mm), (bike,))
    (after,) = judge(Inseam.stated(wanted_mm + 0.5, sd_mm), (bike,))
    assert not before.recommended
    assert after.recommended


def test_no_catalogue_is_no_choice():
    with pytest.raises(ValueError, match="at least one fit"):
        choose(())


def test_a_guessed_range_does_not_beat_a_measured_one():
    """The guess has the longer room to grow in its middle, but not surely."""
    known = full(name="known", saddle_min_mm=660.0, saddle_max_mm=820.0)
    guessed = bare(600.0, name="guessed")
    fits = judge(Inseam.stated(640, 5.0), (guessed, known))
    assert all(fit.recommended for fit in fits)
    assert rank(fits)[0].bicycle.name == "known"


def test_a_beginner_is_not_sent_to_an_unknown_saddle():
    fits = judge(Inseam.stated(640, 5.0), (bare(590.0),), rider=Rider(skill="first_pedals"))
    assert isinstance(choose(fits), NoneFits)


def test_one_measurement_in_the_shop_is_named_before_none_fits():
    bikes = [
        full(name="published", standover_mm=600.0, standover_source="published"),
        full(name="far too big", standover_mm=760.0, saddle_min_mm=800.0, saddle_max_mm=950.0),
    ]
    choice = choose(judge(Inseam.stated(618, 5.0), bikes))
    assert isinstance(choice, NoneFits)
    assert choice.settle_first.bicycle.name == "published"
    text = choice_text(choice)
    assert text.index("First measure its standover height") < text.index("None of the others")


def test_what_only_trying_would_settle_is_named_before_none_fits_too():
    """One that is a hair below the wanted clearance, whatever is measured again."""
    (fit,) = fits = judge(Inseam.stated(609, 1.5), [bare(600.0)])
    assert not fit.recommended
    assert fit.shown == "try with an adult holding it"
    choice = choose(fits)
    assert isinstance(choice, NoneFits)
    assert choice.settle_first is fit
    assert "may fit. First let the child stand over it, feet flat, held." in choice_text(choice)


@given(st.floats(280, 900), st.floats(2, 40), st.booleans())
def test_none_fits_names_what_may_fit_wherever_something_may(mean_mm, sd_mm, stretch):
    fits = judge(Inseam.stated(mean_mm, sd_mm), DEMO, policy=Policy(stretch=stretch))
    choice = choose(fits)
    if isinstance(choice, NoneFits):
        open_ones = [fit for fit in fits if fit.shown in UNSETTLED and fit.bicycle.in_stock]
        assert (choice.settle_first is not None) == bool(open_ones)


def test_a_bicycle_that_fits_but_is_not_in_stock_is_said_so():
    (fit,) = judge(Inseam.stated(640, 5.0), [full(name="gone", standover_mm=600.0, in_stock=False)])
    choice = choose([fit])
    assert isinstance(choice, NoneFits)
    assert choice.not_in_stock is fit
    assert "gone would fit but is not in stock" in choice_text(choice)


def test_as_likely_outgrown_as_not_is_not_recommended():
    """The reported case: outgrown with probability 0.48, "about 0 months", and recommended."""
    bike = full(saddle_max_mm=760.0, saddle_min_mm=620.0, standover_mm=540.0)
    (probe,) = judge(Inseam.stated(640, 5.0), [bike])
    edge_mm = probe.changes.cramped_from_mm
    (fit,) = judge(Inseam.stated(edge_mm - 0.5, 5.0), [bike])
    assert fit.probabilities["cramped"] == pytest.approx(0.48, abs=0.02)
    assert not fit.recommended
    (fit,) = judge(Inseam.stated(edge_mm - 30, 5.0), [bike])
    assert fit.recommended


def test_a_surer_bicycle_stands_before_one_that_lasts_longer():
    fits = judge(Inseam.stated(640, 9.0), DEMO)
    ranked = [fit for fit in rank(fits) if fit.recommended]
    assert [fit.unsure for fit in ranked] == sorted(fit.unsure for fit in ranked)
    assert {fit.unsure for fit in ranked} == {True, False}
    assert max(ranked, key=lambda fit: fit.room_to_grow_mm).unsure


def test_pedals_come_before_a_balance_bicycle():
    """A child whose feet reach from both is not sent back to pushing."""
    ranked = [fit for fit in rank(judge(Inseam.stated(380, 5.0), DEMO)) if fit.recommended]
    pedals = [fit.bicycle.pedals for fit in ranked]
    assert pedals == sorted(pedals, reverse=True)
    assert set(pedals) == {True, False}


def test_the_next_size_is_larger_than_the_one_to_settle_first():
    """Not another bicycle of the same wheels, which would be no size up."""
    choice = choose(judge(Inseam.stated(600, 41.0), DEMO))
    assert isinstance(choice, NoneFits)
    first, following = choice.settle_first.bicycle, choice.next_size.fit.bicycle
    assert following.tyre.wheel_class_in > first.tyre.wheel_class_in


@given(st.floats(400, 850), st.floats(2, 40), st.booleans())
def test_the_standover_to_look_for_needs_no_catalogue(mean_mm, sd_mm, stretch):
    inseam, policy = Inseam.stated(mean_mm, sd_mm), Policy(stretch=stretch)
    low_mm, high_mm = wanted_standover_mm(inseam, policy=policy)
    assert 0 < high_mm - low_mm < 60
    (highest,) = judge(inseam, (bare(high_mm - 0.5),), policy=policy)
    (above,) = judge(inseam, (bare(high_mm + 0.5),), policy=policy)
    assert above.probabilities["contact"] > 0.025 or above.fitting < 0.5
    assert highest.probabilities["contact"] <= 0.025
    assert highest.fitting >= 0.5
