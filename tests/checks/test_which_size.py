"""Weights of sizes whose evidence is written down here, and what becomes of the length."""

import numpy as np
import pytest

from pose_fit.checks.which_size import (
    WHICH_SIZE,
    SizeWeight,
    check_size,
    size_warnings,
    with_sizes,
)
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.reference.reference import PointReference
from pose_fit.reference.size_hypotheses import SizeHypothesis

LENGTH = UncertainLength(600.0, (Contribution("posture", 15.0),))


def sizes(*others: tuple[float, float]) -> list[SizeWeight]:
    """The stated size at 600 mm, and others by inseam and weight."""
    points = np.array([[0.0, 0], [1, 1]])
    reference = PointReference("length", "wall", points, points, 1.0, 0.1, 0.1)
    left = 1 - sum(weight for _, weight in others)
    return [
        SizeWeight(SizeHypothesis(reference, 1.0, f"size {place}", f"tell {place}"), mm, weight)
        for place, (mm, weight) in enumerate([(600.0, left), *others])
    ]


@pytest.mark.parametrize(
    ("others", "refused"),
    [
        ([(640.0, 0.02)], False),
        ([(640.0, 0.45)], True),
        ([(640.0, 0.99)], True),
        ([(605.0, 0.45)], False),
        ([(640.0, 0.15), (560.0, 0.15)], False),
    ],
    ids=["unlikely", "as likely", "likelier", "another that says the same", "two unlikely ones"],
)
def test_another_size_that_is_as_likely_is_a_question(others, refused):
    refusal = check_size(sizes(*others), LENGTH)
    assert (refusal is not None) == refused
    if refusal is not None:
        assert [reason.code for reason in refusal.reasons] == ["size_unsure"]
        assert "tell 0" in refusal.remedies[0]
        assert "tell 1" in refusal.remedies[0]


def test_the_question_says_which_one_it_looks_like():
    likelier, as_likely = (check_size(sizes((640.0, weight)), LENGTH) for weight in (0.99, 0.45))
    assert "looks like size 1 rather than size 0" in str(likelier)
    assert "may be size 1 as well as size 0" in str(as_likely)


def line_mm(length) -> float:
    return next((one.sd_mm for one in length.budget if one.source == WHICH_SIZE), 0.0)


def test_the_rest_of_the_weight_stands_in_the_budget():
    """Second moment about the stated size, by hand: 0.010 x 40^2 + 0.005 x 60^2 = 34."""
    wider = with_sizes(LENGTH, sizes((640.0, 0.010), (540.0, 0.005)))
    assert line_mm(wider) == pytest.approx(34**0.5, rel=0.02)
    assert next(one for one in wider.budget if one.source == WHICH_SIZE).shared
    assert wider.mean_mm == LENGTH.mean_mm
    assert wider.sd_mm == pytest.approx((15**2 + line_mm(wider) ** 2) ** 0.5)


@pytest.mark.parametrize("other", [(520.0, 0.06), (680.0, 0.06), (560.0, 0.2)])
def test_the_interval_reaches_as_far_as_that_of_all_sizes_together(other):
    """Drawn from the mixture, no more than 2.5 % lie beyond either end."""
    wider = with_sizes(LENGTH, sizes(other))
    rng = np.random.default_rng(3)
    is_other = rng.random(200_000) < other[1]
    drawn_mm = rng.normal(np.where(is_other, other[0], 600.0), 15.0)
    low_mm, high_mm = wider.interval95_mm
    tails = np.array([(drawn_mm < low_mm).mean(), (drawn_mm > high_mm).mean()])
    assert tails.max() == pytest.approx(0.025, abs=0.002)


def test_one_size_alone_adds_nothing():
    assert with_sizes(LENGTH, sizes()) == LENGTH
    assert check_size(sizes(), LENGTH) is None
    assert size_warnings(sizes(), LENGTH) == ()


@pytest.mark.parametrize(
    ("other", "told"), [((640.0, 0.03), True), ((640.0, 0.001), False), ((606.0, 0.03), False)]
)
def test_it_is_told_what_the_picture_does_not_show(other, told):
    warnings = size_warnings(sizes(other), LENGTH)
    assert [one.code for one in warnings] == (["size_on_trust"] if told else [])
