"""Looks of drawn people: the clothes' colours and the body's proportions, whatever the size."""

import numpy as np
import pytest

from pose_fit.body.looks import are_unlike, looks_of

SIZE_PX = (900, 1200)
RED, BLUE, GREY = (170, 40, 40), (40, 60, 160), (120, 120, 120)


@pytest.fixture
def looks(photo_of, standing):
    """Looks of a child drawn in a shirt and legwear of plain colours."""

    def make(shirt, legwear, *, leg_px=400.0, moved=None, light=1.0):
        hips_px = (450.0, 600.0)
        pixels = np.full((*SIZE_PX[::-1], 3), 210, np.uint8)
        pixels[: int(hips_px[1])] = shirt
        pixels[int(hips_px[1]) :] = legwear
        photo = photo_of((pixels * light).astype(np.uint8))
        return looks_of(photo, standing(photo, hips_px=hips_px, leg_px=leg_px, moved=moved))

    return make


def test_another_size_or_light_is_the_same_child(looks):
    one = looks(RED, BLUE)
    assert not are_unlike(one, looks(RED, BLUE, leg_px=250.0), on_one_day=True)
    assert not are_unlike(one, looks(RED, BLUE, light=0.8), on_one_day=True)


@pytest.mark.parametrize("clothes", [(BLUE, BLUE), (RED, RED), (GREY, BLUE)])
def test_other_clothes_tell_two_children_on_one_day_only(looks, clothes):
    one, other = looks(RED, BLUE), looks(*clothes)
    assert are_unlike(one, other, on_one_day=True)
    assert not are_unlike(one, other, on_one_day=False)


def test_another_body_tells_two_children_on_any_day(looks):
    long_trunk = {"left_shoulder": (0.22, -1.0), "right_shoulder": (-0.22, -1.0)}
    high_eyes = {"left_eye": (0.04, -1.3), "right_eye": (-0.04, -1.3)}
    other = looks(RED, BLUE, moved=long_trunk | high_eyes)
    assert are_unlike(looks(RED, BLUE), other, on_one_day=False)
