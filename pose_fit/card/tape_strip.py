"""The result on a piece of measuring tape: where its marks lie."""

import math
from dataclasses import dataclass
from typing import Final

from pose_fit.inseam.inseam import Inseam
from pose_fit.metrology.units import MM_PER_INCH

__all__ = ["Tape", "Tick", "tape_of"]

#: The tape shows at least this much, and the interval takes at most this share of it.
_LEAST_SPAN_MM: Final = 120.0
_INTERVAL_SHARE: Final = 0.6
_CROWDED_MM: Final = 250.0
#: So near to an end a number would be cut.
_EDGE: Final = 0.025


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on the tape.

    Attributes
    ----------
    at
        Place along the tape, 0 to 1.
    long
        Whether it is a whole inch, or five centimetres.
    text
        Number beside it; empty at a short mark, and near an end.
    """

    at: float
    long: bool
    text: str


@dataclass(frozen=True, slots=True)
class Tape:
    """Marks in inches and centimetres, the interval's ends and the estimate, all 0 to 1."""

    inches: tuple[Tick, ...]
    centimetres: tuple[Tick, ...]
    low: float
    high: float
    mean: float


def tape_of(inseam: Inseam) -> Tape:
    """A piece of tape around the estimate, wide enough for its 95 % interval."""
    low_mm, high_mm = inseam.interval95_mm
    span_mm = max(_LEAST_SPAN_MM, (high_mm - low_mm) / _INTERVAL_SHARE)
    start_mm = max(0.0, inseam.mean_mm - span_mm / 2)

    def at(length_mm: float) -> float:
        return (length_mm - start_mm) / span_mm

    def ticks(step_mm: float, steps_a_long_one: int, unit_mm: float) -> tuple[Tick, ...]:
        first = math.ceil(start_mm / step_mm)
        last = math.floor((start_mm + span_mm) / step_mm)
        marks = []
        for number in range(first, last + 1):
            long = number % steps_a_long_one == 0
            place = at(number * step_mm)
            whole = long and _EDGE <= place <= 1 - _EDGE
            marks.append(Tick(place, long, f"{number * step_mm / unit_mm:.0f}" if whole else ""))
        return tuple(marks)

    # Quarters of an inch where there is room for them.
    near = span_mm < _CROWDED_MM
    return Tape(
        inches=ticks(MM_PER_INCH / 4 if near else MM_PER_INCH, 4 if near else 2, MM_PER_INCH),
        centimetres=ticks(10.0, 5, 10.0),
        low=max(0.0, at(low_mm)),
        high=at(high_mm),
        mean=at(inseam.mean_mm),
    )
