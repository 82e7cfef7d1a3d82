"""Are these two legs of one child, side by side and alike?

One bent knee, or one foot off the floor, hardly changes where the ankles are in a picture. It does
change how the two legs differ: how much each knee is bent in the pose model's guess of the body in
space, and how the shank looks against its thigh. Standing children's legs differ little in both.
"""

from typing import Final

import numpy as np

from pose_fit.body.body import Body
from pose_fit.body.leg_shape import knees_rad, shank_px, side_px, straightness, thigh_px
from pose_fit.photo.photo import Photo
from pose_fit.refusal import Notice

__all__ = ["two_legs_warnings"]

#: How the left leg of a standing child differs from the right one: the bend of the knee in radians
#: and the logarithm of thigh over shank. Standard deviations and correlation over 782 rendered
#: photos of the first set of worlds.
BEND_SD_RAD: Final = 0.0242
THIGH_TO_SHANK_LOG_SD: Final = 0.0449
CORRELATION: Final = -0.12
#: Squared distance from equal legs: chi-square of two that 5 in 100 pass. So do 6 in 100 rendered
#: children in the asked-for pose, and 10 in 100 of all, who often stand on one leg.
UNLIKE: Final = 5.99
#: Hip to ankle over hip to knee to ankle in the picture: how much straighter one leg is than the
#: other one. Bow legs and a view from above bend both alike; 3 in 100 standing children differ more.
MAX_STRAIGHTNESS_UNLIKE: Final = 0.0024
#: Legs of unequal length in the picture, relative.
MAX_LENGTHS_UNLIKE: Final = 0.10
#: Ankles this near each other, in parts of the distance between the hips, are on one line; one of
#: them this much lower, in legs, is a step ahead (1 in 400 standing children).
ON_ONE_LINE: Final = 0.55
STEP_AHEAD: Final = 0.03
#: Between knees and ankles the person's mask is looked at in these rows, this many legs to each
#: side. A lower leg is at least this wide, in legs; so many rows with a third one are no chance.
_ROWS: Final = np.linspace(0.2, 0.95, 16)
_ACROSS: Final = 0.9
_LEAST_WIDTH: Final = 0.025
_LEAST_ROWS: Final = 2


def two_legs_warnings(photo: Photo, body: Body) -> tuple[Notice, ...]:
    """What makes it doubtful that two straight legs of one child stand side by side."""
    warnings: list[Notice] = []
    if _are_unlike(body):
        warnings.append(
            Notice(
                "legs_unlike",
                "The two legs do not look alike: a knee may be bent, or a foot off the floor.",
            )
        )
    if _are_on_one_line(body):
        warnings.append(
            Notice("feet_staggered", "One foot is before the other on a line, as in walking.")
        )
    if _rows_with_a_third(photo, body) >= _LEAST_ROWS:
        warnings.append(
            Notice(
                "others_in_picture",
                "More than two lower legs seem to be in the picture. Was the child alone?",
            )
        )
    return tuple(warnings)


def _are_unlike(body: Body) -> bool:
    left, right = side_px(body, "left"), side_px(body, "right")
    if abs(left - right) > MAX_LENGTHS_UNLIKE * max(left, right):
        return True
    straight = [straightness(body, side) for side in ("left", "right")]
    if abs(straight[0] - straight[1]) > MAX_STRAIGHTNESS_UNLIKE:
        return True
    parts = [thigh_px(body, side) / max(shank_px(body, side), 1.0) for side in ("left", "right")]
    shanks = float(np.log(max(parts[0], 1e-6) / max(parts[1], 1e-6))) / THIGH_TO_SHANK_LOG_SD
    knees = knees_rad(body)
    if not knees:
        return shanks**2 > UNLIKE
    bends = (knees[0] - knees[1]) / BEND_SD_RAD
    square = (bends**2 - 2 * CORRELATION * bends * shanks + shanks**2) / (1 - CORRELATION**2)
    return square > UNLIKE


def _are_on_one_line(body: Body) -> bool:
    ankles_px = body.points_px(("left_ankle", "right_ankle"))
    hips_px = body.points_px(("left_hip", "right_hip"))
    apart_px, lower_px = np.abs(ankles_px[0] - ankles_px[1])
    is_ahead = bool(lower_px > STEP_AHEAD * body.leg_px)
    return is_ahead and bool(apart_px < ON_ONE_LINE * abs(hips_px[0, 0] - hips_px[1, 0]))


def _rows_with_a_third(photo: Photo, body: Body) -> int:
    """Rows between knees and ankles in which the mask shows more than two lower legs."""
    knees, ankles = (
        photo.working_px(body.points_px((f"left_{joint}", f"right_{joint}"))).mean(axis=0)  # type: ignore[arg-type]
        for joint in ("knee", "ankle")
    )
    leg_px = body.leg_px / photo.working_scale
    height, width = body.mask.shape
    count = 0
    for column, row in knees + (ankles - knees) * _ROWS[:, None]:
        if 0 <= row < height:
            left, right = column - _ACROSS * leg_px, column + _ACROSS * leg_px
            part = body.mask[int(row), max(int(left), 0) : min(int(right), width)] > 0.5
            edges = np.flatnonzero(np.diff(np.concatenate([[0], part.astype(int), [0]])))
            widths = edges[1::2] - edges[::2]
            count += int((widths >= _LEAST_WIDTH * leg_px).sum() > 2)
    return count
