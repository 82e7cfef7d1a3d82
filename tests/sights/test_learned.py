"""The network's crotch: its window, its file, and how it counts beside the lines found by rule."""

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from importlib import resources

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pose_fit.body.body import LEG_LANDMARKS
from pose_fit.sights.candidates import CrotchCandidate, WallBaseCandidate
from pose_fit.sights.learned import (
    Learned,
    belief_in,
    find_learned,
    with_learned,
    with_learned_base,
    with_learned_joints,
)
from pose_fit.sights.legs_network import JOINTS, SIGHTS, LegsNetwork, NetworkSight, legs_network
from tests.sights.test_crotch import HIP_Y_PX, LEG_PX, body, drawn

WEIGHTS = resources.files("pose_fit.sights").joinpath("legs.onnx")
HIPS, ANKLES = np.array([300.0, HIP_Y_PX]), np.array([300.0, HIP_Y_PX + LEG_PX])
SHARES = st.floats(0.0, 0.95)


def line(y_px: float, weight: float) -> CrotchCandidate:
    return CrotchCandidate(np.array([300.0, y_px]), 2.0, weight)


def learned(
    belief: float, *, cloth_y_px: float = 350.0, base_y_px: float = 700.0, base_sure: float = 0.9
) -> Learned:
    skin = CrotchCandidate(np.array([300.0, 335.0]), 6.0, belief, "learned")
    base_px = np.array([[200.0, base_y_px], [400.0, base_y_px]])
    return Learned(skin, np.array([300.0, cloth_y_px]), base_px, base_sure, joints_at(0.0))


def joints_at(lower_px: float, *, sureness: float = 0.9) -> dict[str, NetworkSight]:
    """The drawn body's own joints, all of them lower by so much."""
    standing = body()
    return {
        # The child faces the camera: its left is on the picture's right.
        f"{joint}_{side}": NetworkSight(
            standing.point_px(f"{own}_{joint}") + np.array([0.0, lower_px]), 3.0, sureness
        )
        for joint in ("hip", "knee", "ankle")
        for side, own in (("left", "right"), ("right", "left"))
    }


def edge(y_px: float, weight: float, *, rise_px: float = 0.0) -> WallBaseCandidate:
    return WallBaseCandidate(np.array([[100.0, y_px - rise_px], [500.0, y_px + rise_px]]), weight)


class Told(LegsNetwork):
    """A network that sees everything at one place, as surely as it is told."""

    def __init__(self, sureness: Mapping[str, float]) -> None:
        self._sureness = sureness

    def see(self, picture, hips_px, ankles_px) -> dict[str, NetworkSight]:
        place = np.array([300.0, 340.0])
        return {name: NetworkSight(place, 5.0, self._sureness[name]) for name in (*SIGHTS, *JOINTS)}


def test_the_file_is_small_and_opens_with_opencv() -> None:
    assert len(WEIGHTS.read_bytes()) < 4e6
    net = cv2.dnn.readNetFromONNX(np.frombuffer(WEIGHTS.read_bytes(), np.uint8))
    assert not net.empty()


def test_it_sees_the_crotch_of_drawn_legs_again_and_again() -> None:
    seen = [find_learned(drawn(crotch_y_px=340.0), body()) for _ in range(2)]
    assert seen[0] is not None
    assert seen[1] is not None
    assert seen[0].skin.point_px == pytest.approx(seen[1].skin.point_px, abs=1e-9)
    assert seen[0].skin.point_px == pytest.approx([300.0, 340.0], abs=0.08 * LEG_PX)


def test_it_follows_the_picture() -> None:
    """A shift of picture and body shifts what is seen as far."""
    pixels = drawn().pixels
    moved = np.roll(pixels, (20, 10), axis=(0, 1))
    step = np.array([10.0, 20.0])
    one = legs_network().see(pixels, HIPS, ANKLES)["crotch"]
    other = legs_network().see(moved, HIPS + step, ANKLES + step)["crotch"]
    assert other.point_px - one.point_px == pytest.approx(step, abs=0.5)


