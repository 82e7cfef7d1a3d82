"""What a tyre's sidewall says: wheel class, bead seat, width, outside diameter.

Only the ISO 5775 code (``47-507``: width, then bead seat diameter, millimetres) names
one tyre size. An inch or French name is a habit, and several names are shared by
rims that do not interchange. Such a name is answered with :class:`AmbiguousMarking`,
which lists the sizes it may mean; it is never guessed.

Bead seats of each name: ISO 5775 / ETRTO as read in secondary tables; the 419, 438,
440 and 547 mm sizes and the letters of the French system from memory.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from pose_fit.errors import TyreMarkingError
from pose_fit.metrology.units import MM_PER_INCH, VULGAR_FRACTIONS

__all__ = [
    "OUTSIDE_DIAMETER_SD_MM",
    "AmbiguousMarking",
    "Tyre",
    "TyreReading",
    "class_of_bead_seat",
    "read_marking",
]

#: Standard uncertainty of a section width against its nominal value, rims and pressures
#: being what they are (common practice, no source).
_WIDTH_SD_MM: Final = 1.5
#: The same of an outside diameter, which holds the tyre's width twice.
OUTSIDE_DIAMETER_SD_MM: Final = 2 * _WIDTH_SD_MM

#: Wheel class, inches, of each bead seat diameter, millimetres.
_CLASS_OF_BEAD_SEAT: Final[dict[int, float]] = {
    203: 12, 254: 14, 288: 14, 298: 14, 305: 16, 317: 16, 337: 16, 340: 16, 349: 16,
    355: 18, 400: 18, 406: 20, 419: 20, 438: 20, 440: 20, 451: 20, 457: 22,
    507: 24, 520: 24, 540: 24, 547: 24,
    559: 26, 571: 26, 584: 27.5, 590: 26, 597: 26, 599: 26, 622: 28, 630: 27, 635: 28,
}  # fmt: skip

#: Bead seat of a decimal or whole-number width, by wheel class as marked.
_DECIMAL: Final[dict[float, int]] = {
    12: 203, 12.5: 203, 14: 254, 16: 305, 18: 355, 20: 406, 22: 457, 24: 507, 26: 559,
    27.5: 584, 28: 622, 29: 622,
}  # fmt: skip

#: Bead seats of a fractional width, commonest first: (wheel class as marked, width in inches).
_FRACTIONAL: Final[dict[tuple[float, Fraction], tuple[int, ...]]] = {
    (12.5, Fraction(9, 4)): (203,),
    (12.5, Fraction(7, 4)): (203,),
    (14, Fraction(11, 8)): (298, 288),
    (14, Fraction(13, 8)): (288, 298),
    (16, Fraction(11, 8)): (349, 340, 337),
    (16, Fraction(5, 4)): (349,),
    (16, Fraction(7, 4)): (317, 305),
    (18, Fraction(11, 8)): (400,),
    (20, Fraction(1)): (451,),
    (20, Fraction(9, 8)): (451,),
    (20, Fraction(5, 4)): (451, 438),
    (20, Fraction(11, 8)): (451, 440, 438),
    (20, Fraction(7, 4)): (419,),
    (24, Fraction(1)): (520,),
    (24, Fraction(9, 8)): (520, 540),
    (24, Fraction(5, 4)): (540, 520, 547),
    (24, Fraction(11, 8)): (540, 520, 547),
    (26, Fraction(1)): (571,),
    (26, Fraction(5, 4)): (597, 599),
    (26, Fraction(11, 8)): (590, 597),
    (26, Fraction(3, 2)): (584, 571),
    (26, Fraction(7, 4)): (571,),
    (27, Fraction(1)): (630,),
    (27, Fraction(9, 8)): (630,),
    (27, Fraction(5, 4)): (630,),
    (28, Fraction(3, 2)): (635, 622),
    (28, Fraction(13, 8)): (622,),
    (28, Fraction(7, 4)): (622,),
}

#: Decimal widths that were once sold on a second rim, besides the usual one.
_DECIMAL_TRAPS: Final[dict[tuple[float, float], tuple[int, ...]]] = {
    (26, 1.25): (559, 599),
    (26, 1.375): (599, 559),
}

#: French names: nominal outside diameter, mm, and the letter for the tyre's thickness.
_FRENCH: Final[dict[tuple[int, str], int]] = {
    (350, "A"): 288, (400, "A"): 340, (500, "A"): 440, (600, "A"): 540,
    (650, "A"): 590, (650, "B"): 584, (650, "C"): 571, (700, "B"): 635, (700, "C"): 622,
}  # fmt: skip

_SIZES: Final = "wanted a marking such as 24 x 2.0, 24 x 1 3/8, 47-507, 700x35C or 12 1/2 x 2 1/4"
_ISO: Final = re.compile(r"(?<!\d)(?P<width>\d{2})\s*-\s*(?P<bead>\d{3})(?!\d)")
_FRENCH_NAME: Final = re.compile(
    r"(?<!\d)(?P<size>\d{3})\s*(?P<early>[abc])?(?:\s*x\s*(?P<width>\d{2})(?:\.\d+)?)?\s*(?P<late>[abc])?(?![\w/])"
)
_AMOUNT: Final = r"\d+\s+\d/[1-9]|\d/[1-9]|\d+(?:\.\d+)?|\.\d+"
_INCH_NAME: Final = re.compile(
    rf"(?<![\d.])(?P<size>\d{{2}}(?:\s+1/2|\.\d+)?)\s*x\s*(?P<width>{_AMOUNT})"
    rf"(?:\s*(?:/|-|to|x)\s*(?P<until>\d(?:\s+\d/[1-9]|\.\d+)))?(?![\d/])"
)
#: The wheel size as stock lists have it, and the widths that children's wheels then usually have:
#: 1.75 to 2.125 in, or 1 3/8 in on the rims of fractional names (common practice, no source).
_WHEEL_ALONE: Final = re.compile(r"(?P<size>\d{2}(?: 1/2|\.5)?)\s*-?\s*(?:in|inch|inches)?\.?")
_USUAL_WIDTH_MM: Final = (1.75 * MM_PER_INCH, 2.125 * MM_PER_INCH)
_NARROW_WIDTH_MM: Final = 1.375 * MM_PER_INCH
_GLYPHS: Final = VULGAR_FRACTIONS | {
    "×": "x", "*": "x", "–": "-", "−": "-", "‑": "-", "⁄": "/",
    '"': " ", "”": " ", "″": " ", "“": " ", "'": " ", ",": ".", "\u00a0": " ",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Tyre:
    """One tyre size.

    Attributes
    ----------
    marking
        The sidewall text it was read from.
    wheel_class_in
        The trade's wheel size in inches (12, 16, 20, 24, 26 ...), a name, no measure.
    bead_seat_mm
        Bead seat diameter of the rim.
    width_range_mm
        Narrowest and widest nominal section width the marking allows; equal unless the
        marking names two (``26 x 1.75/2.125``).
    """

    marking: str
    wheel_class_in: float
    bead_seat_mm: float
    width_range_mm: tuple[float, float]

    def __post_init__(self) -> None:
        low_mm, high_mm = self.width_range_mm
        if not 15 <= low_mm <= high_mm <= 130:
            raise TyreMarkingError(
                f"{self.marking!r}: a tyre is between 15 and 130 mm wide, found"
                f" {low_mm:.0f} to {high_mm:.0f} mm"
            )

    @property
    def width_mm(self) -> float:
        """Section width, the middle of what the marking allows."""
        return sum(self.width_range_mm) / 2

    @property
    def outside_diameter_mm(self) -> float:
        """Bead seat diameter plus twice the section width (ETRTO, from secondary tables)."""
        return self.bead_seat_mm + 2 * self.width_mm

    @property
    def outside_diameter_sd_mm(self) -> float:
        """Standard uncertainty of the outside diameter: real against nominal width, and range.

        The range of two named widths counts as a uniform distribution (JCGM 100, 4.3.7).
        """
        spread_mm = (self.width_range_mm[1] - self.width_range_mm[0]) / math.sqrt(12)
        return 2 * math.hypot(_WIDTH_SD_MM, spread_mm)

    @property
    def likeliest(self) -> "Tyre":
        """The tyre itself."""
        return self

    @property
    def iso_code(self) -> str:
        """ISO 5775 code, such as ``47-507``."""
        return f"{self.width_mm:.0f}-{self.bead_seat_mm:.0f}"


@dataclass(frozen=True, slots=True)
class AmbiguousMarking:
    """A name shared by several rims. Falsy, so that ``if tyre:`` asks "is the size known?".

    Attributes
    ----------
    candidates
        The sizes it may mean, commonest first.
    is_wheel_alone
        The wheel size was read, its first number, and no width.
    """

    marking: str
    wheel_class_in: float
    candidates: tuple[Tyre, ...]
    is_wheel_alone: bool = False

    def __post_init__(self) -> None:
        fewest = 1 if self.is_wheel_alone else 2
        if len({tyre.bead_seat_mm for tyre in self.candidates}) < fewest:
            raise ValueError("an ambiguous marking needs at least two bead seats")

    @property
    def likeliest(self) -> Tyre:
        """The commonest: enough for a picture, where sizes of one name differ by a finger's breadth."""
        return self.candidates[0]

    def __bool__(self) -> bool:
        return False

    def __str__(self) -> str:
        if self.is_wheel_alone:
            return (
                f"{self.marking!r} is the wheel size alone; read the code on the sidewall, such as"
                f" {self.likeliest.iso_code} (width-bead seat)"
            )
        seats = " or ".join(f"{tyre.bead_seat_mm:.0f}" for tyre in self.candidates)
        return (
            f"{self.marking!r} is the name of rims with a bead seat of {seats} mm, which do not"
            f" interchange; read the other code on the sidewall, such as"
            f" {self.likeliest.iso_code} (width-bead seat)"
        )


