"""Feet of drawn children, level or lifted, and a turn that makes one look higher."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Body
from pose_fit.checks.feet_level import feet_level_warnings
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from tests.inseam.drawn_child import draw_child

MODEL = error_model()
LEFT_FOOT = [LANDMARKS.index(mark) for mark in ("left_ankle", "left_heel", "left_toe")]
HIPS = [LANDMARKS.index(mark) for mark in ("left_hip", "right_hip")]


def drawn(count: int) -> list[PhotoSights]:
    """Children with heels and toes below their ankles, which the drawing scatters a little."""
    rng = np.random.default_rng(11)
    found = []
    for _ in range(count):
        sights = draw_child(rng, model=MODEL, stance="at wall", pitch_rad=0.35).sights
        passes = sights.body.passes_px.copy()
        for side in ("left", "right"):
            ankle, heel, toe = (
                LANDMARKS.index(f"{side}_{mark}") for mark in ("ankle", "heel", "toe")
            )
            passes[:, heel] = passes[:, ankle] + [0.0, 0.04 * sights.body.leg_px]
            passes[:, toe] = passes[:, ankle] + [0.0, 0.12 * sights.body.leg_px]
        found.append(replace(sights, body=replace(sights.body, passes_px=passes)))
    return found


def codes(sights: PhotoSights, *, lifted: float = 0.0, turn_rad: float = 0.0) -> list[str]:
    """What is told with the left foot this much higher in the picture, in legs."""
    body, up = sights.body, np.array([0.0, lifted * sights.body.leg_px])
    passes = body.passes_px.copy()
    passes[:, LEFT_FOOT] -= up
    world_m = np.zeros((len(LANDMARKS), 3))
    side = 0.1 * np.array([np.cos(turn_rad), 0.0, np.sin(turn_rad)])
    world_m[HIPS] = side, -side
    body = Body(passes, body.visibility, body.mask, (), world_m)
    toes_px = body.points_px(("left_toe", "right_toe"))
    toes = (replace(sights.toes[0], points_px=toes_px, weight=0.95),)
    legs = legs_of(sights.plane, body, beside=False, model=MODEL)
    return [notice.code for notice in feet_level_warnings(body, sights.plane, legs, toes)]


@pytest.mark.parametrize(("lifted", "least", "most"), [(0.0, 0.0, 0.2), (0.06, 0.85, 1.0)])
def test_a_lifted_foot_is_told(lifted, least, most):
    told = [bool(codes(sights, lifted=lifted)) for sights in drawn(40)]
    assert least <= np.mean(told) <= most


def test_a_foot_farther_back_under_a_turned_body_is_not_told():
    sights = drawn(20)
    turned = 0.35
    # Feet a quarter of a leg or so apart.
    looks_higher = 0.28 * np.sin(turned) * np.tan(0.35)
    with_turn = [bool(codes(one, lifted=looks_higher + 0.02, turn_rad=turned)) for one in sights]
    without = [bool(codes(one, lifted=looks_higher + 0.02)) for one in sights]
    assert np.mean(with_turn) < np.mean(without)


def test_a_clicked_floor_says_nothing_of_the_feet():
    one = drawn(1)[0]
    legs = legs_of(one.plane, one.body, beside=False, model=MODEL)
    clicked = (replace(one.toes[0], weight=1.0, is_clicked=True),)
    level = feet_level_warnings(one.body, one.plane, legs, ())
    assert feet_level_warnings(one.body, one.plane, legs, clicked) == level
