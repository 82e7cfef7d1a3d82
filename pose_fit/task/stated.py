"""What somebody states about the child in one photo, beside the reference: everything optional."""

import datetime as dt
import math
from dataclasses import dataclass
from typing import Final

from pose_fit.body.body import Landmark
from pose_fit.errors import PersonError
from pose_fit.photo.photo import Place
from pose_fit.task.legwear import LEGWEAR, Legwear

__all__ = ["NOTHING_STATED", "SOLES_RANGE_MM", "Stated"]

#: Soles that a child's shoe may have; beyond them the unit or the number is wrong.
SOLES_RANGE_MM: Final = (0.0, 60.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """What is worn in the photo, and what was pointed at; None where nobody said.

    Attributes
    ----------
    soles_mm
        Thickness of the soles, 0 barefoot.
    legwear
        What the child wears on the legs. Under ``hidden`` no crotch is looked for.
    heels_down
        Somebody who was there says that both heels were on the floor, which a picture from the
        front hardly shows.
    crotch_px
        (x, y) in upright pixels in place of the crotch that is found: the top of the gap, crease
        or seam where the legs part. It errs by a click, and cloth hides the crotch from a person
        as from the program.
    floor_px
        (x, y) in place of the feet's lowest points that are found: where the tip of the toes or
        shoes meets the floor. The heels, from which a child's inseam is measured, are hidden
        behind the feet; the tip lies a foot's length before them.
    person_px
        (x, y) on or near the person to be measured, where there are several.
    joints_px
        Joints that somebody moved, each with its place.
    taken_on
        Day the photo was taken, where somebody knows better than the picture file.

    Raises
    ------
    PersonError
        Soles that no shoe has, legwear that is none of :data:`LEGWEAR`.
    """

    soles_mm: float | None = None
    legwear: Legwear | None = None
    heels_down: bool = False
    crotch_px: Place | None = None
    floor_px: Place | None = None
    person_px: Place | None = None
    joints_px: tuple[tuple[Landmark, Place], ...] = ()
    taken_on: dt.date | None = None

    def __post_init__(self) -> None:
        low_mm, high_mm = SOLES_RANGE_MM
        soles_mm = self.soles_mm
        if soles_mm is not None and not (math.isfinite(soles_mm) and low_mm <= soles_mm <= high_mm):
            raise PersonError(
                f"wanted soles of {low_mm:.0f} to {high_mm:.0f} mm, found {soles_mm:g} mm"
            )
        if self.legwear is not None and self.legwear not in LEGWEAR:
            raise PersonError(f"wanted legwear of {', '.join(LEGWEAR)}, found {self.legwear!r}")


NOTHING_STATED: Final = Stated()