TyreReading = Tyre | AmbiguousMarking


def read_marking(text: str) -> TyreReading:
    """Read a sidewall marking.

    Parameters
    ----------
    text
        For example ``47-507``, ``24 x 2.0``, ``24x1 3/8``, ``20 × 1⅜``, ``700x35C``,
        ``26 x 1.75/2.125``, ``12 1/2 x 2 1/4``, ``24 x 1.75 (47-507)``, and of a stock list that
        knows the wheel alone ``20`` or ``20 inch``. Where an ISO code
        stands beside a name, the code decides.

    Raises
    ------
    TyreMarkingError
        The text holds no tyre size, an unknown one, or two that contradict each other.
    """
    plain = text.strip().lower()
    for glyph, plain_glyph in _GLYPHS.items():
        plain = plain.replace(glyph, plain_glyph)
    plain = re.sub(r"\s+", " ", plain)
    if iso := _ISO.search(plain):
        named = _read_name(text, plain[: iso.start()] + " | " + plain[iso.end() :])
        return _agreed(_of_iso(text, iso), named)
    named = _read_name(text, plain)
    if named is None:
        named = _wheel_alone(text, plain)
    if named is None:
        raise TyreMarkingError(f"{text!r} is not a tyre size; {_SIZES}")
    return named


def class_of_bead_seat(bead_seat_mm: float) -> float:
    """The trade's wheel size in inches of the known bead seat nearest to this one."""
    nearest = min(_CLASS_OF_BEAD_SEAT, key=lambda seat: abs(seat - bead_seat_mm))
    return _CLASS_OF_BEAD_SEAT[nearest]


