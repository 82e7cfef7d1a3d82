"""Does the inseam go with what is known of the child?"""

from pose_fit.anthropometry.child import Child
from pose_fit.anthropometry.plausibility import (
    Plausibility,
    plausibility_at_age,
    plausibility_at_stature,
)
from pose_fit.inseam.inseam import Inseam

__all__ = ["plausibilities"]


def plausibilities(inseam: Inseam, child: Child) -> tuple[Plausibility, ...]:
    """The inseam against children of the same stature and of the same age, where given."""
    judged = []
    if child.stature_mm is not None:
        judged.append(
            plausibility_at_stature(
                inseam.mean_mm, sd_mm=inseam.sd_mm, stature_mm=child.stature_mm, sex=child.sex
            )
        )
    if child.age_y is not None:
        judged.append(
            plausibility_at_age(
                inseam.mean_mm, sd_mm=inseam.sd_mm, age_y=child.age_y, sex=child.sex
            )
        )
    return tuple(judged)
