"""Clicks in real pictures, and the table that sets the finders against them."""

import numpy as np
import pytest

from calibration.real import sights
from calibration.real.clicks import clicked_people
from calibration.real.sights import SeenSights, report
from pose_fit.photo.photo import Photo


def test_everybody_was_clicked_twice_inside_their_own_part_of_the_picture() -> None:
    people = clicked_people()
    assert len(people) >= 40
    for person in people:
        left, top, right, bottom = person.box_px
        points = np.concatenate([person.crotch_px, person.toes_px.reshape(-1, 2)])
        known = points[np.isfinite(points).all(axis=1)]
        assert len(known) >= 2
        assert ((known >= [left, top]) & (known <= [right, bottom])).all()
        apart = np.abs(np.diff(person.toes_px[..., 1], axis=0))
        assert np.nanmax(apart, initial=0.0) < 0.03 * (bottom - top)


def test_a_part_of_a_large_picture_keeps_its_scale() -> None:
    pixels = np.zeros((100, 200, 3), np.uint8)
    photo = Photo("x", pixels, 400, 200, None, False, None)
    part, corner_px = sights._cut_out(photo, (100, 20, 300, 180))
    assert part.pixels.shape == (80, 100, 3)
    assert (part.width_px, part.height_px) == (200, 160)
    assert part.working_scale == pytest.approx(photo.working_scale)
    assert corner_px == pytest.approx([100, 20])


def _seen(error: float | None, apart: float = 0.0) -> SeenSights:
    errors = {} if error is None else {"crotch: line by rule": error}
    return SeenSights(
        "one", 300.0, errors, {"crotch": apart, "toes": 0.0}, frozenset({"crotch"}), 0.2
    )


def test_the_report_counts_what_is_found_and_how_far_off_it_is() -> None:
    people = [_seen(-0.01), _seen(0.01), _seen(0.03), _seen(0.20), _seen(None)]
    row = next(line for line in report(people).splitlines() if line.startswith("| crotch: line"))
    cells = [cell.strip() for cell in row.strip("|").split("|")]
    assert cells[1:4] == ["5", "4", "+2.0 %"]
    assert cells[5] == "25 %"


def test_two_clicks_differ_by_more_than_one_click_is_off() -> None:
    # Errors of one click with standard deviation 1 % differ by sqrt(2) %.
    apart = np.random.default_rng(1).normal(0, 0.01 * np.sqrt(2), 4000)
    told = report([_seen(0.0, float(one)) for one in apart])
    line = next(line for line in told.splitlines() if "scatter, crotch" in line)
    assert float(line.split(": ")[1].split(" %")[0]) == pytest.approx(1.0, abs=0.06)


def test_where_the_pose_model_puts_the_hips_is_told_beside_rendered_children() -> None:
    line = next(line for line in report([_seen(0.0)] * 3).splitlines() if "puts the hips" in line)
    assert "20.0 % of the leg" in line
