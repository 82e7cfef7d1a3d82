"""Whether the body stands so that its legs can be measured, and what to change if not."""

from typing import Final

import numpy as np

from pose_fit.body.body import LEG_LANDMARKS, Body
from pose_fit.photo import Photo
from pose_fit.refusal import Notice, Refusal

__all__ = ["check_posture", "posture_warnings"]

# Limits in leg lengths or ratios, chosen for standing people (common practice, no source).
#: Hip to ankle in working pixels below which a pixel is worth more than 4 mm on a small child.
MIN_LEG_PX: Final = 110.0
#: A leg landmark nearer the border than this is cut off or guessed.
BORDER_PART: Final = 0.004
#: Thigh against shank in the picture: 0.98 to 1.08 standing, far less on a chair.
THIGH_TO_SHANK: Final = (0.72, 1.45)
#: The two ankles of a standing child are level; the hips too.
MAX_ANKLES_UNEVEN: Final = 0.30
MAX_SIDES_UNLIKE: Final = 0.20
#: Shoulders of a child who faces the camera, in leg lengths.
MIN_SHOULDERS: Final = 0.22
#: Straightness of a leg: hip to ankle over hip to knee to ankle.
MIN_STRAIGHT: Final = 0.965
#: Ankles further apart than this make a stride, not a stance.
MAX_ANKLES_APART: Final = 1.10
MIN_VISIBILITY: Final = 0.5
#: The legs hang down in an upright picture.
MAX_LEAN_RAD: Final = np.radians(25.0)

_STAND: Final = (
    "Stand straight and face the camera, heels to the wall, feet a hand apart, and try again."
)
_FRAME: Final = (
    "Step back until the whole child is in the picture, with a hand of floor below the feet."
)


def check_posture(photo: Photo, body: Body) -> Refusal | None:
    """A refusal where the legs cannot be measured in this posture, else None."""
    reasons = [*_framing(photo, body), *_stance(body)]
    if not reasons:
        return None
    out_of_frame = any(reason.code.endswith("out_of_frame") for reason in reasons)
    return Refusal(tuple(reasons), (_FRAME if out_of_frame else _STAND,))


def posture_warnings(body: Body) -> tuple[Notice, ...]:
    """What makes a measurable posture less sure."""
    warnings = []
    left, right = _leg_px(body, "left"), _leg_px(body, "right")
    straight = min(_straightness(body, "left"), _straightness(body, "right"))
    if straight < (1 + MIN_STRAIGHT) / 2:
        warnings.append(Notice("knees_bent", "A knee looks slightly bent."))
    if abs(left - right) > MAX_SIDES_UNLIKE / 2 * max(left, right):
        warnings.append(Notice("legs_unlike", "The two legs look unequally long in the picture."))
    return tuple(warnings)


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
    reasons = []
    leg_px = max(body.leg_px, 1.0)
    down = body.ankles_px - body.hips_px
    if down[1] <= 0 or abs(np.arctan2(down[0], down[1])) > MAX_LEAN_RAD:
        return [Notice("not_upright", "The child does not stand upright in the picture.")]
    hips = body.points_px(("left_hip", "right_hip"))
    shoulders = body.points_px(("left_shoulder", "right_shoulder"))
    shoulder_span = abs(float(shoulders[0, 0] - shoulders[1, 0])) / leg_px
    if shoulder_span < MIN_SHOULDERS:
        reasons.append(Notice("side_view", "The child is seen from the side."))
    elif hips[0, 0] < hips[1, 0] and shoulders[0, 0] < shoulders[1, 0]:
        reasons.append(
            Notice("back_view", "The child is seen from behind, or the picture is mirrored.")
        )
    low, high = THIGH_TO_SHANK
    ratios = [_thigh_px(body, side) / max(_shank_px(body, side), 1.0) for side in ("left", "right")]
    if max(ratios) < low or min(ratios) > high:
        reasons.append(Notice("sitting", "The child seems to sit or crouch."))
    elif min(ratios) < low or max(ratios) > high:
        reasons.append(Notice("leg_bent", "One leg is bent."))
    ankles = body.points_px(("left_ankle", "right_ankle"))
    if not reasons and abs(float(ankles[0, 1] - ankles[1, 1])) > MAX_ANKLES_UNEVEN * leg_px:
        reasons.append(Notice("leg_raised", "One foot is off the floor, or the child is walking."))
    if not reasons and float(np.hypot(*(ankles[0] - ankles[1]))) > MAX_ANKLES_APART * leg_px:
        reasons.append(Notice("stride", "The feet are too far apart."))
    left, right = _leg_px(body, "left"), _leg_px(body, "right")
    if not reasons and abs(left - right) > MAX_SIDES_UNLIKE * max(left, right):
        reasons.append(Notice("leg_bent", "One leg looks much shorter than the other: it is bent."))
    straight = min(_straightness(body, side) for side in ("left", "right"))
    if not reasons and straight < MIN_STRAIGHT:
        reasons.append(Notice("leg_bent", "A knee is bent."))
    return reasons


def _thigh_px(body: Body, side: str) -> float:
    hip, knee = body.points_px((f"{side}_hip", f"{side}_knee"))  # type: ignore[arg-type]
    return float(np.hypot(*(knee - hip)))


def _shank_px(body: Body, side: str) -> float:
    knee, ankle = body.points_px((f"{side}_knee", f"{side}_ankle"))  # type: ignore[arg-type]
    return float(np.hypot(*(ankle - knee)))


def _leg_px(body: Body, side: str) -> float:
    return _thigh_px(body, side) + _shank_px(body, side)


def _straightness(body: Body, side: str) -> float:
    hip, ankle = body.points_px((f"{side}_hip", f"{side}_ankle"))  # type: ignore[arg-type]
    return float(np.hypot(*(ankle - hip))) / max(_leg_px(body, side), 1.0)
