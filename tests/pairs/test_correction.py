"""The correction by pairs: nothing before evidence, the closed form where there is one, slips ignored."""

import dataclasses

import numpy as np
import pytest

from calibration.trials.simulated_shops import RESULT, SCENARIOS, after_each, report, shop
from pose_fit.inseam.error_model import WORLD_SOURCE
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import Contribution, UncertainLength
from pose_fit.pairs import offset_model, range_check
from pose_fit.pairs.correction import (
    NO_CORRECTION,
    Correction,
    correction_from,
    differences_of,
    slipped_tapes,
)
from pose_fit.pairs.offset_model import HABIT_SD_MM, Differences, log_likelihood, posterior
from pose_fit.pairs.range_check import range_notices
from pose_fit.pairs.rendered_prior import RENDERED_SD_MM, rendered_sd_mm

from .test_agreement import DAY, pair, pairs_of

PHOTO = Inseam(
    UncertainLength(
        600.0,
        (Contribution("posture", 10.0), Contribution(WORLD_SOURCE, RENDERED_SD_MM, True)),
    ),
    "photo",
)


def drawn(count: int, offset_mm: float, *, seed: int = 4, **more) -> list:
    rng = np.random.default_rng(seed)
    return [
        pair(float(value), name=str(number), **more)
        for number, value in enumerate(rng.normal(offset_mm, 13.0, count))
    ]


def test_before_any_pair_nothing_changes():
    assert correction_from([]) == NO_CORRECTION
    assert NO_CORRECTION.applied_to(PHOTO) is PHOTO


def test_without_pairs_the_model_knows_what_the_budget_line_says():
    found = posterior([])
    assert found.offset_mm == pytest.approx(0.0, abs=1e-6)
    assert found.offset_sd_mm == pytest.approx(RENDERED_SD_MM, rel=0.03)
    assert found.scale == pytest.approx(1.0, rel=0.02)


def test_the_grid_agrees_with_the_closed_form(monkeypatch):
    """Normal prior, no slips, scale known: offset and its sd are those of two normals."""
    grid = offset_model._GRID_MM
    normal = np.exp(-(grid**2) / (2 * 0.75 * RENDERED_SD_MM**2))
    monkeypatch.setattr(offset_model, "_general_prior", lambda _: normal / normal.sum())
    monkeypatch.setattr(offset_model, "SLIP_CHANCE", 1e-12)
    one_scale = np.zeros(len(offset_model.SCALES)) + 1e-300
    one_scale[np.argmin(abs(offset_model.SCALES - 1))] = 1.0
    monkeypatch.setattr(offset_model, "_scale_prior", lambda: one_scale)
    k = float(offset_model.SCALES[np.argmin(abs(offset_model.SCALES - 1))])
    table = Differences(
        np.array([9.0, 14.0, 3.0]), np.array([10.0, 9.0, 12.0]), np.array([6.0, 8.0, 6.0])
    )
    found = posterior([log_likelihood(table).sum(axis=0)])
    variances = (k * table.photo_sd_mm) ** 2 + table.tape_sd_mm**2
    mean_variance = 1 / (1 / variances).sum() + HABIT_SD_MM**2
    mean_mm = (table.value_mm / variances).sum() / (1 / variances).sum()
    gain = RENDERED_SD_MM**2 / (RENDERED_SD_MM**2 + mean_variance)
    assert found.offset_mm == pytest.approx(gain * mean_mm, abs=0.02)
    assert found.offset_sd_mm == pytest.approx(np.sqrt(RENDERED_SD_MM**2 * (1 - gain)), rel=0.005)


def test_pairs_move_the_estimate_and_shrink_the_line_that_stands_for_rendered_children():
    found = correction_from(drawn(60, 12.0))
    # One holder's habit could be part of the difference, and keeps as much of it back.
    assert 4.0 < found.offset_mm < 12.0
    corrected = found.applied_to(PHOTO)
    assert corrected.mean_mm == pytest.approx(600.0 - found.offset_mm)
    line = next(line for line in corrected.length.budget if line.source == WORLD_SOURCE)
    assert (line.sd_mm, line.shared) == (found.offset_sd_mm, True)
    assert HABIT_SD_MM * 0.8 < line.sd_mm < 0.6 * RENDERED_SD_MM
    assert corrected.sd_mm < PHOTO.sd_mm
    assert corrected.warnings[-1].code == "corrected"
    assert "60 children" in corrected.warnings[-1].message


def test_several_people_at_the_tape_leave_less_unknown_than_one():
    one = correction_from(drawn(90, 5.0))
    names = ("Ada", "Bo", "Cy")
    several = correction_from(
        [
            dataclasses.replace(each, taken_by=names[place % 3])
            for place, each in enumerate(drawn(90, 5.0))
        ]
    )
    assert several.offset_sd_mm < 0.85 * one.offset_sd_mm


def test_a_budget_without_the_line_gets_it_and_keeps_its_whole():
    photo = Inseam(UncertainLength(600.0, (Contribution("posture", 13.0),)), "photo")
    same = Correction(pairs=1, offset_sd_mm=RENDERED_SD_MM).applied_to(photo)
    assert rendered_sd_mm(photo) == RENDERED_SD_MM
    assert same.sd_mm == pytest.approx(photo.sd_mm)


