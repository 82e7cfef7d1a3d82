"""Stands a body up: joint rotations from a stance, linear blend skinning, floor and wall.

Rotations are given to bones in the body's own axes, not relative to their parents, so
that a foot stays flat whatever the leg above it does.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.scenes.body import CROTCH_VERTICES, SKIN_VERTICES, Body
from calibration.scenes.scene import Dress, Stance

__all__ = [
    "ERECT_SEPARATION_SHARE",
    "MOST_LEAN_RAD",
    "SHOE_MM",
    "SOCK_MM",
    "Posed",
    "crotch_ring_mm",
    "erect_joints_mm",
    "erect_stance",
    "heel_gap_mm",
    "inseam_mm",
    "pose",
    "pose_at_wall",
    "pose_by",
    "rear_of_feet_mm",
    "stature_mm",
]

#: Ankle separation over stature in the stance that defines the inseam, held to 100..170 mm.
ERECT_SEPARATION_SHARE: Final = 0.1
#: How far a sock and a shoe stand off the skin of the foot.
SOCK_MM: Final = 1.5
SHOE_MM: Final = 6.0
#: Children do not lean more than this to keep their heels at the wall (our assumption).
MOST_LEAN_RAD: Final = np.deg2rad(4.0)


@dataclass(frozen=True, eq=False, slots=True)
class Posed:
    """A body in a stance: how rest points move, and where the joints went.

    ``rotations`` (V, 3, 3) and ``shifts_mm`` (V, 3) carry a vertex, or a garment's point
    that hangs on it, from the rest shape to the stance.
    """

    body: Body
    rotations: NDArray[np.float64]
    shifts_mm: NDArray[np.float64]
    joints_mm: NDArray[np.float64]

    def carry(
        self, points_mm: NDArray[np.float64], vertices: NDArray[np.int64] | None = None
    ) -> NDArray[np.float64]:
        """Rest points (N, 3), the i-th hanging on the i-th of ``vertices``, in the stance."""
        rows = slice(None) if vertices is None else vertices
        turned = np.einsum("nij,nj->ni", self.rotations[rows], points_mm)
        moved: NDArray[np.float64] = turned + self.shifts_mm[rows]
        return moved

    @property
    def vertices_mm(self) -> NDArray[np.float64]:
        """All vertices in the stance, (V, 3)."""
        return self.carry(self.body.vertices_mm)

    def joint_mm(self, name: str) -> NDArray[np.float64]:
        """Centre of the joint at the head of a bone, (3,)."""
        joint: NDArray[np.float64] = self.joints_mm[self.body.parts.bone_names.index(name)]
        return joint


def erect_stance(stature_mm: float) -> Stance:
    """Standing erect, knees straight, feet slightly apart: the stance of the inseam."""
    return Stance(
        ankle_separation_mm=float(np.clip(ERECT_SEPARATION_SHARE * stature_mm, 100, 170)),
        knee_bend_deg=0,
        turn_deg=0,
        toe_out_deg=0,
        heel_gap_mm=0,
        arm_abduction_deg=20,
        elbow_deg=0,
        head_yaw_deg=0,
        head_pitch_deg=0,
        sideways_mm=0,
    )


def stature_mm(posed: Posed) -> float:
    """Height of the skin from the lowest to the highest point."""
    heights = posed.vertices_mm[:SKIN_VERTICES, 1]
    return float(heights.max() - heights.min())


def inseam_mm(body: Body) -> float:
    """Crotch height above the bare soles, standing erect.

    The crotch is the lowest midline vertex of the rest shape, followed by its index.
    """
    erect = _erect(body)
    return float(-erect.vertices_mm[body.crotch_vertex, 1])


def crotch_ring_mm(body: Body) -> NDArray[np.float64]:
    """Heights of all midline vertices between the legs, standing erect, (5,)."""
    ring: NDArray[np.float64] = -_erect(body).vertices_mm[list(CROTCH_VERTICES), 1]
    return ring


def erect_joints_mm(body: Body) -> dict[str, float]:
    """Heights of hip, knee and ankle centres above the bare soles, standing erect."""
    erect = _erect(body)
    bones = {"hip": "upperleg01.L", "knee": "lowerleg01.L", "ankle": "foot.L"}
    return {name: float(-erect.joint_mm(bone)[1]) for name, bone in bones.items()}


def _erect(body: Body) -> Posed:
    rest_stature_mm = float(np.ptp(body.vertices_mm[:SKIN_VERTICES, 1]))
    return pose(body, stance=erect_stance(rest_stature_mm), soles_mm=0)


def pose_at_wall(body: Body, *, stance: Stance, dress: Dress) -> Posed:
    """The body in a stance, in the wall frame, shod or barefoot, touching the wall at most.

    With the heels at the wall the seat would go through it: a child then brings the hips
    forward over the feet, and where that is not enough the feet too.
    """
    heel_mm = _heel_mm(dress)
    upright = pose(body, stance=stance, soles_mm=dress.soles_mm, heel_mm=heel_mm)
    leg_mm = float(np.linalg.norm(upright.joint_mm("upperleg01.L") - upright.joint_mm("foot.L")))
    through_mm = max(0.0, _rear_mm(upright))
    lean_rad = np.arcsin(min(through_mm / leg_mm, np.sin(MOST_LEAN_RAD)))
    leaning = pose(body, stance=stance, soles_mm=dress.soles_mm, heel_mm=heel_mm, lean_rad=lean_rad)
    still_mm = max(0.0, _rear_mm(leaning))
    forward = np.array([0.0, 0.0, -still_mm])
    return replace(
        leaning, shifts_mm=leaning.shifts_mm + forward, joints_mm=leaning.joints_mm + forward
    )


def _rear_mm(posed: Posed) -> float:
    """The rearmost point of the skin, (+z is into the wall)."""
    return float(posed.vertices_mm[:SKIN_VERTICES, 2].max())


def pose(
    body: Body, *, stance: Stance, soles_mm: float, heel_mm: float = 0.0, lean_rad: float = 0.0
) -> Posed:
    """The body in a stance, its soles ``soles_mm`` above the floor, in the wall frame.

    The rearmost point of the feet, ``heel_mm`` behind the skin, stands
    ``stance.heel_gap_mm`` before the wall; a lean brings the hips forward of the ankles.
    """
    turns = _bone_rotations(body, stance, lean_rad)
    return pose_by(body, turns, stance=stance, soles_mm=soles_mm, heel_mm=heel_mm)


def pose_by(
    body: Body,
    turns: NDArray[np.float64],
    *,
    stance: Stance,
    soles_mm: float,
    heel_mm: float = 0.0,
) -> Posed:
    """The same with the rotation of each bone given, (B, 3, 3) in the body's axes."""
    names, parents = body.parts.bone_names, body.parts.bone_parents
    joints = np.zeros_like(body.joints_mm)
    for bone, parent in enumerate(parents):
        if parent < 0:
            joints[bone] = body.joints_mm[bone]
        else:
            lever = body.joints_mm[bone] - body.joints_mm[parent]
            joints[bone] = joints[parent] + turns[parent] @ lever
    shifts = joints - np.einsum("bij,bj->bi", turns, body.joints_mm)
    whole = _about_y(np.deg2rad(stance.turn_deg))
    weights = body.parts.weights
    rotations = whole @ np.einsum("vb,bij->vij", weights, turns)
    moves = (weights @ shifts) @ whole.T
    joints = joints @ whole.T
    posed = Posed(body=body, rotations=rotations, shifts_mm=moves, joints_mm=joints)
    place = np.array(
        [
            stance.sideways_mm - joints[names.index("root"), 0],
            -soles_mm - posed.vertices_mm[:SKIN_VERTICES, 1].max(),
            -stance.heel_gap_mm - heel_mm - rear_of_feet_mm(posed),
        ]
    )
    return replace(posed, shifts_mm=moves + place, joints_mm=joints + place)


