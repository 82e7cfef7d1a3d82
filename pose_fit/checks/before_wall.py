"""Does the child stand at the wall that the object of known size hangs on?

A child far before it looks larger than the object tells, and the inseam comes out too long. Then
wall and floor meet far above the place where the feet put the floor.
"""

from pose_fit.inseam.photo_sights import PhotoSights
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice

__all__ = ["before_wall_warnings"]


def before_wall_warnings(sights: PhotoSights) -> tuple[Notice, ...]:
    """What is told of a child who may stand far before the wall; the budget holds what it does."""
    if sights.base_above_mm == 0:
        return ()
    return (
        Notice(
            "before_wall",
            "The child may stand far in front of the wall, for the only clear edge along it lies"
            f" {both_units(sights.base_above_mm)} above the feet. Then the inseam comes out too"
            " long. Please have both heels touch the wall, and take the picture again.",
        ),
    )
