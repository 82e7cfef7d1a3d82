import numpy as np
import pytest

from pose_fit.errors import ReferenceObjectError
from pose_fit.reference.find_reference import find_reference
from pose_fit.reference.reference import CircleReference, PointReference
from pose_fit.reference.request import REFERENCE_KINDS, ReferenceRequest
from pose_fit.refusal import Refusal

CORNERS_PX = np.array([[100.0, 100], [300, 110], [305, 390], [95, 380]])
RIM_PX = np.array([[500.0 + 90 * np.cos(a), 400 + 90 * np.sin(a)] for a in np.arange(0, 6, 0.7)])


@pytest.fixture
def seen(photo_of, standing):
    photo = photo_of(np.full((800, 600), 120, np.uint8), scale=2.0)
    return photo, standing(photo, hips_px=(600, 700), leg_px=500)


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ({"kind": "shoe"}, "unknown reference 'shoe'; wanted one of auto, sheet, letter, a4, door"),
        ({"kind": "wheel"}, "wheel: wanted its size, found none"),
        ({"kind": "wheel", "size_mm": 507}, "wheel: wanted the width of a tyre, found None"),
        ({"kind": "a4", "width_mm": 47}, "a4: wanted no width of a tyre, found 47"),
        ({"kind": "a4", "size_mm": 297}, "a4: its size is known; wanted none, found 297 mm"),
        ({"kind": "sheet", "size_mm": 190}, "sheet: its size is known"),
        ({"kind": "length", "points_px": CORNERS_PX[:2]}, "length: wanted its size"),
        ({"kind": "length", "size_mm": 900}, "length: wanted its two ends"),
        ({"kind": "door"}, "door: wanted its four corners"),
        ({"kind": "door", "size_mm": 80, "points_px": CORNERS_PX}, "wanted a size of 1500 to 2800"),
        (
            {"kind": "wheel", "size_mm": 20, "width_mm": 2},
            "wanted a size of 200 to 800 mm, found 20",
        ),
        ({"kind": "wheel", "size_mm": float("nan"), "width_mm": 47}, "found nan mm"),
        ({"kind": "sheet", "points_px": CORNERS_PX}, "sheet: its markers are found by themselves"),
        ({"kind": "a4", "ruler_mm": 180}, "only the printed pages have a ruler"),
        ({"kind": "sheet", "ruler_mm": 18}, "should measure 153 to 207 mm, found 18 mm"),
    ],
)
def test_impossible_requests_say_what_was_wanted(asked, message):
    with pytest.raises(ReferenceObjectError, match=message):
        ReferenceRequest(**asked)


def test_where_each_kind_usually_is():
    assert ReferenceRequest("wheel", size_mm=507, width_mm=47).placement == "beside"
    assert ReferenceRequest("a4").placement == "wall"
    assert ReferenceRequest("a4", placement="beside").placement == "beside"
    assert ReferenceRequest("sheet").placement == "wall"


@pytest.mark.parametrize(
    ("request_", "type_"),
    [
        (ReferenceRequest("letter", points_px=CORNERS_PX), PointReference),
        (ReferenceRequest("a4", points_px=CORNERS_PX), PointReference),
        (ReferenceRequest("door", points_px=CORNERS_PX), PointReference),
        (ReferenceRequest("length", size_mm=900, points_px=CORNERS_PX[:2]), PointReference),
        (
            ReferenceRequest("wheel", size_mm=507, width_mm=47, points_px=RIM_PX),
            CircleReference,
        ),
    ],
)
def test_points_make_the_reference_that_was_asked_for(seen, request_, type_):
    photo, body = seen
    reference = find_reference(photo, body, request_)
    assert isinstance(reference, type_)
    assert reference.kind == request_.kind
    assert reference.placement == request_.placement
    np.testing.assert_array_equal(reference.image_px, request_.points_px)


@pytest.mark.parametrize(
    "request_",
    [
        ReferenceRequest("sheet"),
        ReferenceRequest("letter"),
        ReferenceRequest("a4"),
        ReferenceRequest("wheel", size_mm=507, width_mm=47),
    ],
)
def test_what_is_not_there_is_refused(seen, request_):
    photo, body = seen
    found = find_reference(photo, body, request_)
    assert isinstance(found, Refusal)
    assert found.reasons[0].code == "reference_missing"
    assert found.remedies


def test_every_kind_is_known():
    known = {"sheet", "letter", "a4", "door", "wheel", "length", "height", "book", "auto"}
    assert set(REFERENCE_KINDS) == known
