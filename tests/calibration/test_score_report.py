import csv
import gzip
import json
import math
import re

import numpy as np
import pytest
from PIL import Image

from calibration.observe import Observation
from calibration.score import ablation, analysis, decisions, priors, report
from calibration.score.files import COLUMNS, photo_row, write_photos, write_truths
from calibration.score.metrics import metrics_of
from calibration.score.priors import PriorErrors, taken_print_scale
from calibration.score.words import METRIC_HEADS, metric_cells, mm, percent, table
from calibration.scored import Refused, measured, refused, result_of
from pose_fit.inseam.error_model import error_model
from pose_fit.reference.printed_sheet import marker_corners_mm
from pose_fit.reference.reference import PointReference
from pose_fit.refusal import Notice, Refusal
from tests.calibration.scored_photos import truth_of
from tests.calibration.seen_child import child_truth, seen_child


def _refused_photo(index, *, seed=3):
    refusal = Refusal((Notice("reference_missing", "The sheet was not found."),))
    truth = child_truth(index=index, seed=seed, photo=f"{seed:02}_{index:04}_0.jpg")
    return Observation(truth, refusal, None)


def test_refused_photos_are_kept_apart_not_dropped():
    results = [result_of(_refused_photo(index), model=error_model()) for index in (2, 3)]
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
    assert row["world"] == "bench"


def test_the_world_of_a_photo_is_told():
    assert photo_row(Refused(truth_of(world="draped"), ()))["world"] == "draped"


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
    assert PriorErrors("focal length", (3.0, -4.0)).rms == pytest.approx(math.sqrt(12.5))


@pytest.mark.parametrize("seen", [slice(0, 4), slice(1, 3)])
def test_taken_print_scale_is_of_the_markers_centres_not_of_their_look(seen):
    known_mm = np.stack(list(marker_corners_mm().values()))[seen]
    centres_mm = known_mm.mean(axis=1, keepdims=True)
    thicker_mm = centres_mm + 1.04 * (known_mm - centres_mm)
    sheet = PointReference(
        kind="sheet",
        placement="wall",
        object_mm=(0.97 * thicker_mm).reshape(-1, 2),
        image_px=np.zeros((4 * len(known_mm), 2)),
        point_sd_px=1.0,
        log_size_sd=0.01,
        log_aspect_sd=0.001,
    )
    assert taken_print_scale(sheet) == pytest.approx(0.97)


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """Eight made-up photos of two worlds, two of them refused."""
    folder = tmp_path / "bench"
    folder.mkdir()
    observations, photos = [], []
    for index in range(8):
        world = "suit" if index < 4 else "draped"
        photo = f"03_{index:04}_0.jpg"
        Image.new("RGB", (900, 1200)).save(folder / photo)
        if index in (0, 4):
            observations.append(_refused_photo(index))
            continue
        item = seen_child(crotch_down_px=index - 4.0, index=index, world=world, photo=photo)
        photos.append((folder / photo, item.truth))
        observations.append(Observation(item.truth, None, item.sights))
    for module in (analysis, report):
        monkeypatch.setattr(module, "observe_folder", lambda folder: list(observations))
    for module in (ablation, priors):
        monkeypatch.setattr(module, "read_photos", lambda folder: photos)
    models = {name: error_model() for name in ("suit", "draped", "bench")}
    monkeypatch.setattr(analysis, "left_out_models", lambda observations: models)
    monkeypatch.setattr(decisions, "DRAWS", 2)
    return folder


def test_report_of_a_whole_bench(bench, tmp_path):
    out = tmp_path / "results"
    said = report.write_report(bench, out=out)
    assert said.startswith("6 photos scored")
    text = (out / "report.md").read_text(encoding="utf-8")
    for title in (
        "The limits",
        "Each world left out",
        "Refused",
        "Errors by group",
        "The budget against what was seen",
        "The largest errors",
        "What each part bought",
        "Baselines on the same photos",
        "Decisions",
        "Several photos of one child",
        "The bodies beside measured people",
    ):
        assert f"## {title}\n" in text
    assert "| sheet: MAE | at most 6.0 |" in text
    assert "| door: MAE | at most 10.0 | – | 0 of 10 wanted | not judged | – |" in text
    assert "| draped | asked | 3 |" in text
    # Six children, one photo each: several photos of a child can only be drawn.
    assert "A simulation" in text
    plots = re.findall(r"\]\((\w+\.png)\)", text)
    assert len(plots) == 6
    for plot in plots:
        assert 1000 < (out / plot).stat().st_size < 80_000
    with (out / "photos.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 8
    assert sum(bool(row["refused"]) for row in rows) == 2
    assert str(tmp_path) not in text


def test_nothing_to_score(tmp_path, monkeypatch):
    monkeypatch.setattr(analysis, "observe_folder", lambda folder: [_refused_photo(2)])
    monkeypatch.setattr(analysis, "left_out_models", lambda observations: {"bench": error_model()})
    with pytest.raises(ValueError, match="wanted measured photos in scope"):
        analysis.analyse(tmp_path)
