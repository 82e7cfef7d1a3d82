import math

import numpy as np
import pytest

from calibration.score.several_photos import (
    by_count,
    children_of,
    parts_claimed,
    parts_seen,
    simulated_children,
)
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from tests.calibration.scored_photos import scored_photo


def _length(mean_mm, *, own_mm, shared_mm):
    lines = (Contribution("pose landmarks", own_mm), Contribution("clothing", shared_mm, True))
    return UncertainLength(mean_mm, lines)


def _children(*, own_mm, shared_mm, photos, count, seed=4):
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        common = rng.normal(0, shared_mm)
        lengths = tuple(
            _length(600 + common + rng.normal(0, own_mm), own_mm=own_mm, shared_mm=shared_mm)
            for _ in range(photos)
        )
        made.append((600.0, lengths))
    return made


def test_photos_of_one_scene_are_one_child():
    items = [
        scored_photo(index=2, photo_of_child=0, error_mm=1.0),
        scored_photo(index=3, photo_of_child=0, inseam_mm=550.0),
        scored_photo(index=2, photo_of_child=1, error_mm=3.0),
    ]
    first, second = children_of(items)
    assert first[0] == 500.0
    assert [length.mean_mm for length in first[1]] == [501.0, 503.0]
    assert second[0] == 550.0


def test_random_parts_average_and_shared_parts_stay():
    children = _children(own_mm=12.0, shared_mm=5.0, photos=4, count=600)
    counts = by_count(children)
    assert [one.photos for one in counts] == [1, 2, 3, 4]
    for one in counts:
        expected = math.hypot(5.0, 12.0 / math.sqrt(one.photos))
        assert one.metrics.sd_mm == pytest.approx(expected, rel=0.08)
        assert one.children == 600


def test_analysis_of_variance_finds_both_parts():
    children = _children(own_mm=12.0, shared_mm=5.0, photos=4, count=1500)
    parts = parts_seen(children)
    assert parts is not None
    assert parts.own_mm == pytest.approx(12.0, rel=0.05)
    assert parts.shared_mm == pytest.approx(5.0, rel=0.1)


def test_nothing_shared_is_not_negative():
    # Errors of +a and -a in each child: the children's means are equal.
    children = [(600.0, tuple(_length(600 + e, own_mm=1, shared_mm=1) for e in (-5, 5)))] * 4
    parts = parts_seen(children)
    assert parts is not None
    assert parts.shared_mm == 0.0
    assert parts.own_mm == pytest.approx(math.sqrt(50))


def test_one_photo_each_says_nothing_of_the_parts():
    assert parts_seen(_children(own_mm=1, shared_mm=1, photos=1, count=9)) is None


def test_claimed_parts_are_the_budgets():
    parts = parts_claimed(_children(own_mm=7.0, shared_mm=3.0, photos=2, count=3))
    assert (parts.own_mm, parts.shared_mm) == pytest.approx((7.0, 3.0))


def test_simulated_children_err_as_the_budget_says():
    item = scored_photo(budget={"pose landmarks": 9.0, "clothing": 4.0}, shared=("clothing",))
    children = simulated_children([item], photos=3, draws=1500, seed=2)
    parts = parts_seen(children)
    assert parts is not None
    assert parts.own_mm == pytest.approx(9.0, rel=0.05)
    assert parts.shared_mm == pytest.approx(4.0, rel=0.15)
