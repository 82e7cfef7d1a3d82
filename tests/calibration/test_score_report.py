import csv
import gzip
import json
import math

import pytest

from calibration.fit import is_fitted_on
from calibration.observe import Observation
from calibration.score.evidence import Evidence
from calibration.score.files import COLUMNS, photo_row, write_photos, write_truths
from calibration.score.metrics import metrics_of
from calibration.score.scored import Refused, measured, refused, scored_part, scores_of
from calibration.score.words import METRIC_HEADS, metric_cells, mm, percent, table
from pose_fit.inseam.error_model import error_model
from pose_fit.refusal import Notice, Refusal
from tests.calibration.scored_photos import truth_of


def _refused_photo(index):
    refusal = Refusal((Notice("reference_missing", "The sheet was not found."),))
    return Observation(truth_of(index=index, photo=f"01_{index:04}_0.jpg"), refusal, None, None)


def test_fitted_and_scored_parts_share_no_scene():
    observations = [_refused_photo(index) for index in range(20)]
    scored = scored_part(observations)
    assert len(scored) == 12
    assert not any(is_fitted_on(item) for item in scored)


def test_refused_photos_are_kept_apart_not_dropped():
    results = scores_of([_refused_photo(2), _refused_photo(3)], model=error_model())
    assert measured(results) == []
    assert [result.codes for result in refused(results)] == [("reference_missing",)] * 2


def test_refused_photo_has_a_row_without_a_reading(tmp_path):
    path = tmp_path / "photos.csv"
    write_photos([Refused(truth_of(index=2), ("leg_bent",))], path)
    with path.open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    assert tuple(row) == COLUMNS
    assert row["refused"] == "leg_bent"
    assert row["inseam_mm"] == ""
    assert row["distance_mm"] == "2470"
    assert row["part"] == "scored"


def test_fitted_part_is_marked():
    assert photo_row(Refused(truth_of(index=5), ()))["part"] == "fitted"


def test_truths_come_back_and_are_the_same_bytes(tmp_path):
    truths = [truth_of(index=index) for index in range(3)]
    first, second = tmp_path / "a.gz", tmp_path / "b.gz"
    write_truths(truths, first)
    write_truths(truths, second)
    assert first.read_bytes() == second.read_bytes()
    lines = gzip.decompress(first.read_bytes()).decode().splitlines()
    assert [json.loads(line) for line in lines] == truths


@pytest.mark.parametrize(
    ("value", "sign", "text"),
    [
        (1.25, False, "1.2"),
        (-3.04, True, "−3.0"),
        (3.04, True, "+3.0"),
        (math.nan, False, "–"),
        (None, False, "–"),
    ],
)
def test_millimetres(value, sign, text):
    assert mm(value, sign=sign) == text


def test_shares():
    assert percent(0.9516) == "95 %"
    assert percent(0.0049, 2) == "0.49 %"
    assert percent(math.nan) == "–"


def test_table_has_a_cell_for_each_head():
    cells = metric_cells(metrics_of([1.0, -1.0], [1.0, 1.0]))
    assert len(cells) == len(METRIC_HEADS)
    assert len(metric_cells(metrics_of([1.0]))) == len(METRIC_HEADS)
    text = table(("a", *METRIC_HEADS), [["x", *cells]])
    assert {line.count("|") for line in text.splitlines()} == {len(METRIC_HEADS) + 2}


def test_evidence_is_a_root_mean_square():
    assert Evidence("focal length", (3.0, -4.0)).rms == pytest.approx(math.sqrt(12.5))
