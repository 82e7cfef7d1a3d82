"""The measurement equation: a body of known millimetres seen by a known camera."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from pose_fit.anthropometry.people import people
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.photo_equation import PhotoEquation, foot_reach_mm
from pose_fit.inseam.photo_reading import equation_of, quantities_of, read_inseam
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.metrology.propagation import propagate, simulate
from pose_fit.photo.photo import read_photo
from pose_fit.photogrammetry.plane import project
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

SAMPLES = Path(__file__).parents[2] / "sample_images"
STRAIGHT_MM, HIPS_APART_MM, DROP_MM, SOLES_MM = 500.0, 135.0, 40.0, 12.0
DEPTHS_MM = np.array([60.0, 60.0, 60.0])


def camera() -> NDArray[np.float64]:
    plane = np.zeros(12)
    plane[:3] = Rotation.from_euler("xyz", [0.15, -0.1, 0.02]).as_rotvec()
    plane[3:6] = 150.0, -120.0, 2400.0
    plane[6], plane[7:9], plane[9] = np.log(1500.0), (600.0, 800.0), 0.01
    return plane


def seen(points_mm: list[list[float]]) -> NDArray[np.float64]:
    return project(camera(), np.array(points_mm)).ravel()


def inputs_of(hips_y_mm: float, spread_mm: float) -> list[NDArray[np.float64]]:
    """A straight-legged body whose hips are at a height, its ankles spread by so much more."""
    half = HIPS_APART_MM / 2
    fall = float(np.sqrt(STRAIGHT_MM**2 - spread_mm**2))
    hips = [[side * half, hips_y_mm, -60.0] for side in (1, -1)]
    ankles = [[side * (half + spread_mm), hips_y_mm + fall, -60.0] for side in (1, -1)]
    knees = [list(np.mean(pair, axis=0)) for pair in zip(hips, ankles, strict=True)]
    ankle = people().ankle_height_from_hip_to_ankle
    floor_y_mm = hips_y_mm + fall + ankle.intercept_mm + ankle.slope * STRAIGHT_MM + SOLES_MM
    reach_mm = foot_reach_mm(STRAIGHT_MM)
    toes = [[side * half, floor_y_mm, -10.0 - reach_mm] for side in (1, -1)]
    line = [[side * 250.0, floor_y_mm, -8.0] for side in (-1, 1)]
    return [
        camera(),
        seen([*hips, *knees, *ankles]),
        np.array([10.0]),
        np.full(3, 50.0 / STRAIGHT_MM),
        np.zeros(2),
        np.zeros(2),
        np.array([SOLES_MM]),
        seen([[0.0, hips_y_mm + DROP_MM, -70.0]]),
        np.array([60.0 / STRAIGHT_MM]),
        np.array([0.0]),
        seen(toes),
        np.array([0.0]),
        seen(line),
        np.array([8.0]),
    ]


@pytest.mark.parametrize("spread_mm", [0.0, 60.0, 150.0])
def test_every_reading_finds_the_known_inseam_however_the_feet_stand(spread_mm: float) -> None:
    equation = PhotoEquation(
        has_crotch=True, has_toes=True, has_wall_foot=True, wheel_radius_mm=None
    )
    readings = dict(zip(equation.names, equation(inputs_of(-80.0, spread_mm)), strict=True))
    ankle, crotch = people().ankle_height_from_hip_to_ankle, people().inseam_from_hip_height
    hip_height_mm = STRAIGHT_MM + ankle.intercept_mm + ankle.slope * STRAIGHT_MM
    by_legs_mm = crotch.intercept_mm + crotch.slope * hip_height_mm
    assert len(readings) == 6
    for (top, _), reading_mm in readings.items():
        expected_mm = by_legs_mm if top == "legs" else hip_height_mm - DROP_MM
        assert reading_mm == pytest.approx(expected_mm, abs=0.5)


@cache
def measured() -> PhotoMeasurement:
    photo = read_photo(SAMPLES / "sheet_3.jpg")
    result = measure_photo(
        photo, PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=0.0)), pose=pose_model()
    )
    assert isinstance(result, PhotoMeasurement)
    return result


def test_first_order_agrees_with_monte_carlo_on_a_real_photo() -> None:
    """JCGM 101:2008, 8.1: the two intervals agree within the digits that are stated."""
    sights, model = measured().sights, error_model()
    equation, quantities = equation_of(sights), quantities_of(sights, model=model)
    reading = read_inseam(sights, model=model)
    weights = np.array([one.weight for one in reading.readings])
    drawn_mm = simulate(equation, quantities, draws=1500, rng=np.random.default_rng(3)) @ weights
    sd_mm = reading.length.sd_mm / model.interval_factor
    assert drawn_mm.std() == pytest.approx(sd_mm, rel=0.08)
    assert drawn_mm.mean() == pytest.approx(reading.length.mean_mm, abs=2.0)


def test_fusing_is_surer_than_any_reading_and_its_budget_is_whole() -> None:
    sights, model = measured().sights, error_model()
    reading = read_inseam(sights, model=model)
    assert sum(one.weight for one in reading.readings) == pytest.approx(1)
    assert reading.length.sd_mm <= min(one.sd_mm for one in reading.readings) * 1.02
    result = propagate(equation_of(sights), quantities_of(sights, model=model))
    weights = np.array([one.weight for one in reading.readings])
    variance = weights @ result.covariance @ weights * model.interval_factor**2
    assert reading.length.sd_mm**2 == pytest.approx(float(variance), rel=1e-6)


@pytest.mark.parametrize("sd_mm", [4e8, 1e12])
def test_a_plane_that_tells_nothing_leaves_the_inseam_unsure_instead_of_failing(sd_mm) -> None:
    """Rays that all but miss the plane: every reading shares one error beyond all bounds."""
    sights, model = measured().sights, error_model()
    shifts = sights.plane.shifts.copy()
    shifts[5, 0] = sd_mm
    lost = replace(sights, plane=replace(sights.plane, shifts=shifts))
    assert read_inseam(lost, model=model).length.sd_mm > 1000
