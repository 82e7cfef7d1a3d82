"""Crotch and floor clicked by a person, on a sample picture whose truth is known."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from pose_fit.errors import InputError
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.click_error import ON_BODY_SD_LEGS
from pose_fit.photo.photo import Photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.sights.clicked import GUESS_SD_PART, Place, clicked_crotch
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests import samples
from tests.drawn_children import MODEL, drawn_children
from tests.drawn_children import measured as drawn_measured

SAMPLE = "sheet_3"


def told(
    picture: Photo | None = None, *, crotch_px: Place | None = None, floor_px: Place | None = None
) -> PhotoMeasurement | Refusal:
    return measure_photo(
        picture or samples.photo(SAMPLE),
        PhotoTask(
            ReferenceRequest("sheet"),
            Stated(soles_mm=0.0, heels_down=True, crotch_px=crotch_px, floor_px=floor_px),
        ),
        pose=samples.KnownBody(samples.body(SAMPLE)),
    )


def measured(picture: Photo | None = None, **clicks: Place) -> PhotoMeasurement:
    result = told(picture, **clicks)
    assert isinstance(result, PhotoMeasurement), result
    return result


def place(point_px: NDArray[np.float64], *, lower_px: float = 0.0) -> Place:
    return float(point_px[0]), float(point_px[1]) + lower_px


def sources(measurement: PhotoMeasurement) -> dict[str, float]:
    return {line.source: line.sd_mm for line in measurement.inseam.length.budget}


@cache
def untouched() -> PhotoMeasurement:
    return measured()


def crotch() -> NDArray[np.float64]:
    seen = untouched().observed.crotch
    assert seen is not None
    return seen.point_px


def toes() -> NDArray[np.float64]:
    seen = untouched().sights.toes_px
    assert seen is not None
    lowest: NDArray[np.float64] = seen.mean(axis=0)
    return lowest


def test_clicks_where_the_program_looked_change_little_but_are_less_sure() -> None:
    clicked = measured(crotch_px=place(crotch()), floor_px=place(toes()))
    assert abs(clicked.inseam.mean_mm - untouched().inseam.mean_mm) < 5
    # A click ends the doubt which place is meant, and under the likeliest choice errs by more.
    one, other = (each.reading.hypotheses[0].sd_mm for each in (clicked, untouched()))
    assert one > other
    low_mm, high_mm = clicked.inseam.interval95_mm
    assert low_mm <= samples.facts(SAMPLE)["inseam_mm"] <= high_mm


def test_each_click_has_a_line_of_the_budget_and_the_clothes_keep_theirs() -> None:
    found = sources(untouched())
    assert {"crotch edge", "floor", "clothing"} <= set(found)
    assert not {"crotch click", "floor click"} & set(found)
    clicked = sources(measured(crotch_px=place(crotch()), floor_px=place(toes())))
    assert {"crotch click", "floor click", "clothing", "foot length"} <= set(clicked)
    assert "crotch edge" not in clicked


def test_a_lower_crotch_is_a_shorter_inseam_and_a_lower_floor_a_longer_one() -> None:
    by_px = 7.0
    higher, lower = (
        measured(crotch_px=place(crotch(), lower_px=by)).inseam.mean_mm for by in (-by_px, by_px)
    )
    assert higher > lower + 2
    # A floor clicked much too low would look like raised heels, and be refused.
    higher, lower = (
        measured(floor_px=place(toes(), lower_px=by)).inseam.mean_mm for by in (-by_px, 2.0)
    )
    # Most of it is taken for a child nearer to the camera, whose toes look lower too.
    assert lower > higher + 0.3


def test_a_click_errs_by_its_part_of_a_leg_in_the_reading_that_it_ends() -> None:
    """Known answer: with the crotch shifted by one standard uncertainty the reading shifts so."""
    by_px = ON_BODY_SD_LEGS * untouched().sights.body.leg_px
    straight_mm = untouched().legs.straight_mm
    readings = [
        {(one.top, one.floor): one.value_mm for one in measured(crotch_px=clicked).reading.readings}
        for clicked in (place(crotch()), place(crotch(), lower_px=by_px))
    ]
    shift_mm = readings[0]["crotch", "toes"] - readings[1]["crotch", "toes"]
    # The picture's leg ends at the landmarks and the crotch hangs before it: within a tenth.
    assert shift_mm == pytest.approx(ON_BODY_SD_LEGS * straight_mm, rel=0.1)


def test_through_cloth_without_a_line_a_click_is_a_guess() -> None:
    body = samples.body(SAMPLE)
    pixels = samples.photo(SAMPLE).pixels.copy()
    hips, knees = (
        samples.photo(SAMPLE).working_px(body.points_px(pair))
        for pair in (("left_hip", "right_hip"), ("left_knee", "right_knee"))
    )
    # A plain skirt from above the hips to the knees.
    left, right = int(hips[:, 0].min()) - 45, int(hips[:, 0].max()) + 45
    pixels[int(hips[:, 1].min()) - 40 : int(knees[:, 1].max()), left:right] = (90, 60, 120)
    skirt = replace(samples.photo(SAMPLE), pixels=pixels)
    assert measured(skirt).observed.crotches == ()
    clicked = measured(skirt, crotch_px=place(crotch()))
    assert clicked.sights.crotch is not None
    assert clicked.sights.crotch.edge_sd_px >= GUESS_SD_PART * body.leg_px
    assert "crotch_guessed" in {notice.code for notice in clicked.inseam.warnings}
    assert "clothing" in sources(clicked)
    seen = measured(crotch_px=place(crotch())).sights.crotch
    assert seen is not None
    assert clicked.sights.crotch.edge_sd_px > 2 * seen.edge_sd_px


def test_a_guess_through_cloth_leaves_every_drawn_child_less_sure_than_a_click_at_a_line() -> None:
    """The inseam itself, whatever network is shipped; and the wider interval holds the truth."""
    rng = np.random.default_rng(3)
    held, ratios = [], []
    # Errors are drawn as large as each source says, so that the sources count in full.
    full = replace(MODEL, interval_factor=1.0)
    for child in drawn_children(80):
        sights, body = child.sights, child.sights.body
        point_px = sights.crotches[0].point_px
        click, guess = (
            drawn_measured(
                replace(sights, crotches=clicked_crotch(body, place(point_px), seen=seen))
            ).inseam
            for seen in (sights.crotches, ())
        )
        ratios.append(guess.sd_mm / click.sd_mm)
        off_px = float(rng.normal(0, GUESS_SD_PART * body.leg_px))
        guessed = clicked_crotch(body, place(point_px, lower_px=off_px), seen=())
        wide = drawn_measured(replace(sights, crotches=guessed), model=full)
        low_mm, high_mm = wide.inseam.interval95_mm
        held.append(low_mm <= child.inseam_mm <= high_mm)
    assert min(ratios) > 1
    assert np.median(ratios) > 1.1
    assert np.mean(held) >= 0.9


def test_a_click_far_from_its_part_of_the_body_is_refused() -> None:
    knees = untouched().sights.body.points_px(("left_knee", "right_knee")).mean(axis=0)
    refused = told(crotch_px=place(toes()), floor_px=place(knees))
    assert isinstance(refused, Refusal)
    codes = {reason.code for reason in refused.reasons}
    assert codes == {"crotch_click_elsewhere", "floor_click_elsewhere"}


@pytest.mark.parametrize("clicked", [(-20.0, 10.0), (10.0, 1e6), (float("nan"), 5.0)])
def test_a_click_outside_the_picture_is_a_wrong_call(clicked: Place) -> None:
    with pytest.raises(InputError, match="floor: wanted a place in the picture of"):
        told(floor_px=clicked)