def _of_iso(text: str, code: re.Match[str]) -> Tyre:
    bead_seat_mm, width_mm = int(code["bead"]), float(code["width"])
    if bead_seat_mm not in _CLASS_OF_BEAD_SEAT:
        known = ", ".join(str(seat) for seat in _CLASS_OF_BEAD_SEAT)
        raise TyreMarkingError(
            f"{text!r}: bead seat {bead_seat_mm} mm is not one of the known {known}"
        )
    return Tyre(text, _CLASS_OF_BEAD_SEAT[bead_seat_mm], bead_seat_mm, (width_mm, width_mm))


def _agreed(coded: Tyre, named: TyreReading | None) -> Tyre:
    if named is None:
        return coded
    candidates = (named,) if isinstance(named, Tyre) else named.candidates
    if all(tyre.bead_seat_mm != coded.bead_seat_mm for tyre in candidates):
        seats = " or ".join(f"{tyre.bead_seat_mm:.0f}" for tyre in candidates)
        raise TyreMarkingError(
            f"{coded.marking!r} contradicts itself: the code says bead seat"
            f" {coded.bead_seat_mm:.0f} mm, the name {seats} mm"
        )
    return Tyre(coded.marking, named.wheel_class_in, coded.bead_seat_mm, coded.width_range_mm)


