"""Do the feet stand on the floor at the foot of the wall?

Whoever stands before a wall has the toes a foot's length before it, and a camera that looks down sees
them as far below the wall's base. Feet on a box or a stool, on tiptoe, in the air or in a picture that
hangs on the wall look nearer to it, or above.
"""

import math
from typing import Final

from pose_fit.body.body import Body
from pose_fit.checks.feet_level import looks_down_rad
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.photogrammetry.plane import PlaneScale
from pose_fit.refusal import Notice
from pose_fit.sights.candidates import WallBaseCandidate

__all__ = ["feet_on_floor_warnings"]

#: How far before the wall the toes look, in legs: 0.35 in the middle of 191 rendered children, less
#: than this in 2 of a hundred of them where the wall's base is seen this surely.
LEAST_BEFORE_WALL: Final = 0.18
SURELY_SEEN: Final = 0.5
#: A camera lower than this shows nothing of it.
LEAST_DOWN: Final = 0.10


def feet_on_floor_warnings(
    body: Body,
    plane: PlaneScale,
    legs: LegGeometry,
    wall_bases: tuple[WallBaseCandidate, ...],
) -> tuple[Notice, ...]:
    """What is told where the feet look too high for feet on the floor before this wall."""
    down = math.tan(looks_down_rad(plane, legs))
    if not wall_bases or wall_bases[0].weight < SURELY_SEEN or down < LEAST_DOWN:
        return ()
    (left_px, base_px), (right_px, other_px) = wall_bases[0].line_px
    slope = (other_px - base_px) / (right_px - left_px)
    toes_px = body.points_px(("left_toe", "right_toe")).mean(axis=0)
    below_px = float(toes_px[1] - (base_px + slope * (toes_px[0] - left_px)))
    if below_px > LEAST_BEFORE_WALL * down * body.leg_px:
        return ()
    return (
        Notice(
            "feet_off_floor",
            "The feet look too high for the foot of the wall: is the child on tiptoe, on something,"
            " or off the floor?",
        ),
    )
