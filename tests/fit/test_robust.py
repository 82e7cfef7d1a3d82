"""The present that is the most robust: known answers, and never an unsafe one."""

import pytest

from pose_fit.fit.judge import judge
from pose_fit.fit.robust import most_robust
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
