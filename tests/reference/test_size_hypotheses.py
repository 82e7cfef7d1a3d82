import numpy as np
import pytest

from pose_fit.reference.from_points import (
    DOOR_HEIGHT_MM,
    door_reference,
    paper_reference,
    wheel_reference,
)
from pose_fit.reference.request import ReferenceRequest
from pose_fit.reference.size_hypotheses import size_hypotheses

CORNERS_PX = np.array([[100.0, 100], [300, 110], [305, 390], [95, 380]])
RIM_PX = np.array([[500.0 + 90 * np.cos(a), 400 + 90 * np.sin(a)] for a in np.arange(0, 6, 0.7)])


@pytest.fixture
def photo(photo_of):
    return photo_of(np.zeros((800, 600), np.uint8), scale=2.0)


def door(photo, height_mm):
    reference = door_reference(photo, CORNERS_PX, height_mm=height_mm, placement="wall")
    return size_hypotheses(
        reference, ReferenceRequest("door", size_mm=height_mm, points_px=CORNERS_PX)
    )


def test_a_paper_may_be_the_other_one_lying_the_same_way(photo):
    paper = paper_reference(photo, CORNERS_PX, paper="a4", placement="wall", found=False)
    stated, other, *_ = size_hypotheses(paper, ReferenceRequest("a4"))
    assert (stated.reference.kind, other.reference.kind) == ("a4", "letter")
    assert np.ptp(other.reference.object_mm, axis=0) == pytest.approx((215.9, 279.4))
    assert other.times(stated) is None
    assert 0 < other.odds < stated.odds == 1


@pytest.mark.parametrize("kind", ["a4", "letter"])
def test_a_paper_may_be_any_other_that_people_have(photo, kind):
    paper = paper_reference(photo, CORNERS_PX, paper=kind, placement="wall", found=False)
    stated, _, *rarer = size_hypotheses(paper, ReferenceRequest(kind))
    assert {"A3", "A5", "A6", "B5", "Legal", "Tabloid", "half Letter"} == {
        one.name for one in rarer
    }
    assert all(0 < one.odds <= 0.05 for one in rarer)
    series = {one.name: one for one in rarer if one.name in ("A3", "A5")}
    if kind == "a4":
        # Of one shape, so that no plane has to be solved for them.
        times = [series[name].times(stated) for name in ("A3", "A5")]
        assert times == pytest.approx([2**0.5, 0.5**0.5], rel=3e-3)
    # Half Letter and Tabloid are of one shape too: few shapes are solved, whatever their number.
    shapes: list = []
    for one in (stated, *rarer):
        if all(one.times(other) is None for other in shapes):
            shapes.append(one)
    assert len(shapes) <= 4


@pytest.mark.parametrize(
    ("stated_mm", "others_mm"),
    [
        (2032.0, {1981, 2040, 2134}),
        (1981.0, {2032, 2040, 2134}),
        (2100.0, {1981, 2032, 2040, 2134}),
    ],
)
def test_a_door_may_have_another_usual_height(photo, stated_mm, others_mm):
    heights_mm = [round(np.ptp(one.reference.object_mm[:, 1])) for one in door(photo, stated_mm)]
    assert heights_mm[0] == stated_mm
    assert set(heights_mm[1:]) == others_mm


def test_a_door_that_nobody_measured_may_well_be_another(photo):
    guessed, measured = door(photo, None), door(photo, DOOR_HEIGHT_MM)
    assert sum(one.odds for one in guessed) > 1.6
    assert sum(one.odds for one in measured) < 1.2


def test_a_tyre_may_have_a_neighbouring_width_or_rim(photo):
    wheel = wheel_reference(
        photo,
        RIM_PX,
        diameter_mm=601.0,
        width_mm=47.0,
        diameter_sd_mm=3.0,
        placement="beside",
        found=False,
    )
    request = ReferenceRequest("wheel", size_mm=601.0, width_mm=47.0)
    names = {one.name for one in size_hypotheses(wheel, request)}
    assert names == {
        "a 24 in wheel (47-507)",
        "a 24 in wheel (37-507)",
        "a 24 in wheel (57-507)",
        "a 20 in wheel (47-406)",
        "a 26 in wheel (47-559)",
    }
    by_name = {one.name: one for one in size_hypotheses(wheel, request)}
    larger = by_name["a 26 in wheel (47-559)"]
    assert 2 * larger.reference.radius_mm == pytest.approx(559 + 2 * 47)
    assert larger.times(by_name["a 24 in wheel (47-507)"]) == pytest.approx(653 / 601)
    # Whoever looks at the tyre finds one of the two markings there, not both.
    assert larger.tell == "the tyre’s side says 47-559, or near 26 x 1.9"
