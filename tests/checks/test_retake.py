"""Advice for the next picture, from budgets of which it is known what helps."""

from pose_fit.checks.retake import retake_advice
from pose_fit.metrology.uncertain import Contribution, UncertainLength


def advice_for(*lines: tuple[str, float], legwear=None) -> tuple[str, ...]:
    budget = tuple(Contribution(source, sd_mm) for source, sd_mm in lines)
    return retake_advice(UncertainLength(550.0, budget), legwear=legwear)


def test_the_largest_sources_come_first_and_small_ones_are_left_out():
    first, second = advice_for(("focal length", 9.0), ("shoe soles", 8.0), ("posture", 1.0))
    assert "original picture file" in first
    assert "barefoot" in second


def test_three_things_at_most():
    sources = ("focal length", "shoe soles", "posture", "lens", "floor")
    assert len(advice_for(*((source, 5.0) for source in sources))) == 3


def test_who_wears_snug_legwear_is_not_told_to():
    lines = (("clothing", 9.0), ("shoe soles", 4.0))
    assert "close-fitting" in advice_for(*lines)[0]
    assert not any("close-fitting" in line for line in advice_for(*lines, legwear="snug"))
