"""Every fact that may be stated about a photo, its child or the rider: name, meaning, and reader.

The options of the command line and the columns of a batch list are made from this table, and
what was typed under either becomes the record of a task the same way. Light to import.
"""

import datetime as dt
import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal, get_args

from pose_fit.errors import InputError, LengthError, PersonError
from pose_fit.metrology.units import parse_length_mm
from pose_fit.task.legwear import LEGWEAR

__all__ = [
    "CHILD",
    "PHOTO",
    "READING",
    "REFERENCE",
    "RIDER",
    "STATED",
    "Fact",
    "FactError",
    "FactKind",
    "fact_named",
    "no_unit_hint",
    "read_day",
    "read_length_mm",
    "read_years",
]

#: ``size`` is a length, or the code on a tyre where the object is a wheel; ``flag`` is yes or no.
FactKind = Literal["text", "size", "length", "years", "day", "place", "places", "word", "flag"]

_METAVARS: Final[dict[FactKind, str]] = {
    "text": "KIND",
    "size": "SIZE",
    "length": "LENGTH",
    "years": "AGE",
    "day": "YYYY-MM-DD",
    "place": '"x,y"',
    "places": '"x,y x,y ..."',
}
#: What spreadsheets write where somebody typed yes or no as a truth.
_SPREADSHEET: Final = {"true": "yes", "false": "no"}


class FactError(InputError):
    """Text that cannot be read as a fact.

    Attributes
    ----------
    fact
        Name of the fact it was given for.
    problem
        What was wanted and found.
    """

    def __init__(self, fact: str, problem: str) -> None:
        # Both go to the base class, so that the error can be pickled from process to process.
        super().__init__(fact, problem)
        self.fact = fact
        self.problem = problem

    def __str__(self) -> str:
        return self.problem


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that somebody may state.

    Attributes
    ----------
    name
        Of the column; the option is the same with hyphens.
    kind
        What is typed.
    field
        Name in the record: of the reference, of what is stated, of the child or the rider.
    meaning
        What to state, for a person.
    choices
        The words that may be typed; none where any text may.
    of_one_photo
        It is another one in every photo, so it cannot be given once for several.
    """

    name: str
    kind: FactKind
    field: str
    meaning: str
    choices: tuple[str, ...] = ()
    of_one_photo: bool = False

    @property
    def option(self) -> str:
        """Name on the command line."""
        return "--" + self.name.replace("_", "-")

    @property
    def metavar(self) -> str | None:
        """What stands for the value in a command's help; None where it takes none."""
        if self.kind == "word":
            return f"<{'|'.join(self.choices)}>"
        return _METAVARS.get(self.kind)

    def read(self, text: str) -> object:
        """The value of the text, in the library's unit.

        Raises
        ------
        FactError
            The text is not such a value; it says what was wanted and found.
        """
        try:
            if self.kind == "flag":
                return _word(_SPREADSHEET.get(text.strip().lower(), text), self.choices)
            if self.kind == "word":
                return _word(text, self.choices)
            return _READERS[self.kind](text)
        except InputError as fault:
            raise FactError(self.name, str(fault)) from fault


def read_length_mm(text: str, *, bare_from_mm: float = 3.0) -> float:
    """A length with its unit; a bare number is millimetres.

    Parameters
    ----------
    bare_from_mm
        A smaller bare number is hardly meant as millimetres, so its unit is asked for: a sole of 1
        is 1 cm. 0 needs none.

    Raises
    ------
    LengthError
        The text is no length, or a small number without its unit.
    """
    length_mm = parse_length_mm(text, default_unit="mm")
    if 0 < length_mm < bare_from_mm and _BARE.fullmatch(text.strip()):
        bare = text.strip()
        raise LengthError(f"wanted the unit of {bare}; write {bare}in, {bare}cm or {bare}mm")
    return length_mm


def no_unit_hint(*texts: str | None) -> str:
    """What became of the first bare number, for the end of an error; nothing where none is bare."""
    bare = next((text.strip() for text in texts if text and _BARE.fullmatch(text.strip())), None)
    if bare is None:
        return ""
    return f" ({bare} without a unit is millimetres; write {bare}in or {bare}cm)"


_BARE: Final = re.compile(r"\d+(?:[.,]\d+)?(?: \d+/\d+)?")
_YEARS: Final = re.compile(
    r"(?P<years>\d+(?:[.,]\d+)?)(?P<half>\s*½|\s+1/2)?\s*(?:y|yr|yrs|years?)?"
    r"|(?:(?P<whole>\d+)\s*(?:y|yr|yrs|years?)[\s,]*)?(?P<months>\d+)\s*(?:m|mo|months?)"
)


def read_years(text: str) -> float:
    """An age: ``7``, ``7.5``, ``7 1/2``, ``7y6m`` or ``90 months``, as years.

    Raises
    ------
    PersonError
        The text is not an age.
    """
    read = _YEARS.fullmatch(text.strip().lower())
    if read is None or (read["whole"] and int(read["months"]) > 11):
        raise PersonError(f"wanted an age such as 7, 7.5 or 7y6m, found {text!r}")
    if read["years"]:
        return float(read["years"].replace(",", ".")) + (0.5 if read["half"] else 0.0)
    return int(read["whole"] or 0) + int(read["months"]) / 12


