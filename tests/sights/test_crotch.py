"""The end of the line between the legs, in drawn pictures whose crotch is known."""

import cv2
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pose_fit.body.body import Body
from pose_fit.photo.photo import Photo
from pose_fit.sights.candidates import CrotchCandidate
from pose_fit.sights.crotch import find_crotch
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


def found(photo: Photo) -> CrotchCandidate:
    """The likeliest candidate."""
    return find_crotch(photo, body())[0]


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
    assert find_crotch(drawn(crotch_y_px=330.0, crease_px=400.0), body()) == ()


def test_a_line_that_runs_into_the_hem_hides_the_crotch_by_much() -> None:
    clear, hidden = found(drawn()), found(drawn(hem_y_px=360.0))
    # As a rule it is hidden above the hem, by a twelfth of a leg.
    assert hidden.point_px[1] == pytest.approx(360.0 - 0.085 * LEG_PX, abs=0.02 * LEG_PX)
    assert hidden.edge_sd_px > 5 * clear.edge_sd_px


def test_cloth_without_a_line_has_no_crotch() -> None:
    assert find_crotch(drawn(crotch_y_px=880.0, crease_px=1.0), body()) == ()


@pytest.mark.parametrize("hem_y_px", [270.0, 360.0])
def test_the_shares_of_belief_leave_room_for_none(hem_y_px: float) -> None:
    seen = find_crotch(drawn(hem_y_px=hem_y_px), body())
    assert 0.5 < sum(one.weight for one in seen) < 1
    assert all(one.weight > 0 for one in seen)
    assert seen[0].weight == max(one.weight for one in seen)


def test_a_hem_is_believed_less_and_what_ends_elsewhere_stays_a_candidate() -> None:
    (clear, *_), hidden = find_crotch(drawn(), body()), find_crotch(drawn(hem_y_px=360.0), body())
    assert (clear.kind, hidden[0].kind) == ("line", "hem")
    assert hidden[0].weight < clear.weight
    # What looks like a hem may be a print: the line's own end above it is kept.
    assert min(one.point_px[1] for one in hidden) < 360.0 - 0.025 * LEG_PX


@pytest.mark.parametrize("seed", range(3))
def test_a_pattern_is_no_line_between_the_legs(seed: int) -> None:
    """A knee-length dress with a fine print: a path through it is not where the legs part."""
    rng = np.random.default_rng(seed)
    y, x = np.mgrid[0:HEIGHT_PX, 0:WIDTH_PX].astype(float)
    spots = cv2.GaussianBlur(rng.normal(size=(HEIGHT_PX, WIDTH_PX)), (0, 0), 2.5)
    is_dress = (np.abs(x - WIDTH_PX / 2) < 95) & (y > 100) & (y < 560)
    print_levels = 130 + 90 * spots / np.abs(spots).max()
    picture = np.where(is_dress, print_levels, 200.0)[..., None] * np.ones(3)
    assert find_crotch(photo_of(picture, noise=1.5, seed=seed), body()) == ()
