"""The window that the sights network looks through, and the places it is taught."""

import numpy as np
import pytest

from calibration.sights_net.window import BASE_ASIDE, targets_px
from pose_fit.sights.legs_network import (
    JOINTS,
    LEG_PX,
    SIGHTS,
    WINDOW_HIP_ROW,
    WINDOW_PX,
    window_map,
)

HIPS, ANKLES = np.array([400.0, 500.0]), np.array([430.0, 820.0])
MIDDLE = (WINDOW_PX[1] - 1) / 2


def test_hips_and_ankles_lie_a_leg_apart_in_the_middle() -> None:
    to_picture = window_map(HIPS, ANKLES)
    assert to_picture @ [MIDDLE, WINDOW_HIP_ROW, 1] == pytest.approx(HIPS)
    assert to_picture @ [MIDDLE, WINDOW_HIP_ROW + LEG_PX, 1] == pytest.approx(ANKLES)


def test_the_window_is_neither_mirrored_nor_stretched() -> None:
    turn = window_map(HIPS, ANKLES)[:, :2]
    scale = float(np.hypot(*(ANKLES - HIPS))) / LEG_PX
    assert turn.T @ turn == pytest.approx(scale**2 * np.eye(2))
    assert np.linalg.det(turn) > 0


@pytest.mark.parametrize("hidden", [False, True])
def test_targets_are_the_true_places(hidden: bool) -> None:
    to_picture = window_map(HIPS, ANKLES)

    def seen(column: float, row: float) -> list[float]:
        return list(to_picture @ [column, row, 1])

    sides = {
        f"{end}_{side}": seen(MIDDLE + way, 230 + 20 * (end == "shod_toe"))
        for end in ("shod_toe", "shod_heel")
        for side, way in (("left", 30), ("right", -30))
    }
    joints = {
        f"{joint}_{side}": seen(MIDDLE + way, row)
        for joint, row in (("hip", 28), ("knee", 120), ("ankle", 218))
        for side, way in (("left", 25), ("right", -25))
    }
    truth: dict[str, object] = {
        "landmarks_px": {"crotch": seen(MIDDLE, 60), **sides, **joints},
        "cloth_crotch_px": None if hidden else seen(MIDDLE, 66),
        "wall_base_px": [seen(column, 200 + 0.1 * column) for column in (900, 100, -300)],
    }
    places = dict(zip((*SIGHTS, *JOINTS), targets_px(truth, to_picture), strict=True))
    assert places["crotch"] == pytest.approx([MIDDLE, 60])
    assert np.isnan(places["cloth_crotch"]).all() == hidden
    # The child's right foot is on the picture's left.
    assert places["toe_left"] == pytest.approx([MIDDLE - 30, 250])
    assert places["heel_right"] == pytest.approx([MIDDLE + 30, 230])
    assert places["hip_left"] == pytest.approx([MIDDLE - 25, 28])
    assert places["ankle_right"] == pytest.approx([MIDDLE + 25, 218])
    column = MIDDLE + BASE_ASIDE * LEG_PX
    assert places["base_right"] == pytest.approx([column, 200 + 0.1 * column])