def read_day(text: str) -> dt.date:
    """A day as year, month and day: ``2025-05-10``.

    Raises
    ------
    InputError
        The text is not a day.
    """
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(f"wanted a day such as 2025-05-10, found {text!r}") from None


def _place(text: str) -> tuple[float, float]:
    try:
        x_px, y_px = (float(part) for part in text.split(","))
    except ValueError:
        raise InputError(f'wanted "x,y", found {text!r}') from None
    if not (math.isfinite(x_px) and math.isfinite(y_px)):
        raise InputError(f"wanted finite numbers, found {text!r}")
    return x_px, y_px


def _places(text: str) -> tuple[tuple[float, float], ...]:
    return tuple(_place(part) for part in text.split())


def _word(text: str, choices: tuple[str, ...]) -> str:
    word = text.strip().lower()
    if word not in choices:
        *first, last = choices
        raise InputError(f"wanted {', '.join(first)} or {last}, found {text!r}")
    return word


_READERS: Final[dict[FactKind, Callable[[str], object]]] = {
    "text": lambda text: text.strip().lower(),
    "size": str.strip,
    "length": read_length_mm,
    "years": read_years,
    "day": read_day,
    "place": _place,
    "places": _places,
}

#: The object of known size; a row of a list that names another object takes none of the rest over.
REFERENCE: Final = (
    Fact(
        "reference",
        "text",
        "kind",
        "Object of known size: sheet, letter, a4, book (the label on a book between the legs), door,"
        " wheel, length, or height (the child's own, see --stature).  [default: auto, which looks"
        " for the first ones and a wheel]",
    ),
    Fact(
        "size",
        "size",
        "size_mm",
        "Height of the door or the known length (80in, 2032mm); for a wheel its tyre code"
        " (47-406); for height the child's, where --stature does not say it.",
    ),
    Fact(
        "points",
        "places",
        "points_px",
        "Pixels of the upright picture: four corners clockwise from top left, five or more points"
        " on the tyre's outer edge, or the two ends of a length.",
        of_one_photo=True,
    ),
    Fact(
        "placement",
        "word",
        "placement",
        "Where the object is: on the wall at the child's heels, or beside the child in the plane"
        " of the legs.  [default: wall; beside for a wheel]",
        choices=("wall", "beside"),
    ),
    Fact(
        "ruler",
        "length",
        "ruler_mm",
        "What the ruler on the printed sheet measures, or the bold bar on the book's label.",
    ),
    Fact(
        "measured",
        "day",
        "measured_on",
        "Day on which the child's height was measured, where that is the object.  [default: that of"
        " the photo]",
    ),
)

#: What is seen in the photo, and the day it was taken.
STATED: Final = (
    Fact(
        "soles",
        "length",
        "soles_mm",
        "Thickness of the soles worn in the photo; 0 is barefoot.",
    ),
    Fact(
        "legwear",
        "word",
        "legwear",
        "What the child wears on the legs: leggings, tights or nothing; trousers or shorts of"
        " ordinary cut; loose ones that hang low; or a skirt or long top that hides where the legs"
        " part.",
        choices=LEGWEAR,
    ),
    Fact(
        "heels_down",
        "flag",
        "heels_down",
        "Both heels were on the floor: say so where you are asked, if you know it.",
        choices=("yes", "no"),
    ),
    Fact(
        "crotch",
        "place",
        "crotch_px",
        "Where the legs part, in pixels, in place of what is found.",
        of_one_photo=True,
    ),
    Fact(
        "floor",
        "place",
        "floor_px",
        "Where the tip of the toes or shoes meets the floor, in pixels, in place of what is found.",
        of_one_photo=True,
    ),
    Fact(
        "person",
        "place",
        "person_px",
        "A point on the child, in pixels, where several people are seen.",
        of_one_photo=True,
    ),
    Fact(
        "taken",
        "day",
        "taken_on",
        "Day the photo was taken.  [default: as the picture file says, or else today]",
    ),
)

#: The child, as it was on the day of the photo.
CHILD: Final = (
    Fact(
        "age",
        "years",
        "age_y",
        "Age: 7, 7.5 or 7y6m; with a photo, on the day it was taken.",
    ),
    Fact("sex", "word", "sex", "f or m.", choices=("f", "m")),
    Fact("stature", "length", "stature_mm", "Body height without shoes, on the same day."),
)

#: How the photo is read.
READING: Final = (
    Fact(
        "use_child",
        "word",
        "use_child",
        "Let body height, or else age, take part in the inseam; with no they only tell whether it"
        " is plausible.  [default: yes]",
        choices=("yes", "no"),
    ),
)

#: How the child rides.
RIDER: Final = (
    Fact(
        "riding_soles",
        "length",
        "soles_mm",
        "Thickness of the soles the child rides in.  [default: a usual sports shoe, 15 mm, not"
        " measured]",
    ),
    Fact(
        "skill",
        "word",
        "skill",
        "How well the child rides: learns, rides alone, or rides off road.  [default: sure]",
        choices=("first_pedals", "sure", "off_road"),
    ),
)

#: Everything that makes a photo's task.
PHOTO: Final = (*REFERENCE, *STATED, *CHILD, *READING)

_BY_NAME: Final = {fact.name: fact for fact in (*PHOTO, *RIDER)}


def fact_named(name: str) -> Fact:
    """The fact of this name."""
    return _BY_NAME[name]


assert set(_READERS) | {"word", "flag"} == set(get_args(FactKind))
