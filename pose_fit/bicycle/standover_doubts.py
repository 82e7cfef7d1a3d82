"""What speaks against a standover height that somebody measured: a question, never a refusal."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

__all__ = ["DoubtKind", "StandoverDoubt", "standover_doubts"]

DoubtKind = Literal["catalogue", "wheel", "saddle", "bottom_bracket", "neighbours"]

#: Standover height as a multiple of the tyre's outside diameter, with a top tube and without one.
#: Small and large frames of one wheel stay well inside (common practice, no source).
_OF_WHEEL: Final = (0.80, 1.35)
_OF_WHEEL_STEP_THROUGH: Final = (0.40, 1.10)
#: Bicycles of one wheel size and kind that say something of the next, and how far beyond the
#: lowest and highest of them one more may be, millimetres (common practice, no source).
_FEWEST_NEIGHBOURS: Final = 3
_BEYOND_NEIGHBOURS_MM: Final = 38.0


@dataclass(frozen=True, slots=True)
class StandoverDoubt:
    """One thing that a height does not agree with.

    Attributes
    ----------
    kind
        What it is compared with.
    low_mm, high_mm
        Between which it would be expected; one of them may be infinite.
    """

    kind: DoubtKind
    low_mm: float
    high_mm: float


def standover_doubts(
    bicycle: Bicycle, standover_mm: float, stock: Sequence[Bicycle]
) -> tuple[StandoverDoubt, ...]:
    """What a measured standover height does not agree with; empty where nothing speaks against it.

    Parameters
    ----------
    bicycle
        As the catalogue has it.
    standover_mm
        As it was measured.
    stock
        All bicycles of the shop; those like it are its neighbours.
    """
    expected = [_catalogue(bicycle), _wheel(bicycle)]
    if bicycle.saddle_min_mm is not None:
        expected.append(StandoverDoubt("saddle", -math.inf, bicycle.saddle_min_mm))
    if bicycle.bottom_bracket_height_mm is not None:
        expected.append(
            StandoverDoubt("bottom_bracket", bicycle.bottom_bracket_height_mm, math.inf)
        )
    expected += _neighbours(bicycle, stock)
    return tuple(each for each in expected if not each.low_mm <= standover_mm <= each.high_mm)


def _catalogue(bicycle: Bicycle) -> StandoverDoubt:
    """Within what both heights are sure to: 95 % (JCGM 100, 5.1)."""
    measured = replace(bicycle, standover_source="measured")
    apart_mm = COVERAGE_FACTOR_95 * math.hypot(bicycle.standover_sd_mm, measured.standover_sd_mm)
    known_mm = bicycle.standover_mm
    return StandoverDoubt("catalogue", known_mm - apart_mm, known_mm + apart_mm)


def _wheel(bicycle: Bicycle) -> StandoverDoubt:
    low, high = _OF_WHEEL if bicycle.has_top_tube else _OF_WHEEL_STEP_THROUGH
    if bicycle.frame == "unknown":
        low = _OF_WHEEL_STEP_THROUGH[0]
    diameter_mm = bicycle.tyre.likeliest.outside_diameter_mm
    return StandoverDoubt("wheel", low * diameter_mm, high * diameter_mm)


def _neighbours(bicycle: Bicycle, stock: Sequence[Bicycle]) -> list[StandoverDoubt]:
    heights_mm = [
        other.standover_mm
        for other in stock
        if other.name != bicycle.name
        and other.tyre.wheel_class_in == bicycle.tyre.wheel_class_in
        and (other.pedals, other.has_top_tube) == (bicycle.pedals, bicycle.has_top_tube)
    ]
    if len(heights_mm) < _FEWEST_NEIGHBOURS:
        return []
    low_mm, high_mm = min(heights_mm), max(heights_mm)
    return [
        StandoverDoubt(
            "neighbours", low_mm - _BEYOND_NEIGHBOURS_MM, high_mm + _BEYOND_NEIGHBOURS_MM
        )
    ]
