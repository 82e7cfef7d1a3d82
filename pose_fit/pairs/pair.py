"""One child measured twice: by photo, and by a tape while the child stood there."""

import datetime as dt
import math
from dataclasses import dataclass

from pose_fit.errors import PersonError
from pose_fit.inseam.from_tape import Care, inseam_from_tape
from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.reference.reference import ReferenceKind
from pose_fit.task.legwear import Legwear

__all__ = ["Pair"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A photo's estimate and a tape reading of the same child, brought to the same day.

    Attributes
    ----------
    name
        How staff find the child again: a case number or a line of a list.
    photo
        What the photos gave, without any tape and without any correction.
    readings_mm
        Readings of the tape in the order taken, at least one.
    care
        How the tape was held; see :data:`pose_fit.inseam.from_tape.TAPE_CARE`.
    taken_by
        Who held the tape.
    day
        Day of the tape.
    reference
        Object of known size in the photo; None where the photos had different ones.
    legwear
        What the child wore on the legs in the photo; None where nobody said.
    touched
        Whether the bicycle that was tried touched the child; None where none was tried.
    shop
        Which branch; empty where there is one only.

    Raises
    ------
    PersonError
        No reading, or one that is not an inseam.
    """

    name: str
    photo: Inseam
    readings_mm: tuple[float, ...]
    care: Care = "careful"
    taken_by: str
    day: dt.date
    reference: ReferenceKind | None = None
    legwear: Legwear | None = None
    touched: bool | None = None
    shop: str = ""

    def __post_init__(self) -> None:
        inseam_from_tape(self.readings_mm, care=self.care)
        if not self.taken_by.strip():
            raise PersonError(f"{self.name}: wanted the name of who held the tape, found none")

    @property
    def tape(self) -> Inseam:
        """The tape's inseam with the tape's own uncertainty."""
        return inseam_from_tape(self.readings_mm, care=self.care)

    @property
    def difference_mm(self) -> float:
        """Photo minus tape."""
        return self.photo.mean_mm - self.tape.mean_mm

    @property
    def mean_mm(self) -> float:
        """Mean of photo and tape: where a difference plot shows the child."""
        return (self.photo.mean_mm + self.tape.mean_mm) / 2

    @property
    def expected_sd_mm(self) -> float:
        """Standard uncertainty of the difference, as photo and tape state their own."""
        return math.hypot(self.photo.sd_mm, self.tape.sd_mm)

    @property
    def is_covered(self) -> bool:
        """Whether the difference lies within its 95 % interval, the tape's error included."""
        return abs(self.difference_mm) <= COVERAGE_FACTOR_95 * self.expected_sd_mm
