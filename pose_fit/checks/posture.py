"""Whether the body stands so that its legs can be measured, and what to change if not."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.body.leg_shape import (
    bend_rad,
    joint_m,
    knees_rad,
    shank_px,
    side_px,
    straightness,
    thigh_px,
)
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Notice, Refusal

__all__ = ["check_posture", "feet_in_depth", "posture_warnings", "stands_staggered"]

# Limits in leg lengths or ratios, chosen for standing people (common practice, no source).
#: Hip to ankle in working pixels below which a pixel is worth more than 4 mm on a small child.
MIN_LEG_PX: Final = 110.0
#: A leg landmark nearer the border than this is cut off or guessed.
BORDER_PART: Final = 0.004
#: Thigh against shank in the picture: 0.85 to 1.2 standing, up to 2.2 seen from high above a
#: child, far less on a chair.
THIGH_TO_SHANK: Final = (0.68, 1.65)
#: Both shanks look this short from high above, or because the child kneels on them. In the pose
#: model's guess in space a kneeling child's knees are bent by a right angle or more (judgement: no
#: kneeling child was rendered); a standing child's seen from above by 73 degrees at most (some 120
#: rendered photos).
MIN_KNEELING_RAD: Final = float(np.radians(80.0))
#: The two ankles of a standing child are level; the hips too.
MAX_ANKLES_UNEVEN: Final = 0.30
MAX_SIDES_UNLIKE: Final = 0.20
#: Both feet point down alike to within this part of the leg, both legs are divided alike to within
#: this, where one foot is only nearer the camera.
FEET_ALIKE: Final = 0.03
SHANKS_ALIKE: Final = 0.06
#: Thigh over shank of one leg against the other's: within a tenth standing. The shank of a foot in the
#: air points at the camera and looks short.
MAX_SHANKS_UNLIKE: Final = 0.22
#: Shoulders of a child who faces the camera, in leg lengths: 0.35 to 0.9 on rendered photos.
MIN_SHOULDERS: Final = 0.30
#: Straightness of a leg: hip to ankle over hip to knee to ankle.
MIN_STRAIGHT: Final = 0.965
#: Ankles further apart than this make a stride, not a stance.
MAX_ANKLES_APART: Final = 1.10
MIN_VISIBILITY: Final = 0.5
#: The legs hang down in an upright picture.
MAX_LEAN_RAD: Final = np.radians(25.0)
#: By the model's guess in space: one foot this far before the other, in legs, walks (standing, up
#: to 0.32 on rendered photos); both hips bent this much with a knee this far before its hip sit
#: or crouch (standing, at most 45 degrees and 0.25, never both).
MAX_FEET_IN_DEPTH: Final = 0.40
MAX_HIPS_BENT_RAD: Final = float(np.radians(36.0))
MAX_KNEE_AHEAD: Final = 0.21
#: Both knees are bent alike to within this, and the legs equally long to within this part.
KNEES_ALIKE_RAD: Final = float(np.radians(6.0))
LEGS_ALIKE: Final = 0.10
#: Both knees bent come forward, so that the thighs look long for the shanks, and the pose model's guess
#: in space bends them more than it does a standing child's. Means, standard deviations and correlation
#: of both over 382 rendered children with straight knees, by error model 2.5; their sum, in its own
#: standard deviations, is above this in one of ten, and in four of four children with both knees bent.
THIGH_TO_SHANK_LOG: Final = (0.012, 0.106)
KNEES_IN_SPACE_RAD: Final = (0.42, 0.108)
_TOGETHER: Final = 0.34
BENT_FROM: Final = 1.2
#: Shoulders turned this far from the picture's plane are seen from the side (standing, up to 31).
MAX_TURN_RAD: Final = float(np.radians(42.0))
#: Looks that scatter by this part of the leg do not agree on where the legs are.
MAX_SCATTER: Final = 0.12

_STAND: Final = (
    "Stand straight and face the camera, heels to the wall, feet a hand apart, and try again."
)
_FRAME: Final = (
    "Step back until the whole child is in the picture, with a hand of floor below the feet."
)


def check_posture(photo: Photo, body: Body) -> Refusal | None:
    """A refusal where the legs cannot be measured in this posture, else None."""
    reasons = [*_framing(photo, body), *_stance(body)]
    if not reasons and _is_unsure(body):
        reasons = [
            Notice("pose_unsure", "Where the legs are in the picture cannot be told surely enough.")
        ]
    if not reasons:
        return None
    out_of_frame = any(reason.code.endswith("out_of_frame") for reason in reasons)
    return Refusal(tuple(reasons), (_FRAME if out_of_frame else _STAND,))


def posture_warnings(body: Body, legs: LegGeometry) -> tuple[Notice, ...]:
    """What makes a measurable posture less sure."""
    straight = min(straightness(body, "left"), straightness(body, "right"))
    if straight < (1 + MIN_STRAIGHT) / 2:
        return (Notice("knees_bent", "A knee looks slightly bent."),)
    if _knees_forward(body, legs) > BENT_FROM:
        return (Notice("knees_bent", "The knees look slightly bent."),)
    return ()


def _knees_forward(body: Body, legs: LegGeometry) -> float:
    """How much both knees look bent, 0 in the middle of standing children, in standard deviations."""
    mean, sd = THIGH_TO_SHANK_LOG
    thighs = (float(np.log(legs.thigh_mm / legs.shank_mm)) - mean) / sd
    knees = knees_rad(body)
    if not knees:
        return thighs
    mean, sd = KNEES_IN_SPACE_RAD
    return (thighs + (float(np.mean(knees)) - mean) / sd) / float(np.sqrt(2 + 2 * _TOGETHER))


def _is_unsure(body: Body) -> bool:
    scatter_px = max(float(body.scatter_px(mark).max()) for mark in LEG_LANDMARKS)
    return scatter_px > MAX_SCATTER * body.leg_px


def _turn_rad(body: Body) -> float:
    """How far the shoulders are turned from the picture's plane, 0 facing the camera."""
    if body.world_m is None:
        return 0.0
    across = joint_m(body.world_m, "left_shoulder") - joint_m(body.world_m, "right_shoulder")
    return float(np.arctan2(across[2], across[0]))


