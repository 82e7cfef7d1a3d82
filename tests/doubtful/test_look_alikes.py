"""The look-alikes can be drawn, each differs from all others, and each says what it is.

What the program says of them is in `calibration/results/look_alikes.md`: those of the second trial
are scored there once and must not be looked at by a test.
"""

from collections import Counter
from functools import cache

import numpy as np
import pytest

from calibration.doubtful.cases import base_of
from calibration.doubtful.look_alikes.every import LOOK_ALIKES
from calibration.doubtful.look_alikes.look_alike import LookAlike
from calibration.doubtful.look_alikes.report import picture_of
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest

SECOND_TRIAL = [case for case in LOOK_ALIKES if case.score_set == "second trial"]
THIRD_TRIAL = [case for case in LOOK_ALIKES if case.score_set.startswith("third trial")]


@cache
def drawn(name: str) -> tuple[Photo, ReferenceRequest]:
    return picture_of(next(case for case in LOOK_ALIKES if case.name == name), pose_model())


def test_every_look_alike_has_a_name_of_its_own() -> None:
    counted = Counter(case.name for case in LOOK_ALIKES)
    assert [name for name, count in counted.items() if count > 1 or not name.strip()] == []


def test_the_second_trial_is_as_large_as_promised_and_says_what_may_be_said() -> None:
    assert len(SECOND_TRIAL) == 36
    assert all(case.may_say is not None for case in SECOND_TRIAL)


def test_the_third_trial_is_split_in_equal_halves_and_says_what_may_be_said() -> None:
    halves = Counter(case.score_set for case in THIRD_TRIAL)
    assert len(halves) == 2
    assert len(set(halves.values())) == 1
    assert all(case.may_say is not None for case in THIRD_TRIAL)


@pytest.mark.parametrize("case", SECOND_TRIAL + THIRD_TRIAL, ids=lambda case: case.name)
def test_a_look_alike_is_drawn(case: LookAlike) -> None:
    photo, request = drawn(case.name)
    before, question = base_of(case.base)
    assert photo.pixels.dtype == np.uint8
    assert photo.pixels.shape == (photo.height_px, photo.width_px, 3)
    changed = not np.array_equal(photo.pixels, before.pixels)
    assert changed or request != question.request
    for x_px, y_px in request.points_px or ():
        assert 0 <= x_px < photo.width_px
        assert 0 <= y_px < photo.height_px


def test_no_two_look_alikes_of_the_last_trials_are_the_same() -> None:
    seen = set[tuple[bytes, object]]()
    for case in SECOND_TRIAL + THIRD_TRIAL:
        photo, request = drawn(case.name)
        seen.add((photo.pixels.tobytes(), request))
    assert len(seen) == len(SECOND_TRIAL) + len(THIRD_TRIAL)


@pytest.mark.parametrize("case", THIRD_TRIAL, ids=lambda case: case.name)
def test_a_look_alike_is_drawn_the_same_again(case: LookAlike) -> None:
    photo, request = picture_of(case, pose_model())
    assert np.array_equal(photo.pixels, drawn(case.name)[0].pixels)
    assert request == drawn(case.name)[1]
