"""The present that is the most robust: known answers, and never an unsafe one."""

import pytest

from pose_fit.fit.choice import choose, rank
from pose_fit.fit.judge import judge
from pose_fit.fit.robust import first_kind, most_robust, rank_presents, robust_of_each_kind
from pose_fit.inseam.inseam import Inseam

from .bikes import DEMO, full


def bicycle(name, standover_mm, highest_mm):
    return full(
        name=name,
        standover_mm=standover_mm,
        saddle_min_mm=standover_mm + 20,
        saddle_max_mm=highest_mm,
        crank_mm=127.0,
        bottom_bracket_height_mm=230.0,
    )


def test_the_most_robust_present_is_the_safe_one_likeliest_to_fit():
    inseam = Inseam.stated(600, 25)
    low, middle, high = (
        bicycle("Low", 470, 640),
        bicycle("Middle", 500, 760),
        bicycle("High", 580, 820),
    )
    fits = judge(inseam, [low, middle, high])
    robust = most_robust(fits)
    assert robust.fit.bicycle.name == "Middle"
    assert robust.fit.probabilities["contact"] <= 0.025
    assert robust.smaller.bicycle.name == "Low"
    assert robust.larger.bicycle.name == "High"
    assert robust.too_big + robust.too_small + robust.fit.fitting == pytest.approx(1, abs=0.02)


def test_nothing_unsafe_is_ever_the_most_robust():
    for mean_mm in range(350, 850, 25):
        for sd_mm in (10, 30, 50):
            robust = most_robust(judge(Inseam.stated(mean_mm, sd_mm), DEMO))
            if robust is not None:
                assert robust.fit.recommended
                assert robust.fit.probabilities["contact"] <= 0.025


@pytest.mark.parametrize("kind", ["pedals", "balance"])
def test_presents_have_one_order_that_begins_with_the_most_robust(kind):
    """So that the answer, the table and the card name the same bicycle."""
    for mean_mm in range(350, 850, 25):
        for sd_mm in (10, 30):
            fits = judge(Inseam.stated(mean_mm, sd_mm), DEMO)
            ranked = rank_presents(fits, kind=kind)
            assert set(map(id, ranked)) == set(map(id, fits))
            robust = robust_of_each_kind(fits)[kind]
            if robust is not None:
                assert ranked[0] is robust.fit
                assert choose(fits, order=lambda fits: rank_presents(fits, kind=kind)).best is (
                    robust.fit
                )
            # What may not be given stands as everywhere else.
            given = sum(fit.recommended and fit.bicycle.in_stock is not False for fit in fits)
            left = [fit for fit in rank(fits) if all(fit is not one for one in ranked[:given])]
            assert all(a is b for a, b in zip(ranked[given:], left, strict=True))


def balance(name="Push"):
    """A balance bicycle, whose wide saddle range often fits likelier than any with pedals."""
    return full(
        name=name,
        pedals=False,
        standover_mm=270.0,
        saddle_min_mm=330.0,
        saddle_max_mm=480.0,
        crank_mm=None,
    )


def pedalled(name="Pedals"):
    return full(
        name=name,
        standover_mm=350.0,
        saddle_min_mm=430.0,
        saddle_max_mm=520.0,
        crank_mm=89.0,
        bottom_bracket_height_mm=180.0,
    )


def of_each_kind(*bicycles):
    return robust_of_each_kind(judge(Inseam.stated(430, 15), bicycles))


def test_pedals_are_named_first_from_four_years_on():
    found = of_each_kind(balance(), pedalled())
    assert found["balance"].fit.fitting > found["pedals"].fit.fitting
    assert first_kind(found, age_y=4.5) == "pedals"
    assert first_kind(found, age_y=4.0) == "pedals"
    assert first_kind(found, age_y=3.0) == "balance"
    # Without an age nobody is sent back to pushing.
    assert first_kind(found, age_y=None) == "pedals"


def test_a_balance_bicycle_alone_is_first_only_for_a_small_or_unknown_age():
    found = of_each_kind(balance())
    assert found["pedals"] is None
    assert first_kind(found, age_y=4.5) == "pedals"
    assert first_kind(found, age_y=3.0) == "balance"
    assert first_kind(found, age_y=None) == "balance"


def test_each_kind_is_exchanged_for_its_own_kind():
    found = of_each_kind(balance(), pedalled())
    assert found["pedals"].smaller is None
    assert found["balance"].larger is None
