"""Bodies that sit, crouch, walk or rise on their toes: rotations of the bones by joint angles."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import Body
from calibration.scenes.posing import Posed, pose_by
from calibration.scenes.scene import Dress, Stance

__all__ = ["POSTURES", "Limb", "Posture", "posture_of"]


@dataclass(frozen=True, slots=True)
class Limb:
    """One leg's angles in degrees.

    ``hip`` and ``knee`` are flexions, ``foot`` raises the heel over the toes, ``aside``
    swings the leg outwards.
    """

    hip: float = 0.0
    knee: float = 0.0
    foot: float = 0.0
    aside: float = 2.0


@dataclass(frozen=True, slots=True)
class Posture:
    """Both legs, how far the trunk leans forward, and how far the arms hang from the body."""

    left: Limb
    right: Limb
    trunk: float = 0.0
    arms: float = 18.0


_STANDS: Final = Limb()
POSTURES: Final[dict[str, Posture]] = {
    "sitting": Posture(Limb(88, 86, 0, 8), Limb(88, 86, 0, 8), trunk=4),
    "sitting_low": Posture(Limb(105, 100, 0, 12), Limb(100, 92, 0, 10), trunk=10),
    "crouching": Posture(Limb(118, 132, 32, 14), Limb(118, 132, 32, 14), trunk=30, arms=30),
    "half_crouching": Posture(Limb(62, 88, 0, 8), Limb(62, 88, 0, 8), trunk=30, arms=25),
    "low_tiptoe": Posture(Limb(0, 1, 24, 3), Limb(0, 1, 24, 3)),
    "tiptoe": Posture(Limb(0, 2, 38, 3), Limb(0, 2, 38, 3)),
    "high_tiptoe": Posture(Limb(0, 0, 52, 4), Limb(0, 0, 52, 4), arms=40),
    "walking": Posture(Limb(26, 6, -8, 1), Limb(-16, 20, 34, 1), trunk=3, arms=22),
    "striding": Posture(Limb(-20, 28, 44, 0), Limb(32, 10, -14, 0), trunk=4, arms=26),
    "one_knee_up": Posture(_STANDS, Limb(72, 82, 20, 6), arms=25),
    "one_leg_bent": Posture(Limb(34, 58, 30, 6), _STANDS),
    "knees_bent": Posture(Limb(32, 52, 0, 5), Limb(32, 52, 0, 5), trunk=12),
    "on_a_line": Posture(Limb(18, 4, -4, -5), Limb(-12, 10, 20, -5), trunk=2, arms=20),
    "foot_raised": Posture(Limb(22, 40, 10, 3), _STANDS),
    "foot_ahead": Posture(_STANDS, Limb(22, 8, -10, 2), arms=22),
    "legs_crossed": Posture(Limb(7, 3, 0, -9), Limb(-5, 3, 4, -8)),
    "one_knee_soft": Posture(Limb(16, 31, 15, 4), _STANDS),
    "on_a_line_right": Posture(Limb(-14, 14, 24, -5), Limb(20, 5, -6, -4), trunk=2, arms=26),
    "foot_raised_right": Posture(_STANDS, Limb(18, 36, 12, 4), arms=22),
    "foot_ahead_left": Posture(Limb(26, 12, -8, 1), _STANDS),
    "legs_crossed_right": Posture(Limb(-6, 4, 5, -8), Limb(8, 4, 0, -10), arms=24),
    "one_knee_soft_right": Posture(_STANDS, Limb(18, 35, 18, 5)),
    "foot_up_a_little": Posture(Limb(17, 27, 0, 3), _STANDS),
    "foot_up_right": Posture(_STANDS, Limb(25, 37, 4, 4), arms=24),
    "foot_up_more": Posture(Limb(33, 49, 0, 3), _STANDS, arms=22),
    "on_a_low_step": Posture(_STANDS, Limb(24, 34, 0, 3)),
    "on_a_step": Posture(Limb(36, 52, 0, 4), _STANDS),
    "foot_behind": Posture(_STANDS, Limb(-10, 32, 34, 2)),
    "heel_up": Posture(Limb(6, 18, 26, 3), _STANDS, arms=24),
    "foot_up_left": Posture(Limb(21, 31, 0, 6), _STANDS),
    "on_a_high_step": Posture(_STANDS, Limb(44, 62, 0, 4), arms=22),
    "standing": Posture(_STANDS, _STANDS),
}


def posture_of(body: Body, posture: Posture, *, stance: Stance, dress: Dress) -> Posed:
    """The body in a posture, its lowest point on the floor, in the wall frame."""
    trunk = _about_x(-posture.trunk)
    given: dict[str, NDArray[np.float64]] = {"spine05": trunk, "neck01": np.eye(3)}
    for mark, sign, limb in (("L", 1.0, posture.left), ("R", -1.0, posture.right)):
        hip, knee, ankle = (
            body.joint_mm(f"{bone}.{mark}") for bone in ("upperleg01", "lowerleg01", "foot")
        )
        swing = _about_z(sign * -limb.aside)
        given[f"upperleg01.{mark}"] = swing @ _about_x(-limb.hip) @ _hanging(knee - hip)
        given[f"lowerleg01.{mark}"] = (
            swing @ _about_x(limb.knee - limb.hip) @ _hanging(ankle - knee)
        )
        given[f"foot.{mark}"] = _about_x(limb.foot)
        arm = body.joint_mm(f"lowerarm01.{mark}") - body.joint_mm(f"upperarm01.{mark}")
        hang = float(np.degrees(np.arctan2(abs(arm[0]), arm[1]))) - posture.arms
        upper = trunk @ _about_z(sign * hang)
        given[f"upperarm01.{mark}"] = upper
        given[f"lowerarm01.{mark}"] = upper @ _about_x(-15.0)
        for name in body.parts.bone_names:
            # Toes stay flat on the floor where only the heel is raised.
            if name.startswith("toe") and name.endswith(f"-1.{mark}") and limb.foot > 0:
                given[name] = np.eye(3)
    turns = np.tile(np.eye(3), (len(body.parts.bone_names), 1, 1))
    for bone, (name, parent) in enumerate(
        zip(body.parts.bone_names, body.parts.bone_parents, strict=True)
    ):
        if name in given:
            turns[bone] = given[name]
        elif parent >= 0:
            turns[bone] = turns[parent]
    return pose_by(body, turns, stance=stance, soles_mm=dress.soles_mm, heel_mm=6.0)


def _hanging(bone_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """What turns a bone of the rest body straight down, seen from the side."""
    return _about_x(-float(np.degrees(np.arctan2(bone_mm[2], bone_mm[1]))))


def _about_x(angle_deg: float) -> NDArray[np.float64]:
    """Swings what hangs down towards the back (+z), and a heel up over its toes."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    return np.array([[1, 0, 0], [0, c, -s], [0, s, c]])


def _about_z(angle_deg: float) -> NDArray[np.float64]:
    """Swings what hangs down towards -x for a positive angle."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
