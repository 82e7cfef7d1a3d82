"""The measurement equation: a body of known millimetres seen by a known camera."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from pose_fit.anthropometry.people import people
from pose_fit.inseam.cloth_hang import loose_cloth_sd_mm
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.hypotheses import hypotheses_of, readings_of
from pose_fit.inseam.photo_equation import PhotoEquation, foot_reach_mm
from pose_fit.inseam.photo_reading import READINGS, read_inseam
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.inseam.quantities import quantities_of
from pose_fit.inseam.stand import Stand
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.metrology.propagation import propagate
from pose_fit.photogrammetry.projection import project
from pose_fit.reference.request import ReferenceRequest
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests import samples
from tests.monte_carlo import simulate

STRAIGHT_MM, HIPS_APART_MM, DROP_MM, SOLES_MM = 500.0, 135.0, 40.0, 12.0


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
    floor_y_mm = hips_y_mm + fall + ankle.mean_mm(STRAIGHT_MM) + SOLES_MM
    reach_mm = foot_reach_mm(STRAIGHT_MM)
    toes = [[side * half, floor_y_mm, -10.0 - reach_mm] for side in (1, -1)]
    line = [[side * 250.0, floor_y_mm, -8.0] for side in (-1, 1)]
    return [
        camera(),
        seen([*hips, *knees, *ankles]),
        np.array([10.0]),
        np.array([50.0, 50.0, 50.0, 60.0]) / STRAIGHT_MM,
        np.zeros(2),
        np.zeros(2),
        np.array([SOLES_MM]),
        seen([[0.0, hips_y_mm + DROP_MM, -70.0]]),
        np.array([0.0]),
        seen(toes),
        np.array([0.0]),
        seen(line),
        np.array([8.0]),
    ]


@pytest.mark.parametrize("spread_mm", [0.0, 60.0, 150.0])
def test_every_reading_finds_the_known_inseam_however_the_feet_stand(spread_mm: float) -> None:
    equation = PhotoEquation(crotches=1, toes=1, wall_bases=1, wheel_radius_mm=None)
    values = equation(inputs_of(-80.0, spread_mm))
    (ankles_mm, toes_mm, base_mm), drop_mm = values[:3], values[3]
    ankle = people().ankle_height_from_hip_to_ankle
    hip_height_mm = STRAIGHT_MM + ankle.mean_mm(STRAIGHT_MM)
    assert ankles_mm == pytest.approx(hip_height_mm, abs=0.5)
    assert toes_mm == pytest.approx(hip_height_mm, abs=0.5)
    assert base_mm == pytest.approx(hip_height_mm, abs=0.5)
    assert drop_mm == pytest.approx(DROP_MM, abs=0.5)


@cache
def measured() -> PhotoMeasurement:
    task = PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=0.0, heels_down=True))
    result = measure_photo(samples.photo("sheet_3"), task, pose=samples.pose())
    assert isinstance(result, PhotoMeasurement)
    return result


def alone() -> PhotoSights:
    """The sights with one candidate each, surely right: one hypothesis and its free heels."""
    sights = measured().sights
    return replace(
        sights,
        crotches=(replace(sights.crotches[0], weight=1.0),),
        toes=(replace(sights.toes[0], weight=1.0),),
        wall_bases=(replace(sights.wall_bases[0], weight=1.0),),
    )


#: Free of the wall, the columns are those that were propagated.
ONE_STANCE = replace(
    error_model(),
    gap_at_wall_mm=error_model().gap_free_mm,
    free_share=1 - 1e-12,
    world_sd_mm=1e-6,
)


def test_first_order_agrees_with_monte_carlo_on_a_real_photo() -> None:
    """JCGM 101:2008, 8.1: the two intervals agree within the digits that are stated."""
    sights, model = alone(), ONE_STANCE
    equation, quantities = sights.equation, quantities_of(sights, model=model)
    reading = read_inseam(sights, model=model)
    forms = readings_of(hypotheses_of(sights, 500.0, model=model)[:1], equation)
    weights = np.array([one.weight for one in reading.readings])
    drawn = simulate(equation, quantities, draws=1500, rng=np.random.default_rng(3))
    drawn_mm = (drawn @ forms.forms[0].T + forms.constants_mm[0])[:, forms.present[0]] @ weights
    sd_mm = reading.length.sd_mm / model.interval_factor
    assert drawn_mm.std() == pytest.approx(sd_mm, rel=0.08)
    assert drawn_mm.mean() == pytest.approx(reading.length.mean_mm, abs=2.0)


def test_fusing_is_surer_than_any_reading_and_its_budget_is_whole() -> None:
    reading = read_inseam(alone(), model=ONE_STANCE)
    assert sum(one.weight for one in reading.readings) == pytest.approx(1)
    assert reading.length.sd_mm <= min(one.sd_mm for one in reading.readings) * 1.02
    # One hypothesis: its own budget is all there is, but for cloth that nobody spoke of.
    assert reading.hypotheses[0].weight == pytest.approx(1)
    whole_mm = np.hypot(reading.hypotheses[0].sd_mm, loose_cloth_sd_mm(None, 0.0))
    assert reading.length.sd_mm == pytest.approx(whole_mm, rel=1e-4)


def test_heels_off_the_wall_move_the_readings_as_the_equation_says() -> None:
    """The second state of the heels reuses the columns of the first; solved anew it is the same."""
    model = error_model()
    near = read_inseam(alone(), model=model)
    free = next(one for one in near.hypotheses if one.hypothesis.heels_free)
    there = replace(model, gap_at_wall_mm=model.gap_free_mm, free_share=1 - 1e-12)
    solved = read_inseam(alone(), model=there).hypotheses[0]
    assert free.mean_mm == pytest.approx(solved.mean_mm, abs=0.7)
    assert free.sd_mm == pytest.approx(solved.sd_mm, rel=0.02)


def test_a_seat_at_the_wall_keeps_the_hips_where_they_are() -> None:
    """Heels farther out move feet and ankles; the hips' column is the seat's alone."""
    model, sights = error_model(), alone()
    legs = legs_of(sights.plane, sights.body, beside=False, model=model)
    equation, quantities = sights.equation, quantities_of(sights, model=model)
    stand = Stand.of(quantities, legs.straight_mm, model)
    steps, mixes = (part[0] for part in stand.of_each(np.array([False])))
    found = propagate(equation, quantities).contributions[:, stand.columns] @ mixes
    # The same by the equation itself: the heels out by their uncertainty, the hips held.
    means = [np.array(quantity.mean, float) for quantity in quantities]
    gap_mean, gap_sd = model.gap_at_wall_mm
    seat, ankle = model.hip_before_wall[0], model.ankle_before_heel[0]

    def with_heels(gap_mm: float) -> np.ndarray:
        gap_part = gap_mm / legs.straight_mm
        lean = seat - gap_part - ankle
        hip, knee = ankle + lean, ankle + lean / 2 + model.knee_before_line[0]
        depths = np.array([hip, knee, ankle, hip + model.crotch_before_hip[0]])
        return equation([*means[:2], np.array([gap_mm]), depths, *means[4:]])

    middle, out = with_heels(gap_mean), with_heels(gap_mean + gap_sd)
    # A step of 18 mm is not quite small: the equation bends by some tenths.
    assert out - middle == pytest.approx(found[:, 0], abs=0.5)
    hip_step = quantities[3].factor[:, 1] * steps[2, 0]
    moved = equation([*means[:3], means[3] + hip_step, *means[4:]])
    assert moved == pytest.approx(middle, abs=1e-6)


def test_the_readings_are_in_the_order_that_they_are_named() -> None:
    names = [(one.top, one.floor) for one in measured().reading.readings]
    assert names == [name for name in READINGS if name in names]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("sd_mm", [4e8, 1e12])
def test_a_plane_that_tells_nothing_leaves_the_inseam_unsure_instead_of_failing(sd_mm) -> None:
    """Rays that all but miss the plane: every reading shares one error beyond all bounds."""
    sights, model = measured().observed, error_model()
    shifts = sights.plane.shifts.copy()
    shifts[5, 0] = sd_mm
    lost = replace(sights, plane=replace(sights.plane, shifts=shifts))
    assert read_inseam(lost, model=model).length.sd_mm > 1000
