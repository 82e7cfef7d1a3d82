"""What a photo would give with thin or thick soles, where nobody said what was on the feet."""

from dataclasses import replace
from typing import Final

from pose_fit.anthropometry.soles import SOLES_BY_RULER_SD_MM, UNKNOWN_SOLES_MM
from pose_fit.budget_sources import BudgetSource
from pose_fit.inseam.inseam import INSEAM_RANGE_MM, Inseam
from pose_fit.metrology.uncertain import UncertainLength

__all__ = ["with_other_soles"]

_SOLES: Final[BudgetSource] = "shoe soles"
#: Barefoot, and the thickest sports shoe of a child, millimetres (common practice, no source).
_SOLES_THERE_ARE_MM: Final = (0.0, 30.0)


def with_other_soles(inseam: Inseam) -> tuple[Inseam, ...]:
    """The inseam if its photo showed bare feet, and if it showed thick soles.

    All of the difference counts, though a reading may see the floor by other things than the feet:
    other soles also change which of the readings is believed. Empty where the soles are known, or
    weigh no more than soles measured with a ruler: the budget tells both.
    """
    sd_mm = sum(line.sd_mm for line in inseam.length.budget if line.source == _SOLES)
    if sd_mm <= SOLES_BY_RULER_SD_MM:
        return ()
    supposed_mm, unknown_sd_mm = UNKNOWN_SOLES_MM
    budget = tuple(
        line.times(SOLES_BY_RULER_SD_MM / unknown_sd_mm) if line.source == _SOLES else line
        for line in inseam.length.budget
    )
    low_mm, high_mm = INSEAM_RANGE_MM
    means_mm = (inseam.mean_mm - (mm - supposed_mm) for mm in _SOLES_THERE_ARE_MM)
    return tuple(
        replace(inseam, length=UncertainLength(min(max(mean_mm, low_mm), high_mm), budget))
        for mean_mm in means_mm
    )
