"""Inseam from tape readings: book between the legs, tape from its top edge to the floor.

Repeatability comes from the readings, held to a prior so that two equal readings are
no proof of perfection; what all readings share (book pressed or not, posture, footwear)
does not average.
"""

import math
import numbers
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from scipy.special import stdtrit

from pose_fit.errors import PersonError
from pose_fit.inseam.inseam import INSEAM_RANGE_MM, Inseam
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95, Contribution, UncertainLength
from pose_fit.metrology.units import both_units
from pose_fit.refusal import Notice

__all__ = ["TAPE_CARE", "Care", "TapeCare", "inseam_from_tape", "repeatability_sd_mm"]

Care = Literal["careful", "hasty"]


@dataclass(frozen=True, slots=True)
class TapeCare:
    """What is known of a tape reading before it is taken.

    Attributes
    ----------
    reading_sd_mm
        Scatter of one reading about the mean of many by the same people.
    technique_sd_mm
        What all readings of one session share: book pressed, posture, footwear.
    """

    reading_sd_mm: float
    technique_sd_mm: float

    @property
    def sd_mm(self) -> float:
        """Standard uncertainty of an inseam from one reading."""
        return math.hypot(self.reading_sd_mm, self.technique_sd_mm)


#: Careful: between observers 3-9 mm on children's leg lengths (Penders 2015, J Pediatr
#: Endocrinol Metab, abstract), of which 5 mm are given to the single reading and 5 mm to
#: the technique; ISO 20685 allows heights a largest mean error of 4 mm. Hasty: common
#: practice, no source; a book not pressed, socks or thin shoes, a slouch.
TAPE_CARE: Final[dict[Care, TapeCare]] = {
    "careful": TapeCare(reading_sd_mm=5.0, technique_sd_mm=5.0),
    "hasty": TapeCare(reading_sd_mm=10.0, technique_sd_mm=12.0),
}
_READ_AGAIN: Final = "Read the tape three times, and take the book out in between."
#: Readings the prior scatter counts for.
_PRIOR_DEGREES: Final = 4
#: A reading this many of its expected standard deviations from the others is questioned.
_ODD_FACTOR: Final = 3.5


def inseam_from_tape(readings_mm: Sequence[float], *, care: Care = "careful") -> Inseam:
    """The mean of the readings, with repeatability and technique in its budget.

    Parameters
    ----------
    readings_mm
        One or more readings of the same child, barefoot, in the order taken.
    care
        How the tape was held; see :data:`TAPE_CARE`.

    Returns
    -------
    Inseam
        Warnings name a reading that does not belong to the others; it stays in the
        mean and widens the interval, since only the family knows which one is wrong.

    Raises
    ------
    PersonError
        No reading, an unknown care, or a reading that is not an inseam.
    TypeError
        Something else than a list of numbers.
    """
    settings = _settings(care)
    if isinstance(readings_mm, (int, float, str)) or any(
        not isinstance(reading_mm, numbers.Real) for reading_mm in readings_mm
    ):
        raise TypeError(
            f"readings_mm: wanted a list of millimetres, such as [640, 645], found {readings_mm!r}"
        )
    readings = [_checked(reading_mm) for reading_mm in readings_mm]
    if not readings:
        raise PersonError("a tape needs at least one reading, found none")
    budget = (
        Contribution("tape readings repeat", repeatability_sd_mm(readings, care=care)),
        Contribution("tape technique (book, posture, shoes)", settings.technique_sd_mm, True),
    )
    return Inseam(
        UncertainLength(statistics.fmean(readings), budget),
        "tape",
        warnings=_odd_readings(readings, settings.reading_sd_mm),
        retake=() if len(readings) > 2 else (_READ_AGAIN,),
    )


def repeatability_sd_mm(readings_mm: Sequence[float], *, care: Care = "careful") -> float:
    """Standard uncertainty of the mean of n readings from their scatter, never 0.

    The variance is the scale of a scaled inverse chi-square posterior (prior scatter
    worth 4 readings; Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6), and
    Student's t with its degrees of freedom takes the place of the normal, so that 1.96
    of the returned sd covers 95 %.

    Raises
    ------
    PersonError
        No reading, or an unknown care.
    """
    count = len(readings_mm)
    if not count:
        raise PersonError("a tape needs at least one reading, found none")
    prior_sd_mm = _settings(care).reading_sd_mm
    mean_mm = statistics.fmean(readings_mm)
    squares = math.fsum((reading_mm - mean_mm) ** 2 for reading_mm in readings_mm)
    degrees = _PRIOR_DEGREES + count - 1
    variance = (_PRIOR_DEGREES * prior_sd_mm**2 + squares) / degrees
    student = float(stdtrit(degrees, 0.975)) / COVERAGE_FACTOR_95
    return student * math.sqrt(variance / count)


def _settings(care: Care) -> TapeCare:
    if care not in TAPE_CARE:
        raise PersonError(f"the care must be one of {', '.join(TAPE_CARE)}, found {care!r}")
    return TAPE_CARE[care]


def _checked(reading_mm: float) -> float:
    low_mm, high_mm = INSEAM_RANGE_MM
    if not (math.isfinite(reading_mm) and low_mm <= reading_mm <= high_mm):
        hint = "; is it the child's whole height?" if reading_mm > high_mm else ""
        raise PersonError(
            f"a tape reading of an inseam lies between {both_units(low_mm)} and"
            f" {both_units(high_mm)}, found {both_units(reading_mm)}{hint}"
        )
    return reading_mm


def _odd_readings(readings: Sequence[float], reading_sd_mm: float) -> tuple[Notice, ...]:
    """The reading furthest from the median of the others, if too far; of two, that they disagree."""
    if len(readings) == 2:
        apart_mm = abs(readings[0] - readings[1])
        if apart_mm <= _ODD_FACTOR * math.sqrt(2) * reading_sd_mm:
            return ()
        return (
            Notice(
                "tape_readings_disagree",
                f"The two tape readings are {both_units(apart_mm)} apart; take a third.",
            ),
        )
    if len(readings) < 2:
        return ()
    # Only the worst is named: it draws the median of few others towards itself.
    apart_mm, number, expected_mm = max(
        _apart_mm(readings, number, reading_sd_mm) for number in range(len(readings))
    )
    if apart_mm <= _ODD_FACTOR * expected_mm:
        return ()
    return (
        Notice(
            "tape_odd_reading",
            f"Reading {number + 1}, {both_units(readings[number])}, is {both_units(apart_mm)} from"
            " the others; measure again, or leave it out if it was a slip.",
        ),
    )


def _apart_mm(
    readings: Sequence[float], number: int, reading_sd_mm: float
) -> tuple[float, int, float]:
    """Distance of one reading from the median of the others, its number, and its expected sd."""
    others = [*readings[:number], *readings[number + 1 :]]
    # A median of m normal readings has the variance pi / (2 m) of one of them.
    expected_mm = reading_sd_mm * math.sqrt(1 + math.pi / (2 * len(others)))
    return abs(readings[number] - statistics.median(others)), number, expected_mm
