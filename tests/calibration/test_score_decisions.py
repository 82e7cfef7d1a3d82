from dataclasses import replace

import numpy as np
import pytest

from calibration.score.decisions import (
    advise,
    by_chart,
    by_photo,
    by_tape,
    decision_of,
    touching_doubt,
)
from calibration.score.population import NO_BICYCLE, Riders, chart_riders, met_riders, shop_of
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.bicycle.tyre import read_marking
from pose_fit.fit.choice import choose
from pose_fit.fit.judge import judge
from pose_fit.inseam.inseam import Inseam


def _bicycle(name, marking, *, standover_mm, saddle_min_mm, saddle_max_mm, **changes):
    return Bicycle(
        name=name,
        tyre=read_marking(marking),
        standover_mm=standover_mm,
        standover_source="measured",
        frame="level",
        saddle_min_mm=saddle_min_mm,
        saddle_max_mm=saddle_max_mm,
        crank_mm=127.0,
        bottom_bracket_height_mm=260.0,
        seat_tube_angle_rad=1.25,
        in_stock=True,
        **changes,
    )


SMALL = _bicycle("Small", "16 x 1.75", standover_mm=400, saddle_min_mm=430, saddle_max_mm=570)
LARGE = _bicycle("Large", "20 x 1.75", standover_mm=500, saddle_min_mm=540, saddle_max_mm=720)
#: Two bicycles: with a sole of 15 mm the bars touch at inseams of 385 and 485 mm.
SHOP = shop_of([SMALL, LARGE])


def _riders(*inseams_mm):
    inseams = np.array(inseams_mm, float)
    count = inseams.size
    return Riders(inseams, 2.2 * inseams, np.full(count, 6.0), np.array(["f"] * count))


def test_what_the_two_bicycles_hold():
    riders = _riders(380, 390, 480, 490, 540)
    small, large = SHOP.touches(riders.inseam_mm).T
    assert small.tolist() == [True, False, False, False, False]
    assert large.tolist() == [True, True, True, False, False]
    small_fits, large_fits = SHOP.fits(riders.inseam_mm).T
    # The wanted clearance is an inch: 410.4 and 510.4 mm.
    assert small_fits.tolist()[:3] == [False, False, True]
    assert large_fits.tolist() == [False, False, False, False, True]
    assert not small_fits[-1]


def test_no_bar_is_no_contact():
    step = replace(SMALL, frame="step_through")
    assert not shop_of([step]).touches(np.array([250.0]))[0, 0]


def test_out_of_stock_is_not_advised():
    shop = shop_of([replace(SMALL, in_stock=False), LARGE])
    assert advise(np.array([480.0]), np.array([1.0]), shop).tolist() == [NO_BICYCLE]


def test_outcomes_of_hand_made_advice():
    riders = _riders(480, 480, 540, 480, 300)
    advice = np.array([[0], [1], [0], [NO_BICYCLE], [NO_BICYCLE]])
    decision = decision_of("by hand", advice, riders, SHOP)
    assert decision.advised == pytest.approx(3 / 5)
    assert decision.touching == pytest.approx(1 / 5)
    assert decision.touching_of_advised == pytest.approx(1 / 3)
    # 480 mm fits the small one only, 540 mm the large one only; at 300 mm nothing fits.
    assert decision.none_though_one_fits == pytest.approx(1 / 5)
    assert decision.unfit == pytest.approx(2 / 5)
    assert decision.less_room == 0.0


def test_a_bicycle_that_fits_for_less_long_is_not_the_best():
    shop = shop_of([SMALL, replace(SMALL, name="Longer", saddle_max_mm=640)])
    decision = decision_of("", np.array([[0], [1]]), _riders(440, 440), shop)
    assert decision.less_room == pytest.approx(1 / 2)
    assert decision.without_best == pytest.approx(1 / 2)


def test_drawn_bars_touch_at_the_limit_half_the_time():
    riders = _riders(*[385.0] * 4000)
    advice = np.zeros((4000, 1), int)
    decision = decision_of("at the limit", advice, riders, SHOP)
    assert decision.touching == 1.0
    assert decision.touching_drawn == pytest.approx(0.5, abs=0.03)


def test_exact_photos_leave_nobody_without_the_best():
    riders = _riders(*np.arange(340.0, 620.0, 7.0))
    exact = by_photo(riders, shop_of([SMALL, LARGE]), errors_mm=[0.0], sds_mm=[1e-3])
    decision = decision_of("exact", exact, riders, SHOP)
    assert decision.touching == 0.0
    assert decision.without_best <= 2 / len(riders)


def test_a_blunder_of_100_mm_puts_children_on_the_bar():
    riders = _riders(*np.linspace(420, 480, 20))
    advice = by_photo(riders, SHOP, errors_mm=[0.0, 100.0], sds_mm=[5.0, 5.0])
    assert decision_of("", advice[:, :1], riders, SHOP).touching == 0.0
    assert decision_of("", advice[:, 1:], riders, SHOP).touching > 0.9
    low, high = touching_doubt(advice, riders, SHOP)
    assert low == 0.0
    assert high > 0.9


def test_advice_is_the_programs_own():
    bicycles = read_catalogue(DEMO_CATALOGUE)
    shop = shop_of(bicycles)
    rng = np.random.default_rng(8)
    for mean_mm, sd_mm in zip(rng.uniform(330, 800, 40), rng.uniform(2, 40, 40), strict=True):
        choice = choose(judge(Inseam.stated(mean_mm, sd_mm), bicycles))
        (place,) = advise(np.array([mean_mm]), np.array([sd_mm]), shop)
        name = choice.best.bicycle.name if choice else None
        assert (bicycles[place].name if place != NO_BICYCLE else None) == name


def test_chart_gives_a_band_its_size():
    made_from = _riders(*[440.0] * 5, *[540.0] * 5)
    made_from = replace(made_from, age_y=np.array([4.2] * 5 + [7.9] * 5))
    riders = replace(_riders(440, 540, 540), age_y=np.array([4.9, 7.0, 30.0]))
    for rule in ("most", "middle"):
        advice = by_chart(
            riders,
            SHOP,
            key=lambda some: some.age_y,
            width=1.0,
            rule=rule,
            made_from=made_from,
            seed=1,
        )
        assert np.unique(advice[0]).tolist() == [0]
        # An age beyond the chart takes the nearest band.
        assert np.unique(advice[1:]).tolist() == [1]


def test_careful_tape_rarely_errs_and_repeats():
    riders = _riders(*np.linspace(420, 560, 30))
    careful = by_tape(riders, SHOP, care="careful", seed=3)
    assert decision_of("", careful, riders, SHOP).touching <= 0.005
    assert (careful == by_tape(riders, SHOP, care="careful", seed=3)).all()


def test_charts_and_riders_share_no_child():
    met, made_from = met_riders(), chart_riders()
    assert len(met) > 900
    assert len(made_from) > 1800
    assert met.age_y.min() >= 2
    assert met.age_y.max() < 15
