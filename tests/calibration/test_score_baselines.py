import math

import numpy as np
import pytest

from calibration.score.baselines import baselines_on, mm_per_px, raw_legs_mm, tape_readings_mm
from pose_fit.anthropometry.inseam_norms import inseam_at_age
from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM
from pose_fit.body.body import LANDMARKS, Body
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.inseam.from_tape import TAPE_CARE
from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.reference.reference import CircleReference, PointReference
from tests.calibration.scored_photos import scored_photo

PLANE = PlaneScale(np.zeros(12), np.zeros((12, 1)), ("lens",), 1.0)


def _points(kind, object_mm, image_px, log_aspect_sd=0.002):
    return PointReference(
        kind=kind,
        placement="wall",
        object_mm=np.array(object_mm, float),
        image_px=np.array(image_px, float),
        point_sd_px=0.5,
        log_size_sd=0.003,
        log_aspect_sd=log_aspect_sd,
    )


PAPER = _points(
    "a4",
    [[-105, -148.5], [105, -148.5], [105, 148.5], [-105, 148.5]],
    [[100, 100], [205, 100], [205, 248.5], [100, 248.5]],
)


def _sights(reference, *, left_px, right_px):
    looks = np.zeros((2, len(LANDMARKS), 2))
    for name, point in {
        "left_hip": (0, 0),
        "left_ankle": left_px,
        "right_hip": (50, 0),
        "right_ankle": right_px,
    }.items():
        looks[:, LANDMARKS.index(name)] = point
    body = Body(looks, np.ones(len(LANDMARKS)), np.zeros((1, 1), np.float32))
    return PhotoSights(PLANE, reference, body, (), (), (), 0.0, 1.0)


def test_paper_of_half_size():
    assert mm_per_px(PAPER) == pytest.approx(2.0)


def test_a_turned_paper_has_the_same_scale():
    turn = np.array([[0.6, -0.8], [0.8, 0.6]])
    turned = _points("a4", PAPER.object_mm, PAPER.image_px @ turn)
    assert mm_per_px(turned) == pytest.approx(2.0)


def test_a_door_goes_by_its_height_since_nobody_told_its_width():
    corners_px = [[300, 10], [350, 10], [350, 518], [300, 518]]
    half = np.array([381, 1016])
    door = _points("door", half * [[-1, -1], [1, -1], [1, 1], [-1, 1]], corners_px, 0.12)
    assert mm_per_px(door) == pytest.approx(4.0)


def test_a_wheel_goes_by_its_larger_extent():
    angle = np.linspace(0, 2 * math.pi, 60, endpoint=False)
    outline_px = np.column_stack([40 * np.cos(angle), 50 * np.sin(angle)])
    wheel = CircleReference("wheel", "beside", 200.0, 40.0, outline_px, 1.0, 0.008)
    assert mm_per_px(wheel) == pytest.approx(4.0)


def test_raw_legs_are_the_mean_of_both():
    item = scored_photo(sights=_sights(PAPER, left_px=(30, 240), right_px=(50, 260)))
    assert raw_legs_mm(item) == pytest.approx(2.0 * (math.hypot(30, 240) + 260) / 2)


def test_baselines_of_one_child():
    sights = _sights(PAPER, left_px=(0, 260), right_px=(50, 260))
    item = scored_photo(error_mm=3.0, sights=sights)
    baselines = {baseline.name: baseline.metrics for baseline in baselines_on([item])}
    assert baselines["photo, this program"].bias_mm == pytest.approx(3.0)
    assert baselines["raw hip-to-ankle pixels × millimetres per pixel"].bias_mm == pytest.approx(
        20.0
    )
    assert baselines["0.45 × true stature"].bias_mm == pytest.approx(0.45 * 1150 - 500)
    at_six = inseam_at_age(6.0, sex="f").mean_mm
    assert baselines["mean inseam for age and sex"].bias_mm == pytest.approx(at_six - 500)
    assert baselines["0.45 × true stature"].coverages == ()


def test_a_child_smaller_than_all_that_were_measured_is_taken_for_the_smallest():
    sights = _sights(PAPER, left_px=(0, 260), right_px=(50, 260))
    item = scored_photo(sights=sights, stature_mm=700.0, inseam_mm=300.0)
    baselines = {baseline.name: baseline.metrics for baseline in baselines_on([item])}
    smallest = inseam_from_stature(STATURE_RANGE_MM[0], sex="f").mean_mm
    told = baselines["inseam from the stature as parents measure it"]
    assert told.bias_mm == pytest.approx(smallest - 300.0)


@pytest.mark.parametrize(("care", "count"), [("careful", 3), ("hasty", 1)])
def test_tapes_scatter_as_their_sources_say(care, count):
    told = TAPE_CARE[care]
    readings = tape_readings_mm(np.full(40000, 600.0), care=care, rng=np.random.default_rng(2))
    assert readings.shape == (40000, count)
    expected = math.sqrt(told.technique_sd_mm**2 + told.reading_sd_mm**2 / count)
    assert readings.mean(axis=1).std() == pytest.approx(expected, rel=0.02)
    assert readings.mean() == pytest.approx(600.0, abs=0.3)


def test_the_score_is_the_same_twice():
    item = scored_photo(sights=_sights(PAPER, left_px=(0, 260), right_px=(50, 260)))
    assert baselines_on([item] * 2, seed=4) == baselines_on([item] * 2, seed=4)
    assert baselines_on([item] * 2, seed=4) != baselines_on([item] * 2, seed=5)
