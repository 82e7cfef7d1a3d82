"""The end of the line between the legs, in drawn pictures whose crotch is known."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Notice
from pose_fit.sights.crotch import CrotchPoint, find_crotch
from tests.drawn import photo_of, standing_body

WIDTH_PX, HEIGHT_PX = 600, 900
HIP_Y_PX, ANKLE_Y_PX = 260.0, 760.0
LEG_PX = ANKLE_Y_PX - HIP_Y_PX
#: No crotch is looked for above this, a twentieth of a leg below the hips.
HIGHEST_Y_PX = HIP_Y_PX + 0.05 * LEG_PX
CLOTH, WALL = np.array([70, 90, 140]), np.array([205, 200, 190])


def drawn(
    *,
    crotch_y_px: float = 340.0,
    gap_px: float = 8.0,
    crease_px: float = 40.0,
    hem_y_px: float = 270.0,
    noise: float = 1.5,
) -> Photo:
    """Two legs parted by a gap up to the crotch; above it a crease that fades."""
    y, x = np.mgrid[0:HEIGHT_PX, 0:WIDTH_PX].astype(float)
    aside = np.abs(x - WIDTH_PX / 2)
    below = y - crotch_y_px
    opening_px = gap_px / 2 * np.clip(below / 30, 0.4, 1) * (below > 0)
    is_gap = aside < opening_px
    is_child = (aside < 95) & (y > 100) & (y < ANKLE_Y_PX + 30) & ~is_gap
    # Inside of the gap shade, as deep as at its lips; above it the crease grows shallower.
    depth = np.where(below > 0, 0.55, 0.55 * np.clip(1 + below / crease_px, 0, 1))
    shade = 1 - depth * np.exp(-((np.maximum(aside - opening_px, 0) / 5) ** 2))
    is_shirt = is_child & (y < hem_y_px)
    picture = np.where(is_child[..., None], CLOTH * shade[..., None], WALL)
    picture = np.where(is_gap[..., None], CLOTH * 0.45, picture)
    picture = np.where(is_shirt[..., None], [225, 60, 60], picture)
    return photo_of(picture, noise=noise, seed=5)


def body() -> Body:
    return standing_body(
        {"hip": HIP_Y_PX, "knee": 510.0, "ankle": ANKLE_Y_PX},
        middle_px=WIDTH_PX / 2,
        aside_px=48.0,
        mask=np.ones((HEIGHT_PX, WIDTH_PX), np.float32),
    )


def found(photo: Photo) -> CrotchPoint:
    crotch = find_crotch(photo, body())
    assert isinstance(crotch, CrotchPoint)
    return crotch


@given(st.floats(310.0, 390.0), st.floats(5.0, 30.0), st.floats(15.0, 60.0))
@settings(max_examples=20, deadline=None)
def test_the_end_is_where_the_gap_closes_however_long_the_crease_above_it(
    crotch_y_px: float, gap_px: float, crease_px: float
) -> None:
    assume(crotch_y_px - crease_px > HIGHEST_Y_PX)
    crotch = found(drawn(crotch_y_px=crotch_y_px, gap_px=gap_px, crease_px=crease_px))
    assert crotch.point_px[1] == pytest.approx(crotch_y_px, abs=0.035 * LEG_PX)
    assert crotch.point_px[0] == pytest.approx(WIDTH_PX / 2, abs=0.03 * LEG_PX)
    assert 0 < crotch.edge_sd_px < 0.03 * LEG_PX


def test_a_line_that_runs_on_above_where_a_crotch_can_be_hides_it() -> None:
    seen = find_crotch(drawn(crotch_y_px=330.0, crease_px=400.0), body())
    assert isinstance(seen, Notice)
    assert seen.code == "crotch_hidden"


def test_a_line_that_runs_into_the_hem_hides_the_crotch_by_much() -> None:
    clear, hidden = found(drawn()), found(drawn(hem_y_px=360.0))
    assert hidden.point_px[1] == pytest.approx(360.0, abs=0.02 * LEG_PX)
    assert hidden.edge_sd_px > 5 * clear.edge_sd_px


def test_cloth_without_a_line_has_no_crotch() -> None:
    seen = find_crotch(drawn(crotch_y_px=880.0, crease_px=1.0), body())
    assert isinstance(seen, Notice)
    assert seen.code == "crotch_hidden"
