"""The picture with its marks: the lines that gave the number, a legend, and what a refusal found."""

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from PIL import Image, ImageDraw
from typer.testing import CliRunner

from pose_fit.body.body import PoseModel
from pose_fit.cli.main import app
from pose_fit.cli.options import EXIT_REFUSED
from pose_fit.drawing.legend import Entry, draw_legend
from pose_fit.drawing.marks import SCALE_MM, picture_marks
from pose_fit.drawing.overlay import overlay_picture, refused_picture
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.photo import Photo
from pose_fit.photogrammetry.projection import project
from pose_fit.reference.request import ReferenceRequest
from pose_fit.scene import PhotoRefusal
from pose_fit.sights.clicked import clicked_toes
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests import samples
from tests.drawn_children import drawn_children
from tests.drawn_children import measured as drawn_measured


def photo() -> Photo:
    return samples.photo("sheet_3")


def known() -> PoseModel:
    return samples.KnownBody(samples.body("sheet_3"))


def measured(**stated) -> PhotoMeasurement:
    task = PhotoTask(ReferenceRequest("sheet"), Stated(soles_mm=0.0, heels_down=True, **stated))
    result = measure_photo(photo(), task, pose=known())
    assert isinstance(result, PhotoMeasurement), result
    return result


def with_a_leg_raised() -> PoseModel:
    seen = samples.body("sheet_3")
    return samples.KnownBody(seen.with_points({"left_ankle": seen.point_px("left_knee")}))


def refused(task, pose=None) -> PhotoRefusal:
    result = measure_photo(photo(), task, pose=pose or known())
    assert isinstance(result, PhotoRefusal), result
    return result


@cache
def untouched() -> PhotoMeasurement:
    return measured()


def middle_y(line_px):
    return float(line_px[:, 1].mean())


def test_the_lines_are_an_inseam_apart_in_the_childs_plane():
    """Lengths along the arrow, by a ruler made of the plane itself."""
    measurement = untouched()
    marks, legs = picture_marks(measurement), measurement.legs
    ankles_mm = legs.ankles_mm.mean(axis=0)
    rule_mm = np.stack([ankles_mm, ankles_mm - 500 * legs.down])
    rule_px = photo().working_px(project(measurement.sights.plane.parameters, rule_mm))
    mm_a_pixel = 500 / math.dist(*rule_px)
    found_mm = mm_a_pixel * math.dist(*marks.arrow_px)
    straightened_mm = legs.upright_mm - float((ankles_mm - legs.hips_mm.mean(axis=0)) @ legs.down)
    # The crotch is drawn at the depth of the hips, which here are farther from the camera.
    assert found_mm == pytest.approx(measurement.inseam.mean_mm - straightened_mm, rel=0.05)


def test_a_floor_clicked_lower_moves_the_floor_line_with_the_inseam():
    """The reported case: 30 px lower moved the inseam but not the line."""
    base = untouched()
    toes_px = base.sights.toes_px.mean(axis=0)
    low, lower = (
        measured(floor_px=(float(toes_px[0]), float(toes_px[1]) + by_px)) for by_px in (0.0, 30.0)
    )
    longer_mm = lower.inseam.mean_mm - low.inseam.mean_mm
    assert longer_mm > 2
    first, second = picture_marks(low), picture_marks(lower)
    floor_moved_px = middle_y(second.floor_px) - middle_y(first.floor_px)
    crotch_moved_px = middle_y(first.crotch_px) - middle_y(second.crotch_px)
    px_a_mm = first.scale_px / SCALE_MM
    assert floor_moved_px > 0
    # The camera looks down a little, so that heights are drawn shorter than widths.
    assert floor_moved_px + crotch_moved_px == pytest.approx(longer_mm * px_a_mm, rel=0.2)


def test_a_floor_clicked_lower_moves_the_floor_line_by_most_of_what_it_adds():
    """Drawn children, whatever network is shipped: the floor was moved, not the crotch."""
    shares, together = [], []
    for child in drawn_children(40):
        sights = child.sights
        x_px, y_px = sights.toes_px.mean(axis=0)
        low, lower = (
            drawn_measured(replace(sights, toes=clicked_toes((x_px, y_px + by_px))))
            for by_px in (0.0, 0.04 * sights.body.leg_px)
        )
        first, second = picture_marks(low), picture_marks(lower)
        longer_px = (lower.inseam.mean_mm - low.inseam.mean_mm) * first.scale_px / SCALE_MM
        floor_px = middle_y(second.floor_px) - middle_y(first.floor_px)
        crotch_px = middle_y(first.crotch_px) - middle_y(second.crotch_px)
        shares.append(floor_px / longer_px)
        together.append((floor_px + crotch_px) / longer_px)
    assert np.mean(np.array(shares) > 0.5) >= 0.9
    assert np.median(shares) > 0.6
    # Both together move by what the inseam does, drawn shorter by a camera that looks down by 20°
    # at most; where another hypothesis takes over, by less.
    assert np.median(together) == pytest.approx(1, abs=0.1)
    assert np.mean(np.abs(np.array(together) - 1) < 0.2) >= 0.8


