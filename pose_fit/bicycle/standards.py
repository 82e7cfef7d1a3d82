"""Which rules a bicycle falls under, worked out from its saddle and wheel geometry.

What the rules say was read in secondary sources and in the US code; a bicycle's own label
decides. Nothing here is a test of conformity.
"""

import math
from dataclasses import dataclass
from typing import Final

from pose_fit.bicycle.bicycle import Bicycle
from pose_fit.bicycle.tyre import Tyre
from pose_fit.metrology.units import both_units

__all__ = [
    "ISO_4210_YOUNG_ADULT_MM",
    "ISO_8098_MM",
    "SIDEWALK_SEAT_MM",
    "TOE_CLEARANCE_MM",
    "TOE_CLEARANCE_RULE",
    "Standard",
    "standards",
    "toe_clearance_mm",
]

#: ISO 8098:2023, young children's bicycles: highest saddle above 435, below 635 mm.
ISO_8098_MM: Final = (435.0, 635.0)
#: ISO 4210-2:2023, young adult bicycles: highest saddle from 635, below 750 mm.
ISO_4210_YOUNG_ADULT_MM: Final = (635.0, 750.0)
#: 16 CFR 1512.2(b), sidewalk bicycle: seat at its highest no more than 635 mm.
SIDEWALK_SEAT_MM: Final = 635.0
#: 16 CFR 1512.17(d): at least 89 mm from the pedal's centre forward to the tyre's sweep.
TOE_CLEARANCE_MM: Final = 89.0
TOE_CLEARANCE_RULE: Final = "16 CFR 1512.17(d) toe clearance"


@dataclass(frozen=True, slots=True)
class Standard:
    """One rule and whether the bicycle falls into it.

    Attributes
    ----------
    rule
        Name of the rule.
    met
        Whether its figure is met.
    text
        The figure wanted and the one found.
    """

    rule: str
    met: bool
    text: str


def standards(bicycle: Bicycle) -> tuple[Standard, ...]:
    """The rules that the known geometry can be held against; empty where nothing is known.

    Empty as well without pedals: then it is a toy, under other rules.
    """
    found: list[Standard] = []
    if not bicycle.pedals:
        return ()
    highest_mm = bicycle.saddle_max_mm
    if highest_mm is not None:
        saddle = f"highest saddle {highest_mm:.0f} mm"
        low_mm, high_mm = ISO_8098_MM
        found.append(
            Standard(
                "ISO 8098 young children's bicycle",
                low_mm < highest_mm < high_mm,
                f"{saddle}; wanted above {low_mm:.0f}, below {high_mm:.0f} mm",
            )
        )
        low_mm, high_mm = ISO_4210_YOUNG_ADULT_MM
        found.append(
            Standard(
                "ISO 4210-2 young adult bicycle",
                low_mm <= highest_mm < high_mm,
                f"{saddle}; wanted from {low_mm:.0f}, below {high_mm:.0f} mm",
            )
        )
        found.append(
            Standard(
                "16 CFR 1512.2(b) sidewalk bicycle",
                highest_mm <= SIDEWALK_SEAT_MM,
                f"{saddle}; wanted at most {SIDEWALK_SEAT_MM:.0f} mm",
            )
        )
    clearance_mm = toe_clearance_mm(bicycle)
    if clearance_mm is not None:
        found.append(
            Standard(
                TOE_CLEARANCE_RULE,
                clearance_mm >= TOE_CLEARANCE_MM,
                f"pedal to front tyre {both_units(clearance_mm)}, wheel straight; wanted at least"
                f" {both_units(TOE_CLEARANCE_MM)}",
            )
        )
    return tuple(found)


def toe_clearance_mm(bicycle: Bicycle) -> float | None:
    """From the centre of the pedal, crank forward, horizontally to the front tyre.

    16 CFR 1512.17(d) measures so, to the arc the tyre sweeps when turned to any position. With
    the wheel straight the tyre reaches farthest back, so this is its smallest value as long as
    the fork's rake and trail are small against the wheel. None where geometry is missing or the
    tyre's size is ambiguous.
    """
    tyre, crank_mm = bicycle.tyre, bicycle.crank_mm
    bracket_mm, front_mm = bicycle.bottom_bracket_height_mm, bicycle.front_centre_mm
    if not isinstance(tyre, Tyre) or crank_mm is None or bracket_mm is None or front_mm is None:
        return None
    radius_mm = tyre.outside_diameter_mm / 2
    drop_mm = radius_mm - bracket_mm
    if not abs(drop_mm) < min(radius_mm, front_mm):
        return None
    # Horizontal run to the front axle, less half the tyre's chord at the pedal's height.
    run_mm = math.sqrt(front_mm**2 - drop_mm**2)
    return run_mm - crank_mm - math.sqrt(radius_mm**2 - drop_mm**2)
