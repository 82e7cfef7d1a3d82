"""What a question is worth, from inseams and advice of which it is known."""

from dataclasses import replace

import numpy as np
import pytest

from pose_fit.anthropometry.soles import SOLES_BY_RULER_SD_MM, UNKNOWN_SOLES_MM
from pose_fit.app.family import next_question as asking
from pose_fit.app.family.next_question import Weighing, next_question, worth
from pose_fit.app.family.supposed import read_with, with_heels_up
from pose_fit.app.inputs.uploads import SAMPLE_FOLDER
from pose_fit.app.measuring import Outcome
from pose_fit.app.session import SaidOfShot, Shot
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.checks.stance import RAISED_HEELS, with_heels_open
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import measure_photo
from pose_fit.photo.photo import read_photo
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests.drawn_children import WALL, drawn_children, measured

NOW = Inseam.stated(600.0, 20.0)


def same(inseam: Inseam) -> object:
    return None


def taller(inseam: Inseam) -> object:
    return inseam.mean_mm > 610


@pytest.mark.parametrize(
    ("answers", "advice", "wanted"),
    [
        # A quarter of the uncertainty goes, whatever is answered.
        ([(1.0, Inseam.stated(600.0, 15.0))], same, 0.25),
        ([(0.5, Inseam.stated(600.0, 10.0)), (0.5, NOW)], same, 0.25),
        # Nothing changes.
        ([(1.0, NOW)], taller, 0.0),
        # A rare answer that would add much counts by its chance alone.
        ([(0.95, NOW), (0.05, Inseam.stated(600.0, 30.0))], same, 0.0),
        # Three answers in ten lead to another bicycle.
        ([(0.7, NOW), (0.3, Inseam.stated(620.0, 20.0))], taller, 0.3),
    ],
)
def test_a_question_is_worth_what_its_answers_are_likely_to_change(answers, advice, wanted):
    assert worth(NOW, answers, advice) == pytest.approx(wanted)


@pytest.fixture(scope="module")
def outcome() -> Outcome:
    photo = read_photo(SAMPLE_FOLDER / "sheet_3.jpg")
    task = PhotoTask(stated=Stated(heels_down=True))
    return Outcome(Shot("one", "one", photo), task, measure_photo(photo, task, pose=pose_model()))


def test_a_picture_read_again_with_an_answer_says_what_it_says_measured_with_it(outcome):
    again = read_with(outcome, legwear="snug")
    task = replace(outcome.task, stated=replace(outcome.task.stated, legwear="snug"))
    afresh = measure_photo(outcome.shot.photo, task, pose=pose_model())
    assert again.result.inseam.mean_mm == pytest.approx(afresh.inseam.mean_mm, abs=0.5)
    assert again.result.inseam.sd_mm == pytest.approx(afresh.inseam.sd_mm, rel=0.05)


def test_open_heels_widen_the_inseam_and_raised_ones_shorten_it(outcome):
    result = outcome.result
    either = with_heels_open(result.inseam.length, result.legs)
    assert either.mean_mm == result.inseam.mean_mm
    assert either.sd_mm > result.inseam.sd_mm
    assert RAISED_HEELS in {line.source for line in either.budget}
    assert with_heels_open(either, result.legs) is either
    # Heels of a foot bent by 45 degrees come up by about an eighth of the leg.
    lower_mm = result.inseam.mean_mm - with_heels_up(result).mean_mm
    assert lower_mm == pytest.approx(0.12 * result.legs.straight_mm, rel=0.01)


def test_soles_said_truly_narrow_the_interval_and_bring_it_nearer_to_the_truth():
    """Drawn children, whatever network is shipped; read again as by the page's question."""
    narrower, errors_mm = [], []
    for child in drawn_children(60):
        true, (unknown_mm, unknown_sd_mm) = child.sights, UNKNOWN_SOLES_MM
        sights = replace(true, soles_mm=unknown_mm, soles_sd_mm=unknown_sd_mm)
        outcome = Outcome(Shot("one", "one", WALL), PhotoTask(), measured(sights))
        answers = {}, {"soles_mm": true.soles_mm, "soles_sd_mm": SOLES_BY_RULER_SD_MM}
        before, after = (read_with(outcome, **said).result.inseam for said in answers)
        narrower.append(after.sd_mm / before.sd_mm)
        errors_mm.append([abs(one.mean_mm - child.inseam_mm) for one in (before, after)])
    assert np.mean(np.array(narrower) < 1) >= 0.75
    assert np.median(narrower) < 0.97
    without, with_answer = np.mean(errors_mm, axis=0)
    assert with_answer < without


#: What one press answers.
BY_PRESS = {"feet", "legs"}


def test_what_changes_nothing_is_not_asked_and_what_turns_the_bicycle_is(monkeypatch):
    """Drawn children, whatever network is shipped: of each the same picture, asked about by what
    hangs on it.
    """
    monkeypatch.setattr(asking, "said_of", lambda shot: SaidOfShot())
    unknown_mm, unknown_sd_mm = UNKNOWN_SOLES_MM
    idle, needed = [], []
    for child in drawn_children(12):
        sights = replace(child.sights, legwear=None, soles_mm=unknown_mm, soles_sd_mm=unknown_sd_mm)
        outcome = read_with(Outcome(Shot("one", "one", WALL), PhotoTask(), measured(sights)))
        inseam = outcome.result.inseam

        def asked(advice, outcome=outcome, inseam=inseam):
            weighing = Weighing(lambda outcomes: outcomes[0].result.inseam, advice)
            return next_question(inseam, [outcome], weighing, tape_readings=0)

        idle.append(asked(same))
        needed.append(asked(lambda each, edge_mm=inseam.mean_mm + 4: each.mean_mm > edge_mm))
    assert np.mean([question in BY_PRESS for question in idle]) <= 0.25
    assert np.mean([question in BY_PRESS for question in needed]) >= 0.9