def _read_name(text: str, plain: str) -> TyreReading | None:
    if inch := _INCH_NAME.search(plain):
        return _of_inches(text, inch)
    for french in _FRENCH_NAME.finditer(plain):
        if french["width"] or french["early"]:
            return _of_french(text, french)
    return None


def _wheel_alone(text: str, plain: str) -> AmbiguousMarking | None:
    """The trade's wheel size without a width; None where it is none."""
    wheel = _WHEEL_ALONE.fullmatch(plain.strip())
    size_in = float(_amount(wheel["size"])) if wheel else math.nan
    if size_in not in _DECIMAL:
        return None
    class_in = 12.0 if size_in == 12.5 else size_in
    usual = Tyre(text, class_in, _DECIMAL[size_in], _USUAL_WIDTH_MM)
    others = dict.fromkeys(
        seat
        for (named_in, _), seats in _FRACTIONAL.items()
        for seat in seats
        if named_in == size_in and seat != usual.bead_seat_mm
    )
    narrow = (_NARROW_WIDTH_MM, _NARROW_WIDTH_MM)
    candidates = (usual, *(Tyre(text, class_in, seat, narrow) for seat in others))
    return AmbiguousMarking(text, class_in, candidates, is_wheel_alone=True)


def _of_inches(text: str, name: re.Match[str]) -> TyreReading:
    size_in = float(_amount(name["size"]))
    widths = [_amount(name["width"])] + ([_amount(name["until"])] if name["until"] else [])
    if "/" in name["width"] or widths[0] == 1:
        # "28 x 1 5/8 x 1 3/8" names the old rim by its first width and the tyre by its second.
        seats = _FRACTIONAL.get((size_in, widths[0]), ())
        widths = widths[-1:]
    else:
        width_in = float(widths[0])
        usual = (_DECIMAL[size_in],) if size_in in _DECIMAL else ()
        seats = _DECIMAL_TRAPS.get((size_in, width_in), usual)
    if not seats:
        raise TyreMarkingError(f"{text!r} is not a tyre size in the tables; {_SIZES}")
    width_range_mm = (float(min(widths)) * MM_PER_INCH, float(max(widths)) * MM_PER_INCH)
    wheel_class_in = 12.0 if size_in == 12.5 else size_in
    return _reading(text, wheel_class_in, seats, width_range_mm)


def _of_french(text: str, name: re.Match[str]) -> TyreReading:
    size, letter = int(name["size"]), (name["early"] or name["late"] or "").upper()
    seats = tuple(
        seat
        for (known, known_letter), seat in sorted(_FRENCH.items(), reverse=True)
        if known == size and letter in ("", known_letter)
    )
    if not seats:
        raise TyreMarkingError(f"{text!r} is not a tyre size in the tables; {_SIZES}")
    if not name["width"]:
        raise TyreMarkingError(f"{text!r} names no width; {_SIZES}")
    width_mm = float(name["width"])
    return _reading(text, _CLASS_OF_BEAD_SEAT[seats[0]], seats, (width_mm, width_mm))


def _reading(
    text: str, wheel_class_in: float, seats: tuple[int, ...], width_range_mm: tuple[float, float]
) -> TyreReading:
    tyres = tuple(Tyre(text, wheel_class_in, seat, width_range_mm) for seat in seats)
    return tyres[0] if len(tyres) == 1 else AmbiguousMarking(text, wheel_class_in, tyres)


def _amount(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))