def heel_gap_mm(posed: Posed, dress: Dress) -> float:
    """Air between the wall and the rearmost point of the shod or bare feet."""
    return -rear_of_feet_mm(posed) - _heel_mm(dress)


def _heel_mm(dress: Dress) -> float:
    return {"bare": 0.0, "socks": SOCK_MM, "shoes": SHOE_MM}[dress.footwear]


def rear_of_feet_mm(posed: Posed) -> float:
    """The rearmost point of the bare feet, (+z is into the wall)."""
    is_foot = posed.body.parts.bones_weight("foot", "toe")[:SKIN_VERTICES] > 0.5
    return float(posed.vertices_mm[:SKIN_VERTICES][is_foot, 2].max())


def _bone_rotations(body: Body, stance: Stance, lean_rad: float) -> NDArray[np.float64]:
    """Rotation of each bone in the body's axes, (B, 3, 3), in a standing body."""
    names, parents = body.parts.bone_names, body.parts.bone_parents
    given: dict[str, NDArray[np.float64]] = {}
    for mark, sign in (("L", 1.0), ("R", -1.0)):
        thigh, shank = _leg_rotations(
            hip_mm=body.joint_mm(f"upperleg01.{mark}"),
            knee_mm=body.joint_mm(f"lowerleg01.{mark}"),
            ankle_mm=body.joint_mm(f"foot.{mark}"),
            ankle_x_mm=sign * stance.ankle_separation_mm / 2,
            knee_bend_rad=np.deg2rad(stance.knee_bend_deg),
            lean_rad=lean_rad,
        )
        given[f"upperleg01.{mark}"] = thigh
        given[f"lowerleg01.{mark}"] = shank
        given[f"foot.{mark}"] = _about_y(sign * np.deg2rad(stance.toe_out_deg))
        arm = body.joint_mm(f"lowerarm01.{mark}") - body.joint_mm(f"upperarm01.{mark}")
        hang = np.arctan2(abs(arm[0]), arm[1]) - np.deg2rad(stance.arm_abduction_deg)
        upper = _about_z(sign * hang)
        given[f"upperarm01.{mark}"] = upper
        # The rest arms are bent forward; unbend most of it.
        given[f"lowerarm01.{mark}"] = upper @ _about_x(np.deg2rad(stance.elbow_deg - 15))
    head = _about_y(np.deg2rad(stance.head_yaw_deg)) @ _about_x(np.deg2rad(stance.head_pitch_deg))
    given["neck02"] = head
    turns = np.tile(np.eye(3), (len(names), 1, 1))
    for bone, parent in enumerate(parents):
        if names[bone] in given:
            turns[bone] = given[names[bone]]
        elif parent >= 0:
            turns[bone] = turns[parent]
    return turns


