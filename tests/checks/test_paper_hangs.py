"""A piece of wall between the legs of a stool is no sheet of paper."""

import numpy as np
import pytest

from pose_fit.checks.paper_hangs import check_paper_hangs
from pose_fit.reference.from_points import rectangle_mm
from pose_fit.reference.reference import PointReference, ReferenceKind
from pose_fit.reference.request import ReferenceRequest
from pose_fit.sights.candidates import WallBaseCandidate

#: A wall base that rises to the right.
BASE = np.array([[100.0, 1000.0], [500.0, 980.0]])


def paper(above_px: float, *, kind: ReferenceKind = "letter") -> PointReference:
    """A sheet at the right whose lower side runs so far above the wall base."""
    low = np.array([[600.0, 975.0], [800.0, 965.0]]) - [0.0, above_px]
    corners_px = np.array([low[0] - [0, 260], low[1] - [0, 260], low[1], low[0]])
    return PointReference(
        kind=kind,
        placement="wall",
        object_mm=rectangle_mm(215.9, 279.4),
        image_px=corners_px,
        point_sd_px=0.4,
        log_size_sd=0.002,
        log_aspect_sd=0.003,
    )


@pytest.mark.parametrize(
    ("above_px", "is_refused"), [(-10, True), (0, True), (15, True), (60, False)]
)
def test_what_ends_at_the_floor_is_no_paper_on_the_wall(above_px: float, is_refused: bool) -> None:
    bases = (WallBaseCandidate(BASE, 0.9),)
    refusal = check_paper_hangs(paper(above_px), ReferenceRequest("letter"), bases)
    assert (refusal is not None) == is_refused
    if refusal is not None:
        assert [one.code for one in refusal.reasons] == ["paper_unsure"]


def test_nothing_is_said_of_clicked_paper_of_marks_or_where_no_wall_base_is_seen() -> None:
    sure, unsure = WallBaseCandidate(BASE, 0.9), WallBaseCandidate(BASE, 0.3)
    found = ReferenceRequest("letter")
    clicked = ReferenceRequest("letter", points_px=((1, 1), (2, 1), (2, 2), (1, 2)))
    assert check_paper_hangs(paper(0), clicked, (sure,)) is None
    assert check_paper_hangs(paper(0, kind="sheet"), ReferenceRequest("sheet"), (sure,)) is None
    assert check_paper_hangs(paper(0), found, (unsure,)) is None
    assert check_paper_hangs(paper(0), found, ()) is None
