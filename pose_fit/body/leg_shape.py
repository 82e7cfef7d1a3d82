"""Each leg of a body: how long its parts look in the picture, and how far a joint is bent in space."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LANDMARKS, LEFT_LEG, RIGHT_LEG, Body, Landmark

__all__ = ["bend_rad", "joint_m", "knees_rad", "shank_px", "side_px", "straightness", "thigh_px"]

_LEGS: Final = {"left": LEFT_LEG, "right": RIGHT_LEG}


def thigh_px(body: Body, side: str) -> float:
    """Hip to knee in the picture."""
    hip, knee, _ = body.points_px(_LEGS[side])
    return float(np.hypot(*(knee - hip)))


def shank_px(body: Body, side: str) -> float:
    """Knee to ankle in the picture."""
    _, knee, ankle = body.points_px(_LEGS[side])
    return float(np.hypot(*(ankle - knee)))


def side_px(body: Body, side: str) -> float:
    """Hip to knee to ankle in the picture."""
    return thigh_px(body, side) + shank_px(body, side)


def straightness(body: Body, side: str) -> float:
    """Hip to ankle over hip to knee to ankle in the picture, 1 for a straight leg."""
    hip, _, ankle = body.points_px(_LEGS[side])
    return float(np.hypot(*(ankle - hip))) / max(side_px(body, side), 1.0)


def joint_m(world_m: NDArray[np.float64], mark: Landmark) -> NDArray[np.float64]:
    """(3,) place of a landmark in the pose model's guess in space."""
    place: NDArray[np.float64] = world_m[LANDMARKS.index(mark)]
    return place


def bend_rad(
    world_m: NDArray[np.float64], above: Landmark, joint: Landmark, below: Landmark
) -> float:
    """How far a joint is bent in the pose model's guess in space, 0 straight."""
    up, down = (joint_m(world_m, mark) - joint_m(world_m, joint) for mark in (above, below))
    cosine = float(up @ down) / max(float(np.linalg.norm(up) * np.linalg.norm(down)), 1e-9)
    return float(np.pi - np.arccos(np.clip(cosine, -1.0, 1.0)))


def knees_rad(body: Body) -> tuple[float, ...]:
    """How far the left and right knee are bent; empty from a pose model without depth."""
    if body.world_m is None:
        return ()
    return tuple(bend_rad(body.world_m, *leg) for leg in _LEGS.values())