def test_threads_do_not_disturb_each_other() -> None:
    pictures = [drawn(crotch_y_px=y_px).pixels for y_px in (330.0, 350.0, 370.0, 390.0)]

    def look(pixels: np.ndarray) -> np.ndarray:
        return legs_network().see(pixels, HIPS, ANKLES)["crotch"].point_px

    alone = [look(pixels) for pixels in pictures]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(look, pictures * 3))
    assert np.allclose(together, alone * 3)


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_surer_crotch_is_believed_more(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert 0 < belief_in(low) <= belief_in(high) < 1
    assert belief_in(0.49) < 0.6


@given(SHARES, st.lists(SHARES, max_size=3), st.floats(300, 450))
def test_weights_never_add_up_to_more_than_one(
    belief: float, shares: list[float], cloth_y_px: float
) -> None:
    total = max(sum(shares), 0.95)
    lines = tuple(line(340.0 + 30 * n, share * 0.95 / total) for n, share in enumerate(shares))
    both = with_learned(lines, learned(belief, cloth_y_px=cloth_y_px), leg_px=LEG_PX)
    weights = [one.weight for one in both]
    assert len(both) == len(lines) + 1
    assert sum(weights) <= 1 + 1e-9
    assert weights == sorted(weights, reverse=True)


def test_a_line_where_the_cloth_is_seen_counts_more_than_the_network() -> None:
    both = with_learned((line(352.0, 0.8),), learned(0.9), leg_px=LEG_PX)
    assert [one.kind for one in both] == ["line", "learned"]
    # Only where both are wrong is the place wrong.
    assert sum(one.weight for one in both) == pytest.approx(1 - 0.1 * 0.2)
    assert both[0].weight == pytest.approx(3 * both[1].weight)
    apart = with_learned((line(420.0, 0.8),), learned(0.9), leg_px=LEG_PX)
    assert [(one.kind, one.weight) for one in apart] == [
        ("learned", pytest.approx(0.9)),
        ("line", pytest.approx(0.08)),
    ]


def test_the_cloth_s_hang_is_told_in_legs() -> None:
    class Hanging(Told):
        def see(self, picture, hips_px, ankles_px) -> dict[str, NetworkSight]:
            low = np.array([300.0, 340.0 + 0.05 * LEG_PX])
            seen = super().see(picture, hips_px, ankles_px)
            return seen | {"cloth_crotch": NetworkSight(low, 5.0, 0.9)}

    found = find_learned(drawn(), body(), network=Hanging(dict.fromkeys((*SIGHTS, *JOINTS), 0.9)))
    assert found is not None
    assert found.skin.hang_part == pytest.approx(0.05, abs=1e-3)


def test_an_edge_that_the_network_sees_too_is_believed_more() -> None:
    edges = (edge(650.0, 0.5), edge(702.0, 0.3, rise_px=15.0))
    both = with_learned_base(edges, learned(0.9), leg_px=LEG_PX)
    # Odds of 1 + 4 x 0.9 to 1: 0.3 becomes 0.3 x 4.6 / (1 + 0.3 x 3.6).
    assert [one.weight for one in both] == pytest.approx([0.663, 0.240], abs=1e-3)
    assert both[0].line_px is edges[1].line_px


def test_a_wall_base_where_no_edge_is_seen_is_a_candidate_of_its_own() -> None:
    for edges, belief in (((), 0.54), ((edge(500.0, 0.5),), 0.27)):
        both = with_learned_base(edges, learned(0.9), leg_px=LEG_PX)
        own = next(one for one in both if one.line_px[0, 1] == 700.0)
        assert own.weight == pytest.approx(belief)
        assert len(both) == len(edges) + 1


@given(st.lists(SHARES, max_size=4), st.floats(400, 900), st.floats(0, 1))
def test_weights_of_wall_bases_never_add_up_to_more_than_one(
    shares: list[float], base_y_px: float, base_sure: float
) -> None:
    total = max(sum(shares), 0.95)
    edges = tuple(edge(600.0 + 40 * n, share * 0.95 / total) for n, share in enumerate(shares))
    seen = learned(0.9, base_y_px=base_y_px, base_sure=base_sure)
    both = with_learned_base(edges, seen, leg_px=LEG_PX)
    assert sum(one.weight for one in both) <= 1 + 1e-9
    assert len(both) in (len(edges), len(edges) + 1)


def test_a_wall_base_that_is_not_sure_changes_nothing() -> None:
    edges = (edge(650.0, 0.5),)
    assert with_learned_base(edges, learned(0.9, base_sure=0.4), leg_px=LEG_PX) == edges
    assert with_learned_base(edges, None, leg_px=LEG_PX) == edges


def test_legs_unlike_all_that_it_knows_leave_the_lines_as_they_are() -> None:
    sure = dict.fromkeys((*SIGHTS, *JOINTS), 0.9)
    assert find_learned(drawn(), body(), network=Told(sure)) is not None
    flat = sure | dict.fromkeys(SIGHTS[2:7], 0.2)
    assert find_learned(drawn(), body(), network=Told(flat)) is None
    lines = (line(340.0, 0.8),)
    assert with_learned(lines, None, leg_px=LEG_PX) == lines
    standing = body()
    assert with_learned_joints(standing, None) is standing


@given(st.floats(-40, 40), st.floats(0, 1))
def test_joints_lie_between_where_both_see_them(lower_px: float, sureness: float) -> None:
    seen = replace(learned(0.9), joints=joints_at(lower_px, sureness=sureness))
    standing = body()
    moved = with_learned_joints(standing, seen)
    steps = moved.points_px(LEG_LANDMARKS) - standing.points_px(LEG_LANDMARKS)
    assert steps[:, 0] == pytest.approx(0, abs=1e-9)
    assert (abs(steps[:, 1]) <= abs(lower_px) + 1e-9).all()
    assert (steps[:, 1] * lower_px >= 0).all()
    if sureness < 0.3:
        assert steps == pytest.approx(0, abs=1e-9)
    if sureness > 0.6:
        assert steps[:, 1] == pytest.approx(0.5 * lower_px)
    # How the looks scatter is the pose model's still.
    for joint in LEG_LANDMARKS:
        assert moved.scatter_px(joint) == pytest.approx(standing.scatter_px(joint))


def test_a_joint_that_somebody_moved_stays_where_it_was_put() -> None:
    seen = replace(learned(0.9), joints=joints_at(30.0))
    standing = body()
    moved = with_learned_joints(standing, seen, kept=("left_hip",))
    assert moved.point_px("left_hip") == pytest.approx(standing.point_px("left_hip"))
    assert moved.point_px("right_hip") == pytest.approx(
        standing.point_px("right_hip") + np.array([0.0, 0.5 * 30.0])
    )


def test_sides_are_the_picture_s_also_of_somebody_seen_from_behind() -> None:
    """Seen from behind the child's left is on the picture's left."""
    standing = body()
    pairs = (("left_hip", "right_hip"), ("left_knee", "right_knee"), ("left_ankle", "right_ankle"))
    swapped = standing.with_points(
        {
            one: standing.point_px(other)
            for left, right in pairs
            for one, other in ((left, right), (right, left))
        }
    )
    seen = replace(learned(0.9), joints=joints_at(0.0))
    assert with_learned_joints(swapped, seen).points_px(LEG_LANDMARKS) == pytest.approx(
        swapped.points_px(LEG_LANDMARKS)
    )
