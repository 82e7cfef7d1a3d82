"""Where the child stands: as asked for, or as children do when nobody asks."""

from dataclasses import replace
from typing import Final, Literal

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from calibration.scenes.body import SKIN_VERTICES, Body
from calibration.scenes.posing import Posed, pose
from calibration.scenes.scene import Stance

__all__ = ["StanceGroup", "draw_stance", "rear_mm", "stand"]

StanceGroup = Literal["asked", "free"]

#: Nobody leans farther than this to touch the wall (our assumption).
_MOST_LEAN_RAD: Final = float(np.deg2rad(6.0))


def draw_stance(rng: Generator, *, group: StanceGroup, age_years: float) -> Stance:
    """A stance of the group; the heel gap is air between the wall and the shod or bare heel.

    Asked for are heels at the wall and feet a hand apart; what comes of it are heels 0 to
    60 mm off, mostly with the seat at the wall. Free are feet 0 to 350 mm apart, heels 0 to
    120 mm off, turned a little.
    """
    if group == "asked":
        separation_mm = float(rng.uniform(90, 190))
        gap_mm = float(rng.uniform(2, 60) if rng.random() < 0.85 else rng.uniform(0, 6))
        turn_deg, toe_out_deg = float(rng.normal(0, 3)), float(rng.normal(8, 5))
        bend_deg = abs(float(rng.normal(0, 1.5)))
    else:
        separation_mm = float(rng.uniform(0, 350))
        gap_mm = float(rng.uniform(0, 120))
        turn_deg, toe_out_deg = float(rng.normal(0, 7)), float(rng.normal(9, 8))
        bend_deg = abs(float(rng.normal(0, 4)))
    # Ankles cannot come nearer than the feet let them; small children do not reach the widest.
    separation_mm = float(np.clip(separation_mm, 60 + 3 * age_years, 160 + 22 * age_years))
    return Stance(
        ankle_separation_mm=separation_mm,
        knee_bend_deg=min(bend_deg, 12.0),
        turn_deg=float(np.clip(turn_deg, -18, 18)),
        toe_out_deg=float(np.clip(toe_out_deg, -6, 28)),
        heel_gap_mm=gap_mm,
        arm_abduction_deg=float(rng.uniform(12, 34)),
        elbow_deg=float(rng.uniform(0, 30)),
        head_yaw_deg=float(np.clip(rng.normal(0, 9), -28, 28)),
        head_pitch_deg=float(np.clip(rng.normal(0, 6), -14, 14)),
        sideways_mm=float(rng.uniform(-40, 40)),
    )


def rear_mm(posed: Posed) -> float:
    """The rearmost point of the skin (+z is into the wall)."""
    return float(posed.vertices_mm[:SKIN_VERTICES, 2].max())


def stand(
    body: Body,
    *,
    stance: Stance,
    soles_mm: float,
    heel_mm: float,
    board_mm: float,
    seat_at_wall: bool,
) -> Posed:
    """The body in a stance before a wall whose skirting board is ``board_mm`` thick.

    The heels, ``heel_mm`` thick, stand ``stance.heel_gap_mm`` before the board. Where the seat
    would go through the wall the hips come forward over the feet; asked to touch, they go back
    to it as far as a lean lets them.
    """
    gap_mm = stance.heel_gap_mm + board_mm
    stance = replace(stance, heel_gap_mm=gap_mm)

    def leaning(lean_rad: float) -> Posed:
        return pose(body, stance=stance, soles_mm=soles_mm, heel_mm=heel_mm, lean_rad=lean_rad)

    # Clothes take some room between seat and wall.
    wanted_mm = -4.0
    upright = leaning(0.0)
    if rear_mm(upright) < wanted_mm and not seat_at_wall:
        return upright
    low, high = -_MOST_LEAN_RAD, _MOST_LEAN_RAD
    posed = upright
    for _ in range(14):
        lean = (low + high) / 2
        posed = leaning(lean)
        if rear_mm(posed) > wanted_mm:
            low = lean
        else:
            high = lean
    through_mm = max(0.0, rear_mm(posed) - wanted_mm)
    forward: NDArray[np.float64] = np.array([0.0, 0.0, -through_mm])
    return replace(posed, shifts_mm=posed.shifts_mm + forward, joints_mm=posed.joints_mm + forward)
