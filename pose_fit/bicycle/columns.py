"""The columns of a bicycle catalogue: one row of header, unit, need and meaning each."""

import math
from dataclasses import dataclass
from typing import Final, Literal

from pose_fit.units import MM_PER_INCH

__all__ = ["ANGLE_UNITS", "COLUMNS", "LENGTH_UNITS", "Column", "Quantity"]

Quantity = Literal["text", "length", "angle", "number", "yes_no"]

#: Header endings of a length, and millimetres in each.
LENGTH_UNITS: Final[dict[str, float]] = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}
#: Header endings of an angle, and radians in each.
ANGLE_UNITS: Final[dict[str, float]] = {"deg": math.radians(1.0)}


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the file.

    Attributes
    ----------
    name
        Header without its unit.
    quantity
        What a cell holds. A length's header ends in ``_mm``, ``_cm`` or ``_in``, an angle's in
        ``_deg``.
    required
        Whether every bicycle needs it.
    meaning
        What to measure and how, for a shop.
    """

    name: str
    quantity: Quantity
    required: bool
    meaning: str

    @property
    def headers(self) -> tuple[str, ...]:
        """The headers this column can have in a file."""
        if self.quantity == "length":
            return tuple(f"{self.name}_{unit}" for unit in LENGTH_UNITS)
        if self.quantity == "angle":
            return tuple(f"{self.name}_{unit}" for unit in ANGLE_UNITS)
        return (self.name,)

    @property
    def unit_text(self) -> str:
        """Units the header can name, for a table."""
        return {"length": "mm, cm or in", "angle": "deg"}.get(self.quantity, "")

    @property
    def field(self) -> str:
        """The field of :class:`pose_fit.bicycle.bicycle.Bicycle` it fills."""
        return self.name + {"length": "_mm", "angle": "_rad"}.get(self.quantity, "")


COLUMNS: Final = (
    Column("name", "text", True, "What the shop calls the bicycle, size included; each name once."),
    Column("tyre", "text", True, "Marking on the tyre's sidewall, such as 20 x 1.75 or 47-406."),
    Column(
        "standover",
        "length",
        True,
        "Floor to the top of the top tube where the rider straddles it, just ahead of the saddle,"
        " tyres inflated. On a step-through frame: the lowest place to step through.",
    ),
    Column(
        "standover_source",
        "text",
        False,
        "measured (tape, in the shop), published (maker's figure) or unknown.",
    ),
    Column("frame", "text", False, "level, sloping, step_through or unknown."),
    Column("top_tube_slope", "angle", False, "Rise of the top tube towards the front."),
    Column("saddle_min", "length", False, "Floor to the top of the saddle at its lowest."),
    Column(
        "saddle_max",
        "length",
        False,
        "Floor to the top of the saddle with the post at its limit mark.",
    ),
    Column("crank", "length", False, "Centre of the crank axle to the centre of a pedal spindle."),
    Column("bottom_bracket_height", "length", False, "Floor to the centre of the crank axle."),
    Column("seat_tube_angle", "angle", False, "Seat tube against the ground; 90 is upright."),
    Column(
        "bar_reach",
        "length",
        False,
        "Horizontally from the crank axle forward to the middle of the grips, bars straight.",
    ),
    Column("bar_height", "length", False, "Floor to the middle of the grips."),
    Column("wheelbase", "length", False, "Rear axle to front axle."),
    Column("chainstay", "length", False, "Crank axle to rear axle."),
    Column("front_centre", "length", False, "Crank axle to front axle."),
    Column("price", "number", False, "In the shop's currency."),
    Column("in_stock", "yes_no", False, "yes or no."),
)