def stands_staggered(body: Body) -> bool:
    """Whether one ankle looks lower because that foot is nearer the camera, both flat on the floor.

    A leg that is bent or raised shortens its shank, and its foot points down.
    """
    leg_px = max(body.leg_px, 1.0)
    slopes, ratios = [], []
    for side in ("left", "right"):
        heel, toe = body.points_px((f"{side}_heel", f"{side}_toe"))  # type: ignore[arg-type]
        slopes.append(float(toe[1] - heel[1]) / leg_px)
        ratios.append(max(thigh_px(body, side), 1.0) / max(shank_px(body, side), 1.0))
    return (
        abs(slopes[0] - slopes[1]) < FEET_ALIKE
        and abs(float(np.log(ratios[0] / ratios[1]))) < SHANKS_ALIKE
    )


def feet_in_depth(body: Body) -> float:
    """How far one ankle is before the other by the model's guess in space, in legs."""
    if body.world_m is None:
        return 0.0
    apart = joint_m(body.world_m, "left_ankle") - joint_m(body.world_m, "right_ankle")
    return abs(float(apart[2])) / _world_leg_m(body.world_m)


def _are_knees_alike(body: Body) -> bool:
    """Whether thighs look long in the picture for the view alone: seen from high above."""
    knees = knees_rad(body)
    if not knees:
        return False
    left, right = knees
    sides = side_px(body, "left"), side_px(body, "right")
    return abs(left - right) < KNEES_ALIKE_RAD and min(sides) > (1 - LEGS_ALIKE) * max(sides)


def _is_crouching(body: Body) -> bool:
    if body.world_m is None:
        return False
    bends, aheads = [], []
    for side in ("left", "right"):
        shoulder, hip, knee = f"{side}_shoulder", f"{side}_hip", f"{side}_knee"
        bends.append(bend_rad(body.world_m, shoulder, hip, knee))  # type: ignore[arg-type]
        ahead_m = joint_m(body.world_m, hip)[2] - joint_m(body.world_m, knee)[2]  # type: ignore[arg-type]
        aheads.append(float(ahead_m) / _world_leg_m(body.world_m))
    return min(bends) > MAX_HIPS_BENT_RAD and max(aheads) > MAX_KNEE_AHEAD


def _world_leg_m(world_m: NDArray[np.float64]) -> float:
    """Hip to knee to ankle, mean of both sides."""
    parts = [
        np.linalg.norm(joint_m(world_m, f"{side}_{one}") - joint_m(world_m, f"{side}_{other}"))  # type: ignore[arg-type]
        for side in ("left", "right")
        for one, other in (("hip", "knee"), ("knee", "ankle"))
    ]
    return max(float(np.sum(parts)) / 2, 1e-3)


