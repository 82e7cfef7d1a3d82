"""How long bicycles last, in words and drawn: known answers."""

import math

import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.app.texts.fit_texts import FIT
from pose_fit.app.views.bicycle_words import how_long
from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.catalogue import DEMO_CATALOGUE, read_catalogue
from pose_fit.bicycle.tyre import read_marking
from pose_fit.drawing.growth_drawing import growth_drawing
from pose_fit.fit.judge import judge
from pose_fit.fit.shown import UNSETTLED
from pose_fit.growth.lasting import forecast_of, lasting
from pose_fit.inseam.inseam import Inseam

DEMO = read_catalogue(DEMO_CATALOGUE)


def bicycle(name: str, standover_mm: float, highest_mm: float) -> Bicycle:
    return Bicycle(
        name=name,
        tyre=read_marking("47-406"),
        standover_mm=standover_mm,
        standover_source="measured",
        frame="level",
        saddle_min_mm=standover_mm + 20,
        saddle_max_mm=highest_mm,
        crank_mm=127,
        bottom_bracket_height_mm=230,
        seat_tube_angle_rad=math.radians(72),
    )


def test_legs_of_a_six_year_old_pass_a_limit_when_yearly_growth_says_so():
    """3.4 to 4.1 cm a year at 5 to 8 years (medians of published cross sections)."""
    fits = judge(Inseam.stated(560, 3), DEMO)
    forecast = forecast_of(Inseam.stated(560, 3), Child(age_y=6.0, sex="f"))
    for line in lasting(fits, forecast):
        spare_mm = line.until_mm - 560
        if 0 < spare_mm < 90:
            assert spare_mm / 42 * 12 < line.outgrown_months < spare_mm / 33 * 12
            low, high = line.window80_months
            assert low < line.outgrown_months < high


@pytest.mark.parametrize(
    ("inseam_mm", "said"),
    [(560, "lasts about"), (470, "right in about")],
)
def test_the_words_say_now_later_or_too_late(inseam_mm, said):
    inseam = Inseam.stated(inseam_mm, 4)
    one = bicycle("Larkum 20", 500, 700)
    (fit,) = judge(inseam, [one])
    (line,) = lasting([fit], forecast_of(inseam, Child(age_y=6.0, sex="m")))
    assert said in how_long(fit, line)


def test_an_outgrown_bicycle_never_fits_now():
    inseam = Inseam.stated(800, 4)
    fits = judge(inseam, DEMO)
    lines = lasting(fits, forecast_of(inseam, Child()))
    small = [(fit, line) for fit, line in zip(fits, lines, strict=True) if line.until_mm < 700]
    assert small
    assert all("outgrown" in how_long(fit, line) for fit, line in small)


def test_only_what_is_surely_outgrown_is_called_so():
    """A word that says “measure again” stands beside no month that says “too late”."""
    for inseam_mm in range(380, 800, 20):
        inseam = Inseam.stated(inseam_mm, 25)
        fits = judge(inseam, DEMO)
        for fit, line in zip(fits, lasting(fits, forecast_of(inseam, Child())), strict=True):
            if fit.shown in UNSETTLED:
                assert how_long(fit, line) != FIT["en"].outgrown


def test_names_of_close_limits_do_not_cover_each_other():
    inseam = Inseam.stated(560, 4)
    twins = [bicycle("Larkum 20", 500, 690), bicycle("Larkum 20 Pro", 500, 692)]
    forecast = forecast_of(inseam, Child(age_y=6.0, sex="m"))
    svg = growth_drawing(forecast, lasting(judge(inseam, twins), forecast))
    ys = [
        float(part.split('y="')[1].split('"')[0])
        for part in svg.split("<text ")[1:]
        if "outgrown" in part
    ]
    assert len(ys) == 2
    assert abs(ys[0] - ys[1]) >= 13
