"""Advice for the next picture, from budgets of which it is known what helps."""

from pose_fit.budget_sources import BUDGET_SOURCES
from pose_fit.checks.retake import advice_on, retake_advice
from pose_fit.checks.retake_spanish import ADVICE_ES, advice_es
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.from_tape import inseam_from_tape
from pose_fit.inseam.from_trousers import inseam_from_trousers
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


def test_every_advice_is_there_in_spanish_and_no_other():
    """A sentence that is changed in one place only would be lost in the other language."""
    readings = (
        inseam_from_age(7.0),
        inseam_from_stature(1200.0),
        inseam_from_tape([550.0]),
        inseam_from_trousers(550.0),
    )
    given = {line for reading in readings for line in reading.retake}
    given |= {advice for source in BUDGET_SOURCES if (advice := advice_on(source)) is not None}
    assert given == set(ADVICE_ES)
    assert advice_es("Take the shoes off.") is None
