"""Drawn children that stand upright or lean, and cameras that are tilted."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.body.body import LANDMARKS, Body
from pose_fit.checks.feet_on_floor import feet_on_floor_warnings
from pose_fit.checks.leaning import leaning_warnings
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_sights import legs_of
from tests.inseam.drawn_child import draw_child

MODEL = error_model()


def drawn(count=12):
    """Children with shoulders over their hips and toes below their ankles."""
    rng = np.random.default_rng(3)
    found = []
    for _ in range(count):
        sights = draw_child(rng, model=MODEL, stance="at wall", pitch_rad=0.3).sights
        passes, leg_px = sights.body.passes_px.copy(), sights.body.leg_px
        for side in ("left", "right"):
            hip = LANDMARKS.index(f"{side}_hip")
            passes[:, LANDMARKS.index(f"{side}_shoulder")] = passes[:, hip] - [0.0, 0.75 * leg_px]
            place = sights.toes[0].points_px[0 if side == "left" else 1]
            passes[:, LANDMARKS.index(f"{side}_toe")] = place
        found.append(replace(sights, body=replace(sights.body, passes_px=passes)))
    return found


def turned(body: Body, lean_deg: float, *, above_hips: bool = False) -> Body:
    """The body turned about its ankles, or its trunk about its hips."""
    lean = np.radians(lean_deg)
    middle = body.hips_px if above_hips else body.ankles_px
    to = np.array([[np.cos(lean), -np.sin(lean)], [np.sin(lean), np.cos(lean)]])
    off = body.passes_px - middle
    moved = middle + off @ to.T
    if above_hips:
        trunk = [LANDMARKS.index(f"{side}_shoulder") for side in ("left", "right")]
        whole = body.passes_px.copy()
        whole[:, trunk] = moved[:, trunk]
        moved = whole
    return replace(body, passes_px=moved)


@pytest.mark.parametrize(
    ("lean_deg", "above_hips", "least", "most"),
    [(0, False, 0.0, 0.1), (11, False, 1.0, 1.0), (-11, False, 1.0, 1.0), (12, True, 0.9, 1.0)],
)
def test_a_body_that_leans_is_told_of(lean_deg, above_hips, least, most):
    told = []
    for sights in drawn():
        body = turned(sights.body, lean_deg, above_hips=above_hips)
        legs = legs_of(sights.plane, body, beside=False, model=MODEL)
        warnings = leaning_warnings(body, sights.plane, legs, sights.reference)
        told.append([one.code for one in warnings] == ["not_upright"])
    assert least <= np.mean(told) <= most


@pytest.mark.parametrize(("up", "least", "most"), [(0.0, 0.0, 0.0), (0.25, 1.0, 1.0)])
def test_feet_as_high_as_the_foot_of_the_wall_are_told_of(up, least, most):
    told = []
    for sights in drawn():
        body = sights.body
        body = replace(body, passes_px=body.passes_px - [0.0, up * body.leg_px])
        legs = legs_of(sights.plane, body, beside=False, model=MODEL)
        warnings = feet_on_floor_warnings(body, sights.plane, legs, sights.wall_bases)
        told.append([one.code for one in warnings] == ["feet_off_floor"])
    assert least <= np.mean(told) <= most


def test_a_wall_whose_foot_is_not_surely_seen_says_nothing():
    sights = drawn(1)[0]
    up = [0.0, 0.25 * sights.body.leg_px]
    body = replace(sights.body, passes_px=sights.body.passes_px - up)
    legs = legs_of(sights.plane, body, beside=False, model=MODEL)
    unsure = tuple(replace(one, weight=0.4) for one in sights.wall_bases)
    assert feet_on_floor_warnings(body, sights.plane, legs, unsure) == ()
    assert feet_on_floor_warnings(body, sights.plane, legs, ()) == ()