def _framing(photo: Photo, body: Body) -> list[Notice]:
    reasons = []
    margin_px = BORDER_PART * photo.diagonal_px
    limits = np.array([photo.width_px, photo.height_px]) - 1 - margin_px

    def cut_off(*landmarks: str) -> bool:
        points = body.points_px(landmarks)  # type: ignore[arg-type]
        return bool(((points < margin_px) | (points > limits)).any())

    if cut_off("left_hip", "right_hip"):
        reasons.append(Notice("hips_out_of_frame", "The hips are cut off by the picture’s edge."))
    if cut_off("left_ankle", "right_ankle", "left_toe", "right_toe", "left_heel", "right_heel"):
        reasons.append(Notice("feet_out_of_frame", "The feet are cut off by the picture’s edge."))
    if body.leg_px / photo.working_scale < MIN_LEG_PX:
        reasons.append(
            Notice("child_too_small", "The child is too small in the picture to measure.")
        )
    hidden = [mark for mark in LEG_LANDMARKS if body.seen(mark) < MIN_VISIBILITY]
    if hidden and not reasons:
        names = ", ".join(mark.replace("_", " ") for mark in hidden)
        reasons.append(Notice("legs_hidden", f"Part of the legs cannot be seen: {names}."))
    return reasons


def _stance(body: Body) -> list[Notice]:
    reasons: list[Notice] = []
    leg_px = max(body.leg_px, 1.0)
    down = body.ankles_px - body.hips_px
    if down[1] <= 0 or abs(np.arctan2(down[0], down[1])) > MAX_LEAN_RAD:
        return [Notice("not_upright", "The child does not stand upright in the picture.")]
    hips = body.points_px(("left_hip", "right_hip"))
    shoulders = body.points_px(("left_shoulder", "right_shoulder"))
    shoulder_span = abs(float(shoulders[0, 0] - shoulders[1, 0])) / leg_px
    turn_rad = abs(_turn_rad(body))
    if shoulder_span < MIN_SHOULDERS or MAX_TURN_RAD < turn_rad < np.pi - MAX_TURN_RAD:
        reasons.append(Notice("side_view", "The child is seen from the side."))
    elif hips[0, 0] < hips[1, 0] and shoulders[0, 0] < shoulders[1, 0]:
        reasons.append(
            Notice("back_view", "The child is seen from behind, or the picture is mirrored.")
        )
    if not reasons and feet_in_depth(body) > MAX_FEET_IN_DEPTH:
        return [
            Notice(
                "walking",
                "One foot is well before the other: the child walks, strides or lifts a leg.",
            )
        ]
    low, high = THIGH_TO_SHANK
    ratios = [
        max(thigh_px(body, side), 1.0) / max(shank_px(body, side), 1.0)
        for side in ("left", "right")
    ]
    is_kneeling = min(ratios) > high and min(knees_rad(body), default=np.pi) > MIN_KNEELING_RAD
    if max(ratios) < low or is_kneeling or _is_crouching(body):
        reasons.append(Notice("sitting", "The child seems to sit or crouch."))
    elif (min(ratios) < low or min(ratios) <= high < max(ratios)) and not _are_knees_alike(body):
        reasons.append(Notice("leg_bent", "One leg is bent."))
    ankles = body.points_px(("left_ankle", "right_ankle"))
    if not reasons and abs(float(ankles[0, 1] - ankles[1, 1])) > MAX_ANKLES_UNEVEN * leg_px:
        reasons.append(Notice("leg_raised", "One foot is off the floor, or the child is walking."))
    if not reasons and float(np.hypot(*(ankles[0] - ankles[1]))) > MAX_ANKLES_APART * leg_px:
        reasons.append(Notice("stride", "The feet are too far apart."))
    left, right = side_px(body, "left"), side_px(body, "right")
    if not reasons and abs(left - right) > MAX_SIDES_UNLIKE * max(left, right):
        reasons.append(Notice("leg_bent", "One leg looks much shorter than the other: it is bent."))
    straight = min(straightness(body, side) for side in ("left", "right"))
    if not reasons and straight < MIN_STRAIGHT:
        reasons.append(Notice("leg_bent", "A knee is bent."))
    if not reasons and abs(np.log(ratios[0] / ratios[1])) > MAX_SHANKS_UNLIKE:
        reasons.append(
            Notice(
                "leg_raised",
                "One shank looks much shorter than the other: that foot is in the air, or the knee"
                " is bent.",
            )
        )
    return reasons