def _leg_rotations(
    *,
    hip_mm: NDArray[np.float64],
    knee_mm: NDArray[np.float64],
    ankle_mm: NDArray[np.float64],
    ankle_x_mm: float,
    knee_bend_rad: float,
    lean_rad: float,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Rotations of thigh and shank that bend the knee and put the ankle at its place.

    Seen from the side the ankle comes to stand under the hip (behind it by the lean), with the
    angle between
    the hip-knee and knee-ankle lines as asked; then the leg swings about the hip in the
    frontal plane, keeping the knee's own valgus.
    """
    thigh, shank = knee_mm - hip_mm, ankle_mm - knee_mm
    thigh_length, shank_length = np.hypot(thigh[1], thigh[2]), np.hypot(shank[1], shank[2])
    # Small-angle share of the bend that keeps the ankle under the hip.
    forward = knee_bend_rad * shank_length / (thigh_length + shank_length)
    thigh_turn = _about_x(lean_rad - forward - np.arctan2(thigh[2], thigh[1]))
    shank_turn = _about_x(lean_rad + knee_bend_rad - forward - np.arctan2(shank[2], shank[1]))
    leg = thigh_turn @ thigh + shank_turn @ shank
    wanted = np.arcsin((ankle_x_mm - hip_mm[0]) / np.hypot(leg[0], leg[1]))
    swing = _about_z(np.arctan2(leg[0], leg[1]) - wanted)
    return swing @ thigh_turn, swing @ shank_turn


def _about_x(angle_rad: float) -> NDArray[np.float64]:
    """Swings what hangs down towards the back (+z)."""
    c, s = np.cos(angle_rad), np.sin(angle_rad)
    return np.array([[1, 0, 0], [0, c, -s], [0, s, c]])


def _about_y(angle_rad: float) -> NDArray[np.float64]:
    """Turns the front (-z) towards the child's left (+x) for a positive angle."""
    c, s = np.cos(angle_rad), np.sin(angle_rad)
    return np.array([[c, 0, -s], [0, 1, 0], [s, 0, c]])


def _about_z(angle_rad: float) -> NDArray[np.float64]:
    """Swings what hangs down towards -x for a positive angle."""
    c, s = np.cos(angle_rad), np.sin(angle_rad)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