def test_the_crotch_line_lies_near_where_the_legs_part():
    """Cloth hangs below the crotch by a few centimetres at most, which lies before the hips' depth."""

    def away_mm(measurement):
        marks = picture_marks(measurement)
        away_px = marks.seen_crotch_px[1] - middle_y(marks.crotch_px)
        return away_px * SCALE_MM / marks.scale_px

    measured = [drawn_measured(child.sights) for child in drawn_children(60)]
    # Of a child or two the legs alone are believed.
    drawn_mm = [away_mm(one) for one in measured if one.reading.likeliest.crotch is not None]
    assert len(drawn_mm) >= 55
    assert 0 < np.median(drawn_mm) < 35
    assert all(-20 < each_mm < 60 for each_mm in drawn_mm)
    assert -20 < away_mm(untouched()) < 60


def test_the_picture_keeps_its_size_and_hides_the_face():
    picture = overlay_picture(untouched())
    height, width = photo().pixels.shape[:2]
    assert picture.size == (width, height)
    centimetres = overlay_picture(untouched(), unit="cm")
    assert np.abs(np.asarray(picture, int) - np.asarray(centimetres, int)).sum() > 0


@pytest.mark.parametrize("kind", ["sheet", "auto"])
def test_a_refused_photo_shows_what_was_found(kind):
    refusal = refused(PhotoTask(ReferenceRequest(kind)), pose=with_a_leg_raised())
    assert np.array_equal(refusal.reference.image_px, untouched().sights.reference.image_px)
    alone = replace(refusal, reference=None)
    lacking = replace(alone, has_no_object=True)
    shown = [refused_picture(photo(), told) for told in (refusal, alone, lacking)]
    assert len({picture.tobytes() for picture in shown}) == 3


def test_an_object_that_is_not_there_is_said_to_be_missing():
    refusal = refused(PhotoTask(ReferenceRequest("book")))
    assert refusal.body is not None
    assert refusal.reference is None
    assert refusal.has_no_object


def test_points_that_cannot_be_used_still_show_a_person_who_cannot_be_measured():
    """What is wrong with the person is said first, so the points take no part."""
    task = PhotoTask(ReferenceRequest("door", size_mm=2032.0, points_px=((1.0, 1.0),) * 4))
    refusal = refused(task, pose=with_a_leg_raised())
    assert (refusal.reference, refusal.has_no_object) == (None, False)
    assert refused_picture(photo(), refusal) is not None


def test_a_photo_of_nobody_has_no_picture():
    refusal = refused(PhotoTask(ReferenceRequest("sheet")), pose=samples.KnownBody(None))
    assert refused_picture(photo(), refusal) is None


@pytest.mark.parametrize("busy", [(0.2, 0.2), (0.8, 0.2), (0.2, 0.8), (0.8, 0.8)])
def test_the_legend_leaves_busy_corners_alone(busy):
    glass = Image.new("RGBA", (900, 900), (0, 0, 0, 0))
    place = np.array(busy) * 900
    points = place + np.random.default_rng(1).uniform(-100, 100, (50, 2))
    entries = [Entry("line", (0, 0, 0), "floor under the heels")] * 5
    draw_legend(ImageDraw.Draw(glass), (900, 900), entries, points)
    alpha = np.asarray(glass)[..., 3]
    assert alpha.any()
    rows, columns = points[:, 1].astype(int), points[:, 0].astype(int)
    assert not alpha[rows, columns].any()


def test_the_command_writes_the_picture_of_a_refused_photo(tmp_path):
    out = tmp_path / "found.png"
    letter = samples.SAMPLES / "letter_1.jpg"
    call = ["measure", str(letter), "--reference", "sheet", "--overlay", str(out)]
    assert CliRunner().invoke(app, call).exit_code == EXIT_REFUSED
    with Image.open(out) as found, Image.open(letter) as taken:
        assert found.size == taken.size
