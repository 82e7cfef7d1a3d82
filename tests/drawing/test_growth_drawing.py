"""The growth chart with what was measured before."""

import re
from types import SimpleNamespace

import pytest

from pose_fit.drawing.drawing_texts import DRAWING_TEXTS
from pose_fit.drawing.growth_drawing import PastPoint, growth_drawing
from pose_fit.growth.forecast import forecast_inseam
from pose_fit.inseam.inseam import Inseam

FORECAST = forecast_inseam(570.0, sd_mm=8.0, age_range_y=(7.5, 7.5), sex="f")


def dots(svg: str) -> list[tuple[float, float]]:
    found = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', svg)
    return [(float(x), float(y)) for x, y in found]


def test_without_earlier_measurements_there_is_no_point():
    svg = growth_drawing(FORECAST, ())
    assert dots(svg) == []
    assert DRAWING_TEXTS["en"].measured_before not in svg


@pytest.mark.parametrize("language", ["en", "es"])
def test_earlier_points_stand_left_of_today_by_their_months_and_lengths(language):
    texts = DRAWING_TEXTS[language]
    past = [PastPoint(months, Inseam.stated(mm, 8.0)) for months, mm in ((24, 520), (12, 545))]
    svg = growth_drawing(FORECAST, (), past=past, texts=texts)
    (x_24, y_24), (x_12, y_12), _legend = dots(svg)
    today = float(re.search(r'<line x1="([\d.]+)"[^>]*stroke-dasharray="3 3"', svg).group(1))
    assert today - x_24 == pytest.approx(2 * (today - x_12), abs=0.3)
    assert x_24 < x_12 < today
    # Up is longer, and 25 mm are as far in both.
    start = float(re.search(r'<polyline points="[\d.]+,([\d.]+)', svg).group(1))
    assert y_24 - y_12 == pytest.approx(y_12 - start, abs=0.3)
    assert texts.measured_before in svg


def test_a_point_outside_the_forecast_stays_inside_the_chart():
    past = [PastPoint(90.0, Inseam.stated(330.0, 25.0))]
    ((x, y), _legend) = dots(growth_drawing(FORECAST, (), past=past))
    assert 50 <= x <= 330
    assert 10 <= y <= 256


def test_a_long_name_in_the_legend_stays_inside_the_drawing():
    name = "Alderbrook Junior 24 with a long name"
    lines = (
        SimpleNamespace(name=name, until_mm=640.0),
        SimpleNamespace(name="Ash", until_mm=650.0),
    )
    svg = growth_drawing(FORECAST, lines, texts=DRAWING_TEXTS["es"])
    long, short = (re.search(rf"<text ([^>]*)><tspan[^>]*>{n}<", svg)[1] for n in (1, 2))
    width = float(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    x, length = (float(re.search(rf'{key}="([\d.]+)"', long)[1]) for key in ("x", "textLength"))
    assert x + length <= width
    assert "textLength" not in short


@pytest.mark.parametrize(("unit", "other"), [("in", "cm"), ("cm", "in")])
def test_the_readers_unit_is_the_large_one_beside_the_chart(unit, other):
    svg = growth_drawing(FORECAST, (), unit=unit)
    assert re.search(rf'text-anchor="end">\d+ {unit}</text>', svg)
    assert not re.search(rf'text-anchor="end">\d+ {other}</text>', svg)
