from collections import Counter
from dataclasses import asdict, replace

import numpy as np
import pytest

from calibration.scenes.draw import draw_scene
from calibration.scenes.draw_reference import KIND_SHARES, reference_kind
from calibration.scenes.scene import Bar, Door, Paper, Person, Scene, Wheel


def scene(seed: int, index: int, photo: int = 0) -> Scene:
    return draw_scene(seed=seed, index=index, photo=photo, width_px=900, height_px=1200)


def test_scene_depends_on_its_seed_and_index_only() -> None:
    alone = scene(1, 17)
    for index in range(17):
        scene(1, index)
    assert scene(1, 17) == alone
    assert scene(2, 17) != alone
    assert scene(1, 18).person != alone.person


def test_photos_of_one_child_share_the_child_and_its_things_but_not_the_shot() -> None:
    first, second = scene(2, 3, 0), scene(2, 3, 1)
    for shared in ("person", "dress", "place", "reference"):
        assert getattr(first, shared) == getattr(second, shared)
    for own in ("stance", "view", "film"):
        assert getattr(first, own) != getattr(second, own)
    assert first.name != second.name


@pytest.mark.parametrize("count", [20, 50, 137, 260])
def test_every_prefix_keeps_the_shares_of_kinds(count: int) -> None:
    found = Counter(reference_kind(index) for index in range(count))
    for kind, share in KIND_SHARES.items():
        assert abs(found[kind] - share / 100 * count) <= 1.5, kind


def test_shares_are_a_whole() -> None:
    assert sum(KIND_SHARES.values()) == pytest.approx(100)


def test_most_scenes_meet_the_conditions_of_the_limits() -> None:
    drawn = [scene(1, index) for index in range(260)]
    plain = [
        s
        for s in drawn
        if s.dress.legwear not in ("loose", "hidden") and s.stance.heel_gap_mm <= 50
    ]
    assert 0.62 <= len(plain) / len(drawn) <= 0.8
    # Half of them are enough for the groups the limits name.
    kinds = Counter(reference_kind(s.index) for s in plain)
    assert kinds["sheet"] >= 48
    assert kinds["letter"] + kinds["a4"] >= 32
    assert kinds["door"] >= 20
    assert kinds["wheel"] >= 24


def test_draws_stay_inside_their_stated_ranges() -> None:
    for index in range(200):
        s = scene(1, index)
        assert 2 <= s.person.age_years <= 14
        assert abs(s.stance.turn_deg) <= 20
        assert 0 <= s.stance.knee_bend_deg <= 15
        assert 50 <= s.stance.ankle_separation_mm <= 350
        assert s.place.skirting_depth_mm <= s.stance.heel_gap_mm <= 100
        assert s.dress.soles_mm == 0 or 8 <= s.dress.soles_mm <= 30
        assert 1200 <= s.view.distance_mm <= 4000
        assert 500 <= s.view.height_mm <= 1700
        assert abs(s.view.k1) <= (0.05 if s.view.focal_35mm < 20 else 0.025)
        if s.film.exif_focal_35mm is not None:
            assert s.film.exif_focal_35mm == pytest.approx(s.view.focal_35mm, rel=0.06)
        else:
            assert s.film.treatment in ("messenger", "stripped")


def test_a_plain_page_hangs_on_a_wall_that_is_not_white() -> None:
    for index in range(200):
        s = scene(1, index)
        if isinstance(s.reference, Paper) and s.reference.kind != "sheet":
            assert max(s.place.wall_rgb) < 0.65


def test_references_have_their_standard_sizes() -> None:
    for index in range(120):
        reference = scene(3, index).reference
        if isinstance(reference, Wheel):
            # ISO 5775: outside diameter is bead seat plus twice the section width.
            width, bead = (int(part) for part in reference.code.split("-"))
            assert reference.nominal_diameter_mm == bead + 2 * width
            assert abs(reference.true_diameter_mm / reference.nominal_diameter_mm - 1) <= 0.02
        elif isinstance(reference, Door):
            assert reference.height_mm in (1981, 2032, 2040)
        elif isinstance(reference, Bar):
            assert 600 <= reference.length_mm <= 1000
        elif reference.kind == "a4":
            # ISO 216: +-1.5 mm to 150 mm, +-2 mm above; ours stays within 1.5.
            assert abs(reference.width_mm - 210) <= 1.5
            assert abs(reference.height_mm - 297) <= 1.5


def test_about_half_of_the_sheets_have_a_measured_ruler_near_the_truth() -> None:
    sheets = [
        s.reference
        for s in (scene(1, index) for index in range(300))
        if isinstance(s.reference, Paper) and s.reference.kind == "sheet"
    ]
    measured = [sheet for sheet in sheets if sheet.ruler_mm is not None]
    assert 0.35 < len(measured) / len(sheets) < 0.65
    for sheet in measured:
        assert sheet.ruler_mm is not None
        assert abs(sheet.ruler_mm - 180 * sheet.print_scale) < 1.5
    scales = np.array([sheet.print_scale for sheet in sheets])
    assert 0.006 < scales.std() < 0.014


def test_faulty_parameters_are_refused_with_wanted_and_found() -> None:
    good = scene(1, 0)
    with pytest.raises(ValueError, match=r"wanted within 2\.\.14 years; found 20"):
        Person(**(asdict(good.person) | {"age_years": 20}))
    with pytest.raises(ValueError, match="soles wanted with shoes only"):
        replace(good.dress, footwear="bare", soles_mm=12.0)
