"""A bicycle as a shop can measure it: required facts, and geometry where it is known."""

import math
from dataclasses import dataclass, fields
from typing import Final, Literal, get_args

from pose_fit.bicycle.tyre import TyreReading
from pose_fit.errors import CatalogueError

__all__ = [
    "LENGTH_RANGES_MM",
    "MEASURED_STANDOVER_SD_MM",
    "Bicycle",
    "Frame",
    "StandoverSource",
]

#: ``level`` and ``sloping``: there is a top tube to clear; a ``step_through`` frame has none.
#: ``unknown`` is judged as if there were one, but on a bicycle without pedals, which seldom has one.
Frame = Literal["level", "sloping", "step_through", "unknown"]

#: ``measured`` in the shop with a tape, ``published`` by the maker, or ``unknown``.
StandoverSource = Literal["measured", "published", "unknown"]

#: Standard uncertainty of a standover height measured with a tape (common practice, no source).
MEASURED_STANDOVER_SD_MM: Final = 3.0
#: Standard uncertainty of a standover height, millimetres. Published values are often taken
#: on another size, tyre or point of the tube (common practice, no source).
_STANDOVER_SD_MM: Final[dict[StandoverSource, float]] = {
    "measured": MEASURED_STANDOVER_SD_MM,
    "published": 15.0,
    "unknown": 15.0,
}
#: How far apart, along the bicycle, two people straddle the same top tube, one standard deviation,
#: and the slope of a sloping top tube where the catalogue does not state it (common practice, no
#: source).
_STRADDLE_SD_MM: Final = 25.0
_USUAL_SLOPE_RAD: Final = math.radians(12.0)

#: What each length can be, millimetres; a value outside is a slip of the pen or of the unit.
LENGTH_RANGES_MM: Final[dict[str, tuple[float, float]]] = {
    "standover_mm": (150.0, 1000.0),
    "saddle_min_mm": (200.0, 1200.0),
    "saddle_max_mm": (200.0, 1300.0),
    "crank_mm": (60.0, 190.0),
    "bottom_bracket_height_mm": (100.0, 400.0),
    "handlebar_reach_mm": (50.0, 900.0),
    "handlebar_height_mm": (300.0, 1400.0),
    "wheelbase_mm": (400.0, 1400.0),
    "chainstay_mm": (150.0, 600.0),
    "front_centre_mm": (200.0, 900.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Bicycle:
    """One bicycle of a catalogue. ``None`` means "not known", and lowers what is claimed.

    Attributes
    ----------
    name
        What the shop calls it, size included.
    tyre
        Reading of the sidewall marking.
    standover_mm
        Floor to the top of the top tube where the rider straddles it, tyres inflated.
    standover_source
        Where the standover comes from; sets its uncertainty.
    frame
        Shape of the top tube.
    pedals
        False for a balance bicycle: a first bicycle that the child pushes with the feet.
    top_tube_slope_rad
        Rise of the top tube towards the front, radians.
    saddle_min_mm, saddle_max_mm
        Floor to the top of the saddle, at its lowest and at the post's limit mark.
    crank_mm
        Centre of the bottom bracket to the centre of the pedal spindle.
    bottom_bracket_height_mm
        Floor to the centre of the bottom bracket.
    seat_tube_angle_rad
        Seat tube against the ground, at the back of it (90° is upright).
    handlebar_reach_mm
        Horizontally from the bottom bracket forward to the middle of the grips.
    handlebar_height_mm
        Floor to the middle of the grips.
    wheelbase_mm
        Rear axle to front axle.
    chainstay_mm
        Bottom bracket to rear axle.
    front_centre_mm
        Bottom bracket to front axle.
    price
        In the shop's currency.
    in_stock
        Whether it can be had now.
    """

    name: str
    tyre: TyreReading
    standover_mm: float
    standover_source: StandoverSource = "unknown"
    frame: Frame = "unknown"
    pedals: bool = True
    top_tube_slope_rad: float | None = None
    saddle_min_mm: float | None = None
    saddle_max_mm: float | None = None
    crank_mm: float | None = None
    bottom_bracket_height_mm: float | None = None
    seat_tube_angle_rad: float | None = None
    handlebar_reach_mm: float | None = None
    handlebar_height_mm: float | None = None
    wheelbase_mm: float | None = None
    chainstay_mm: float | None = None
    front_centre_mm: float | None = None
    price: float | None = None
    in_stock: bool | None = None

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise CatalogueError("name: wanted a name, found none")
        for field in fields(self):
            if field.name in LENGTH_RANGES_MM:
                self._check_range(field.name, *LENGTH_RANGES_MM[field.name])
        self._check_range("seat_tube_angle_rad", math.radians(50), math.radians(85))
        self._check_range("top_tube_slope_rad", math.radians(-10), math.radians(45))
        self._check_range("price", 0.0, 1e7)
        if self.frame not in get_args(Frame):
            raise CatalogueError(_choice_text("frame", get_args(Frame), self.frame))
        if self.standover_source not in get_args(StandoverSource):
            wanted = get_args(StandoverSource)
            raise CatalogueError(_choice_text("standover_source", wanted, self.standover_source))
        if not self.pedals and self.crank_mm is not None:
            raise CatalogueError(
                f"crank_mm: wanted none on a bicycle without pedals, found {self.crank_mm:.0f}"
            )
        lowest_mm, highest_mm = self.saddle_min_mm, self.saddle_max_mm
        if lowest_mm is not None and highest_mm is not None and lowest_mm > highest_mm:
            raise CatalogueError(
                f"saddle_min_mm: wanted at most saddle_max_mm, {highest_mm:.0f}, found {lowest_mm:.0f}"
            )

    def _check_range(self, name: str, low: float, high: float) -> None:
        value = getattr(self, name)
        if value is not None and not low <= value <= high:
            # An angle is read and written in degrees.
            scale = math.degrees(1) if name.endswith("_rad") else 1.0
            unit = {"_mm": " mm", "_rad": "°"}.get(name[name.rfind("_") :], "")
            raise CatalogueError(
                f"{name}: wanted {low * scale:g} to {high * scale:g}{unit},"
                f" found {value * scale:g}{unit}"
            )

    @property
    def standover_sd_mm(self) -> float:
        """Standard uncertainty of the standover height, millimetres.

        On a sloping top tube the height also depends on where along it the rider stands: its
        slope times the spread of that place.
        """
        return math.hypot(
            _STANDOVER_SD_MM[self.standover_source],
            math.tan(self.likely_slope_rad) * _STRADDLE_SD_MM,
        )

    @property
    def likely_slope_rad(self) -> float:
        """Slope of the top tube, or what is usual for the frame where it is not stated, radians."""
        if self.top_tube_slope_rad is not None:
            return self.top_tube_slope_rad
        return 0.0 if self.frame in ("level", "step_through") else _USUAL_SLOPE_RAD

    @property
    def has_top_tube(self) -> bool:
        """Whether there is a top tube to clear; see :data:`Frame` for frames not known."""
        return self.frame in ("level", "sloping") or (self.pedals and self.frame == "unknown")


def _choice_text(name: str, wanted: tuple[str, ...], found: str) -> str:
    return f"{name}: wanted one of {', '.join(wanted)}, found {found!r}"
