"""Legs and feet behind something, in masks made up for it."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.checks.covered_legs import check_legs_seen, feet_seen_warnings

LEG_PX = 400.0


@pytest.fixture
def seen(photo_of, standing):
    """Shanks that a bright wall parts, and a mask of the whole child."""
    pixels = np.full((1200, 900), 90, np.uint8)
    pixels[700:, 430:470] = 220
    photo = photo_of(pixels)
    return photo, standing(photo, hips_px=(450.0, 600.0), leg_px=LEG_PX, scatter_px=1e-3)


def without(body, top, bottom):
    """The mask without the rows from so far above the ankles to there, in legs."""
    mask = body.mask.copy()
    mask[round(1000 - top * LEG_PX) : round(1000 - bottom * LEG_PX)] = 0
    return replace(body, mask=mask)


def test_legs_that_are_seen_are_fine(seen):
    photo, body = seen
    assert check_legs_seen(photo, body) is None
    assert feet_seen_warnings(photo, body) == ()


@pytest.mark.parametrize(("top", "bottom"), [(0.75, 0.6), (0.55, 0.4), (0.3, 0.2)])
def test_something_before_thighs_knees_or_shanks_hides_the_legs(seen, top, bottom):
    photo, body = seen
    refusal = check_legs_seen(photo, without(body, top, bottom))
    assert refusal is not None
    assert [one.code for one in refusal.reasons] == ["legs_hidden"]


def test_a_crate_before_the_feet_is_told_of(seen):
    photo, body = seen
    hidden = without(body, 0.04, -0.3)
    assert [one.code for one in feet_seen_warnings(photo, hidden)] == ["legs_hidden"]


@pytest.mark.parametrize(("wider", "codes"), [(0.1, []), (0.2, ["legs_hidden"])])
def test_hems_on_the_floor_hide_the_feet(seen, wider, codes):
    photo, body = seen
    marks = ("left_ankle", "left_heel", "left_toe", "right_ankle", "right_heel", "right_toe")
    columns = body.points_px(marks)[:, 0]
    mask = body.mask.copy()
    mask[800:] = 0
    first, last = columns.min() - wider * LEG_PX, columns.max() + wider * LEG_PX
    mask[800:1080, round(first) : round(last)] = 1
    told = feet_seen_warnings(photo, replace(body, mask=mask))
    assert [one.code for one in told] == codes
