"""The child as its own yardstick: made-up children, and the samples, whose heights are known."""

import datetime as dt

import numpy as np
import pytest

from pose_fit.anthropometry.child import Child
from pose_fit.errors import ReferenceObjectError
from pose_fit.measure import measure_photo
from pose_fit.reference.body_height import BodyHeight, height_reference
from pose_fit.reference.find_crown import find_crown
from pose_fit.reference.find_reference import find_reference
from pose_fit.reference.reference import PointReference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated
from tests import samples

LEG_PX, HIPS_PX = 400.0, (450.0, 620.0)
#: Top of the head in legs over the hips.
TOP = -1.3


@pytest.fixture
def child(photo_of, standing):
    """A child whose mask ends in a round head, and whose landmarks may lie elsewhere."""

    def make(moved=None, *, top=TOP, cut=0):
        photo = photo_of(np.zeros((1200, 900), np.uint8))
        body = standing(photo, hips_px=HIPS_PX, leg_px=LEG_PX, moved=moved, scatter_px=1e-3)
        rows, columns = np.indices((1200, 900))
        centre_y, radius = HIPS_PX[1] + (top + 0.22) * LEG_PX, 0.22 * LEG_PX
        off = np.hypot((columns - HIPS_PX[0]) * 1.3, rows - centre_y) - radius
        body.mask[:] = 0
        body.mask[(rows > HIPS_PX[1] - 0.9 * LEG_PX) & (abs(columns - HIPS_PX[0]) < 100)] = 1
        body.mask[:] = np.maximum(body.mask, np.clip(0.5 - off / 8, 0, 1))
        body.mask[:cut] = 0
        return photo, body

    return make


def test_the_crown_is_where_the_outline_ends(child):
    crown = find_crown(*child())
    np.testing.assert_allclose(crown.point_px, [HIPS_PX[0], HIPS_PX[1] + TOP * LEG_PX], atol=3)
    assert 1 < crown.sd_px < 12


def test_what_stands_on_the_head_hides_the_crown(child):
    photo, body = child()
    body.mask[:300, 380:520] = 1
    assert find_crown(photo, body) is None


def test_the_length_is_the_height_with_hair_less_the_ankles(child):
    photo, body = child()
    reference = height_reference(photo, body, BodyHeight(1250.0), None)
    assert isinstance(reference, PointReference)
    length_mm = np.ptp(reference.object_mm[:, 1])
    assert 1170 < length_mm < 1220
    np.testing.assert_allclose(reference.image_px[1], body.ankles_px)
    assert 10 / length_mm < reference.log_size_sd < 25 / length_mm


def test_an_unsure_height_is_a_less_sure_yardstick(child):
    photo, body = child()
    sure, unsure = (
        height_reference(photo, body, BodyHeight(1250.0, sd_mm), None) for sd_mm in (5.0, 30.0)
    )
    assert unsure.log_size_sd > 1.7 * sure.log_size_sd


def test_soles_count_where_the_floor_is_clicked(child):
    photo, body = child()
    clicked = np.array([[450.0, 100.0], [452.0, 1060.0]])
    bare, shod = (
        height_reference(photo, body, BodyHeight(1250.0, soles_mm=soles_mm), clicked)
        for soles_mm in (0.0, 30.0)
    )
    assert np.ptp(shod.object_mm[:, 1]) - np.ptp(bare.object_mm[:, 1]) == pytest.approx(30)
    upside_down = height_reference(photo, body, BodyHeight(1250.0), clicked[::-1])
    np.testing.assert_array_equal(upside_down.image_px, clicked)


@pytest.mark.parametrize(
    ("moved", "code"),
    [
        ({"left_eye": (0.04, -1.0), "right_eye": (-0.04, -1.0)}, "head_bowed"),
        ({"left_ear": (0.09, -1.1), "right_ear": (-0.09, -1.1)}, None),
    ],
)
def test_a_bowed_head_is_told_of(child, moved, code):
    found = height_reference(*child(moved), BodyHeight(1250.0), None)
    assert (
        ([one.code for one in found.reasons] == [code])
        if code
        else isinstance(found, PointReference)
    )


def test_the_stated_stature_serves_and_none_is_told(child):
    photo, body = child()
    request = ReferenceRequest("height")
    assert request.placement == "beside"
    by_child = find_reference(photo, body, request, child=Child(stature_mm=1250.0))
    by_size = find_reference(photo, body, ReferenceRequest("height", size_mm=1250.0))
    np.testing.assert_allclose(by_child.object_mm, by_size.object_mm)
    with pytest.raises(ReferenceObjectError, match="wanted the child’s height, found none"):
        find_reference(photo, body, request)


def test_a_height_of_last_year_has_grown(child):
    photo, body = child()
    then = dt.date.today() - dt.timedelta(days=365)
    now, old = (
        find_reference(
            photo,
            body,
            ReferenceRequest("height", size_mm=1250.0, measured_on=day),
            child=Child(age_y=8.0),
        )
        for day in (None, then)
    )
    assert 40 < np.ptp(old.object_mm[:, 1]) - np.ptp(now.object_mm[:, 1]) < 75
    assert old.log_size_sd > now.log_size_sd


@pytest.mark.parametrize("size_mm", [500.0, 2300.0])
def test_a_height_that_no_child_has(size_mm):
    with pytest.raises(ReferenceObjectError, match="height: wanted a size"):
        ReferenceRequest("height", size_mm=size_mm)


@pytest.mark.parametrize("name", ["sheet_2", "door_1", "letter_2", "wheel_2", "a4_1"])
def test_the_samples_by_their_height_alone(name):
    truth = samples.facts(name)
    task = PhotoTask(
        ReferenceRequest("height", size_mm=truth["stature_mm"]),
        Stated(soles_mm=truth["soles_mm"], heels_down=True),
    )
    result = measure_photo(samples.photo(name), task, pose=samples.pose())
    assert not isinstance(result, Refusal), str(result)
    low_mm, high_mm = result.inseam.interval95_mm
    assert low_mm <= truth["inseam_mm"] <= high_mm
