"""What measured people say of a child of this body height or age, as a reading of its own."""

from pose_fit.anthropometry.child import Child
from pose_fit.inseam.from_age import inseam_from_age
from pose_fit.inseam.from_stature import inseam_from_stature
from pose_fit.metrology.uncertain import UncertainLength

__all__ = ["known_of"]


def known_of(child: Child) -> UncertainLength | None:
    """By the body height where it is stated, else widely by the age; None where neither is.

    The age adds nothing once the body height is known.
    """
    if child.stature_mm is not None:
        return inseam_from_stature(child.stature_mm, sex=child.sex).length
    if child.age_y is not None:
        return inseam_from_age(child.age_y, sex=child.sex).length
    return None