def test_one_slipped_tape_moves_next_to_nothing():
    sound = drawn(12, 6.0)
    slipped = pair(-150.0, name="slip")
    before, after = correction_from(sound), correction_from([*sound, slipped])
    assert after.offset_mm == pytest.approx(before.offset_mm, abs=1.0)
    assert after.scale == pytest.approx(before.scale, abs=0.1)
    assert slipped_tapes([*sound, slipped]) == (slipped,)
    # And as the very first pair.
    assert abs(correction_from([slipped]).offset_mm) < 1.5


def test_photos_that_scatter_more_than_they_say_get_wider_intervals():
    wild = [pair(value, name=str(value)) for value in np.linspace(-55, 55, 60)]
    calm = [pair(value, name=str(value)) for value in np.linspace(-8, 8, 60)]
    assert correction_from(wild).scale > 1.3
    assert correction_from(calm).scale < 0.8


def test_another_shops_pairs_count_for_less_than_ones_own():
    there = drawn(60, 12.0, shop="north")
    own = correction_from(there, shop="north")
    other = correction_from(there, shop="south")
    assert 0.5 * own.offset_mm < other.offset_mm < own.offset_mm
    assert own.offset_sd_mm < other.offset_sd_mm < RENDERED_SD_MM


def test_the_running_form_of_the_simulation_is_the_products():
    pairs = drawn(9, 7.0, taken_by="Ada") + drawn(6, 7.0, seed=5, taken_by="Bo")
    running = after_each(differences_of(pairs), np.array([0] * 9 + [1] * 6))
    found = correction_from(pairs)
    assert running.offset_mm[-1] == pytest.approx(found.offset_mm)
    assert running.offset_sd_mm[-1] == pytest.approx(found.offset_sd_mm)
    assert running.scale[-1] == pytest.approx(found.scale)


def test_simulated_shops_are_covered_as_promised():
    """A small part of what calibration/results/simulated_shops.md shows at every n."""
    rng = np.random.default_rng(77)
    tracks = [shop(SCENARIOS[0], rng) for _ in range(60)]
    mean = np.mean([track.coverage for track in tracks], axis=0)
    error = np.std([track.coverage for track in tracks], axis=0) / np.sqrt(len(tracks))
    assert (mean > 0.92 - 2 * error).all()
    assert (mean < 0.98 + 2 * error).all()
    assert np.median([track.width_mm[100] / track.width_mm[0] for track in tracks]) < 0.95


def test_the_report_has_its_tables():
    text = report(2, seed=1)
    assert text.count("| from the prior") == 2
    assert "| 100 |" in text


def test_the_page_of_results_is_of_the_shipped_error_model():
    page = RESULT.read_text("utf-8")
    assert f"the budget line for rendered children is {RENDERED_SD_MM:.0f} mm" in page


def later(pairs: list, days: int) -> list:
    import datetime as dt

    return [
        dataclasses.replace(each, day=DAY + dt.timedelta(days=days + number))
        for number, each in enumerate(pairs)
    ]


def codes(pairs: list) -> list[str]:
    return [notice.code for notice in range_notices(pairs)]


def test_new_pairs_like_the_old_ones_raise_no_alarm():
    alarms = 0
    for seed in range(40):
        pairs = later(drawn(30, 5.0, seed=seed), 0)
        alarms += bool(codes(pairs))
    # Two tests at one in a hundred each, 40 times.
    assert alarms <= 3


def test_pairs_unequally_sure_raise_no_alarm_of_their_spread(monkeypatch):
    """Half of the new photos are much surer than the rest, and all scatter as they say."""
    before = Correction(pairs=30, offset_mm=5.0, offset_sd_mm=4.0)
    monkeypatch.setattr(range_check, "correction_from", lambda *_, **__: before)
    stated_mm = [5.0, 30.0] * 5
    table = differences_of([pair(0.0, sd_mm=sd_mm) for sd_mm in stated_mm])
    own_mm = np.hypot(table.photo_sd_mm, table.tape_sd_mm)
    rng, earlier, alarms = np.random.default_rng(5), later(drawn(5, 5.0), 0), 0
    for _ in range(400):
        drawn_mm = rng.normal(5.0, own_mm)
        latest = [pair(d, sd_mm=sd) for d, sd in zip(drawn_mm, stated_mm, strict=True)]
        alarms += "pairs_spread" in codes(earlier + later(latest, 100))
    # One look in a hundred; more than 10 of 400 come of chance once in 350.
    assert alarms <= 10


@pytest.mark.parametrize(
    ("latest", "code"),
    [
        (drawn(10, 40.0, seed=9), "pairs_moved"),
        (pairs_of(*np.linspace(-60, 65, 10)), "pairs_spread"),
        (drawn(10, 5.0, seed=9, reference="door"), "pairs_new_object"),
        (drawn(10, 5.0, seed=9, tape_mm=800.0), "pairs_new_length"),
    ],
)
def test_new_pairs_that_leave_the_range_are_said(latest, code):
    assert code in codes(later(drawn(30, 5.0), 0) + later(latest, 100))


def test_few_pairs_are_not_compared():
    assert codes(later(drawn(5, 0.0), 0) + later(drawn(2, 90.0), 10)) == []
