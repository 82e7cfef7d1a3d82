"""The heels are asked about before the answer only where they would change the advice."""

import pytest

from pose_fit.app.family import heels_matter
from pose_fit.app.family.heels_matter import with_heels_where_they_matter
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import SaidOfShot, Shot
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.photo import read_photo
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests.samples import heels_open


def measured(shot: Shot, *, heels_down: bool) -> Outcome:
    task = PhotoTask(stated=Stated(heels_down=heels_down))
    return Outcome(shot, task, measure_photo(shot.photo, task, pose=pose_model()))


@pytest.fixture
def said(monkeypatch) -> SaidOfShot:
    """Without a session: what is said of the picture, and the picture measured as if answered."""
    said = SaidOfShot()
    monkeypatch.setattr(heels_matter, "said_of", lambda shot: said)
    monkeypatch.setattr(
        heels_matter, "supposing_heels_down", lambda one: measured(one.shot, heels_down=True)
    )
    return said


@pytest.fixture(scope="module")
def asked() -> Outcome:
    outcome = measured(Shot("one", "one", read_photo(heels_open())), heels_down=False)
    assert isinstance(outcome.result, Refusal)
    return outcome


def test_one_bicycle_whatever_the_heels_did_is_answered_at_once(said, asked):
    (outcome,) = with_heels_where_they_matter([asked], lambda inseam: "the only one")
    assert isinstance(outcome.result, PhotoMeasurement)
    assert outcome.heels_open


@pytest.mark.parametrize(
    "advice",
    [
        lambda inseam: round(inseam.mean_mm / 30),
        lambda inseam: round(inseam.sd_mm),
        # No bicycle is no advice: what to look for instead depends on the heels.
        lambda inseam: None,
    ],
)
def test_another_bicycle_by_other_heels_is_asked_about_first(said, asked, advice):
    assert with_heels_where_they_matter([asked], advice) == (asked,)


def test_who_is_not_sure_is_not_answered(said, asked):
    said.answered.add("heels")
    assert with_heels_where_they_matter([asked], lambda inseam: "the only one") == (asked,)
