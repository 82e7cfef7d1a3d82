"""The inseam, however it was obtained: by photo, tape, trousers, lift, stature or age."""

import math
from dataclasses import dataclass, replace
from typing import Final, Literal

from pose_fit.errors import PersonError
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, Contribution, UncertainLength
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice

__all__ = ["INSEAM_RANGE_MM", "Inseam", "Method"]

Method = Literal["photo", "tape", "trousers", "lift", "stature", "age", "combined", "stated"]

#: Shortest and longest inseam the tool speaks about: below the shortest of the measured
#: two-year-olds (children of 1977) and above the longest of the measured adults (2012).
INSEAM_RANGE_MM: Final = (250.0, 1100.0)


@dataclass(frozen=True, slots=True)
class Inseam:
    """Vertical distance from the floor to the crotch, standing erect, barefoot, feet slightly apart.

    Attributes
    ----------
    length
        Mean, standard uncertainty and budget, millimetres.
    method
        How it was obtained.
    warnings
        What makes the value less sure than usual.
    retake
        What to do for a better value, most useful first.
    """

    length: UncertainLength
    method: Method
    warnings: tuple[Notice, ...] = ()
    retake: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        low_mm, high_mm = INSEAM_RANGE_MM
        if not low_mm <= self.length.mean_mm <= high_mm:
            raise PersonError(
                f"an inseam lies between {both_units(low_mm)} and {both_units(high_mm)},"
                f" found {both_units(self.length.mean_mm)}"
            )

    def __str__(self) -> str:
        half_mm = COVERAGE_FACTOR_95 * self.sd_mm
        return f"{both_units(self.mean_mm)}, give or take {both_units(half_mm)}"

    @classmethod
    def stated(cls, mean_mm: float, sd_mm: float) -> "Inseam":
        """An inseam somebody states with its standard uncertainty, both in millimetres."""
        if not (math.isfinite(sd_mm) and sd_mm > 0):
            raise PersonError(
                f"the standard uncertainty must be finite and above 0 mm, found {sd_mm}"
            )
        budget = (Contribution("stated uncertainty", sd_mm, shared=True),)
        return cls(UncertainLength(mean_mm, budget), "stated")

    @property
    def mean_mm(self) -> float:
        """Best estimate, millimetres."""
        return self.length.mean_mm

    @property
    def sd_mm(self) -> float:
        """Combined standard uncertainty, millimetres."""
        return self.length.sd_mm

    @property
    def interval95_mm(self) -> tuple[float, float]:
        """Central 95 % interval, millimetres."""
        return self.length.interval95_mm

    def with_warnings(self, *warnings: Notice) -> "Inseam":
        """The same inseam with further warnings."""
        return replace(self, warnings=self.warnings + warnings)
