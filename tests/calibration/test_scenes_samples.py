"""The sample photos: kind conditions, and files a user and the tests can rely on."""

import json
from collections import Counter
from pathlib import Path

import pytest
from PIL import Image

from calibration.scenes.samples import SAMPLES, Sample, sample_scene

FOLDER = Path(__file__).parents[2] / "sample_images"


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.name)
def test_samples_stand_as_the_instructions_ask(sample: Sample) -> None:
    scene = sample_scene(sample, index=SAMPLES.index(sample))
    assert scene.dress.legwear in ("snug", "regular", "shorts")
    assert 120 <= scene.stance.ankle_separation_mm <= 190
    assert abs(scene.stance.turn_deg) <= 4
    assert scene.stance.heel_gap_mm - scene.place.skirting_depth_mm <= 5
    assert 2000 <= scene.view.distance_mm <= 2400
    assert scene.film.exif_focal_35mm == 26
    assert scene.person.age_years == sample.age_years


def test_there_are_two_or_more_of_each_main_kind() -> None:
    kinds = Counter(sample.kind for sample in SAMPLES)
    assert kinds["sheet"] >= 2
    assert kinds["letter"] >= 2
    assert kinds["door"] >= 2
    assert kinds["wheel"] >= 2
    assert len(SAMPLES) >= 8


def test_the_files_are_small_and_the_truths_complete() -> None:
    total = 0
    for sample in SAMPLES:
        photo = FOLDER / f"{sample.name}.jpg"
        total += photo.stat().st_size
        assert photo.stat().st_size < 450_000
        truth = json.loads((FOLDER / f"{sample.name}.json").read_text(encoding="utf-8"))
        assert truth["photo"] == photo.name
        assert truth["reference"] == sample.kind
        assert truth["age_years"] == sample.age_years
        # Crotch height is .38 to .52 of stature at these ages (measured children, see data).
        assert 0.38 < truth["inseam_mm"] / truth["stature_mm"] < 0.52
        with Image.open(photo) as image:
            assert image.size == (1200, 1600)
            assert image.getexif().get_ifd(0x8769)[0xA405] == truth["exif_focal_35mm"]
            width_px, height_px = image.size
        if truth["points"] is not None:
            points = [tuple(map(float, pair.split(","))) for pair in truth["points"].split()]
            assert len(points) == {"length": 2, "wheel": 12}.get(sample.kind, 4)
            assert all(0 < x < width_px and 0 < y < height_px for x, y in points)
        if sample.kind in ("door", "length"):
            assert truth["points"] in truth["arguments"]
    assert total < 4_000_000
