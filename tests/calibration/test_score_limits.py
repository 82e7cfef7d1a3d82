import math

import pytest

from calibration.score.groups import GROUPINGS, budget_medians_mm, groups_by
from calibration.score.limits import Figure, blame, contact_figure, figures_of, worst_group
from calibration.scored import in_scope
from tests.calibration.scored_photos import photos_with_errors, scored_photo, truth_of


def _figure(figures, name):
    return next(figure for figure in figures if figure.name.startswith(name))


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, True),
        ({"legwear": "shorts"}, True),
        ({"legwear": "loose"}, False),
        ({"legwear": "hidden"}, False),
        ({"heel_gap_mm": 50.0}, True),
        ({"heel_gap_mm": 50.1}, False),
    ],
)
def test_scope(changes, expected):
    assert in_scope(truth_of(**changes)) is expected


def test_sheet_within_limits():
    figures = figures_of(photos_with_errors([5.0, -5.0] * 12))
    mae, bias = _figure(figures, "sheet: MAE"), _figure(figures, "sheet: bias")
    assert mae.value == 5.0
    assert mae.met
    assert mae.enough
    assert bias.value == 0.0
    assert bias.met
    assert _figure(figures, "sheet: median half width").value == pytest.approx(15.68, abs=0.01)


def test_a_miss_says_by_how_much_and_what_is_blamed():
    budget = {"clothing": 9.0, "focal length": 12.0, "lens": 1.0, "floor": 2.0}
    items = photos_with_errors([-11.0, -7.0], budget=budget, reference={"kind": "letter"})
    mae = _figure(figures_of(items), "letter and a4")
    assert not mae.met
    assert not mae.enough
    assert mae.missed_by == pytest.approx(1.0)
    assert mae.blamed == "focal length 12.0, clothing 9.0, floor 2.0"


def test_a_negative_bias_is_missed_from_below():
    bias = _figure(figures_of(photos_with_errors([-4.0, -6.0])), "sheet: bias")
    assert bias.missed_by == pytest.approx(3.0)


def test_out_of_scope_photos_do_not_count():
    items = photos_with_errors([1.0, -1.0]) + photos_with_errors([90.0], legwear="loose")
    figures = figures_of(items)
    assert _figure(figures, "sheet: MAE").value == 1.0
    assert _figure(figures, "95 % interval").count == 2
    assert _figure(figures, "loose or hidden crotch: coverage").value == 0.0


def test_unknown_is_not_met():
    door = _figure(figures_of(photos_with_errors([1.0])), "door")
    assert math.isnan(door.value)
    assert not door.met
    assert math.isnan(door.missed_by)


def test_coverage_above_its_limit_is_a_miss_too():
    coverage = _figure(figures_of(photos_with_errors([0.0] * 20)), "95 % interval")
    assert coverage.value == 1.0
    assert coverage.missed_by == pytest.approx(0.02)


def test_worst_group_needs_ten_photos():
    bad = photos_with_errors([50.0] * 9, outdoors=True)
    good = photos_with_errors([1.0] * 30)
    group = worst_group(bad + good)
    assert group is not None
    assert group.metrics.count >= 10
    worse = worst_group([*bad, *good, scored_photo(error_mm=50.0, outdoors=True)])
    assert worse is not None
    assert worse.label == "place: outdoors"
    assert worse.metrics.coverage(0.95).share == 0.0
    assert worst_group(bad) is None


def test_contact_figure_has_the_half_per_cent():
    assert contact_figure(0.005, count=30, doubt=None).met
    assert not contact_figure(0.0051, count=30, doubt=None).met


def test_figure_of_a_share_open_above():
    figure = Figure("wider", 1.2, 1.0, math.inf, 5, 1)
    assert figure.met
    assert figure.missed_by == 0.0


def test_groups_are_disjoint_and_in_order():
    items = [scored_photo(age_years=age) for age in (12.0, 2.5, 7.9, 8.0, 4.99, 5.0)]
    groups = groups_by(GROUPINGS["Age"], items)
    labels = [group.label for group in groups]
    assert labels == ["below 5 y", "5 to 8 y", "8 to 11 y", "from 11 y"]
    assert [group.metrics.count for group in groups] == [2, 2, 1, 1]


def test_distance_is_counted_from_the_heels():
    (group,) = groups_by(GROUPINGS["Distance"], [scored_photo()])
    assert group.label == "2 to 3 m"  # 2500 - 30 mm


@pytest.mark.parametrize(
    ("changes", "label"),
    [
        ({}, "kept"),
        ({"treatment": "edited"}, "kept, picture cropped"),
        ({"treatment": "messenger", "exif_focal_35mm": None}, "stripped"),
    ],
)
def test_exif_groups(changes, label):
    assert GROUPINGS["EXIF"](truth_of(**changes)) == label


def test_budget_medians_count_a_missing_line_as_nothing():
    items = [
        scored_photo(budget={"lens": 2.0, "floor": 3.0}),
        scored_photo(budget={"lens": 4.0}),
        scored_photo(budget={"lens": 3.0}),
    ]
    assert budget_medians_mm(items) == {"lens": 3.0, "floor": 0.0}
    assert blame([]) == ""
