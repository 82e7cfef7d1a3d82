"""The reading that disagrees is told, and only where it can be told."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.inseam.inseam import Inseam
from pose_fit.inseam.odd_one import odd_one_out
from pose_fit.metrology.uncertain import Contribution, UncertainLength


def reading(mean_mm: float, sd_mm: float = 6.0) -> Inseam:
    return Inseam(UncertainLength(mean_mm, (Contribution("repeat", sd_mm),)), "photo")


@pytest.mark.parametrize(
    ("means_mm", "odd"),
    [
        ((600, 603, 598), None),
        ((600, 680, 603), 1),
        ((520, 600, 603, 601), 0),
        # Each unlike each other: which of them errs cannot be told.
        ((500, 600, 700), None),
        # Of two, neither.
        ((600, 700), None),
        ((600,), None),
    ],
)
def test_known_answers(means_mm, odd):
    assert odd_one_out([reading(mean_mm) for mean_mm in means_mm]) == odd


@given(st.floats(400, 800), st.integers(0, 3), st.floats(60, 150))
def test_one_slip_among_equal_readings_is_always_found(mean_mm, place, slip_mm):
    readings = [reading(mean_mm)] * 4
    readings[place] = reading(mean_mm + slip_mm)
    assert odd_one_out(readings) == place
