"""What was typed on the command line besides the facts of a photo; heavy imports where needed."""

import datetime as dt
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from pose_fit.errors import InputError, PoseFitError
from pose_fit.task.facts import PHOTO, no_unit_hint, read_day, read_length_mm

if TYPE_CHECKING:
    from pose_fit.anthropometry.child import Child
    from pose_fit.bicycle.bicycle import Bicycle
    from pose_fit.fit.lift import Lifted
    from pose_fit.fit.policy import Rider
    from pose_fit.fit.stock import Stock
    from pose_fit.inseam.from_tape import Care
    from pose_fit.inseam.inseam import Inseam
    from pose_fit.refusal import Notice

__all__ = [
    "Clues",
    "check_photos",
    "day_of",
    "known_inseams",
    "stock_of",
    "tape_readings_mm",
]

#: Surer than this nobody reads a child's inseam, and a reading less sure says nothing.
_SD_RANGE_MM: Final = (1.0, 100.0)
#: A hem or a lift below this is as likely in inches or centimetres where no unit is typed.
_BARE_FROM_MM: Final = 30.0
#: More than a bicycle in use leaves over its top tube (6 in). Further lifts are as a rule the front
#: wheel's alone, which comes up more than twice as far; to mix them up adds inches to the legs.
_MOST_WHOLE_LIFT_MM: Final = 152.4


def check_photos(photos: Sequence[Path], overlay: Path | None, typed: Mapping[str, str]) -> None:
    """Raise before any work where the call cannot succeed as a whole."""
    from pose_fit.photo.photo import check_file

    for photo in photos:
        check_file(photo)
    given = [fact.option for fact in PHOTO if fact.of_one_photo and fact.name in typed]
    given += [] if overlay is None else ["--overlay"]
    if len(photos) > 1 and given:
        raise InputError(f"{given[0]} belongs to one photo, found {len(photos)} photos")
    if overlay is not None:
        from pose_fit.drawing.overlay import overlay_format

        overlay_format(overlay)
        if os.path.exists(overlay) and overlay.samefile(photos[0]):
            raise InputError(f"--overlay: {overlay} is the photo itself, which is kept as it is")


def stock_of(catalogue: Path | None, *, stretch: bool) -> "Stock":
    """The bicycles to judge; none where no catalogue was given."""
    from pose_fit.bicycle.catalogue import read_catalogue
    from pose_fit.bicycle.columns import COLUMNS
    from pose_fit.cli.unused_columns import tell_unused_columns
    from pose_fit.fit.policy import Policy
    from pose_fit.fit.stock import Stock

    policy = Policy(stretch=stretch)
    if catalogue is None:
        return Stock((), policy)
    stock = Stock(read_catalogue(catalogue), policy)
    tell_unused_columns(catalogue, COLUMNS)
    return stock


def day_of(today: str | None) -> dt.date:
    """The day of the advice."""
    if today is None:
        return dt.date.today()
    with _told_as("--today"):
        return read_day(today)


@dataclass(frozen=True, slots=True)
class Clues:
    """What is known of the inseam besides a photo, as typed; None or empty where nothing is."""

    inseam: tuple[str, ...]
    sd: str | None
    trousers: str | None
    hem: str | None
    lift: str | None
    lift_bike: str | None
    lifted: "Lifted | None" = None
    care: "Care" = "careful"


def known_inseams(
    clues: Clues, child: "Child", rider: "Rider", bicycles: "tuple[Bicycle, ...]"
) -> "tuple[Inseam, ...]":
    """The inseam by every measured clue, or else one from stature, or else from age.

    Raises
    ------
    InputError
        Nothing is known, or a clue is unusable.
    """
    from pose_fit.inseam.from_age import inseam_from_age
    from pose_fit.inseam.from_stature import inseam_from_stature

    measured = tuple(_measured_clues(clues, child, rider, bicycles))
    if measured:
        return measured
    if child.stature_mm is not None:
        _check_stature(child.stature_mm, child)
        return (inseam_from_stature(child.stature_mm, sex=child.sex),)
    if child.age_y is not None:
        return (inseam_from_age(child.age_y, sex=child.sex),)
    raise InputError("wanted one of --inseam, --trousers, --lift, --stature or --age, found none")


def _check_stature(stature_mm: float, child: "Child") -> None:
    """Raise where only the body height tells the legs and no child of the stated age has it."""
    from pose_fit.anthropometry.plausibility import stature_is_plausible
    from pose_fit.metrology.units import both_units

    age_y = child.age_y
    if age_y is not None and not stature_is_plausible(stature_mm, age_y=age_y, sex=child.sex):
        raise InputError(
            f"--stature: wanted the body height of a child of {age_y:.3g} years, found"
            f" {both_units(stature_mm)}; leave out --age or --stature, whichever may be wrong"
        )


def _measured_clues(
    clues: Clues, child: "Child", rider: "Rider", bicycles: "tuple[Bicycle, ...]"
) -> "Iterator[Inseam]":
    from pose_fit.inseam.from_trousers import inseam_from_trousers
    from pose_fit.inseam.inseam import Inseam
    from pose_fit.inseam.tape_questions import questioned_tape

    if clues.sd is not None and len(clues.inseam) != 1:
        raise InputError(f"--sd belongs to one --inseam, found {len(clues.inseam)}")
    if clues.care != "careful" and (clues.sd is not None or not clues.inseam):
        raise InputError("--care belongs to --inseam without --sd, found another clue")
    with _told_as("--sd"):
        sd_mm = None if clues.sd is None else _sd_mm(clues.sd)
    with _told_as("--inseam", *clues.inseam):
        if sd_mm is not None:
            yield Inseam.stated(read_length_mm(clues.inseam[0]), sd_mm)
        elif clues.inseam:
            readings_mm = [read_length_mm(reading) for reading in clues.inseam]
            yield questioned_tape(readings_mm, child, care=clues.care)
    if clues.hem is not None and clues.trousers is None:
        raise InputError("--hem belongs to --trousers, found no trousers")
    with _told_as("--hem"):
        hem_mm = None if clues.hem is None else _short_mm(clues.hem)
    with _told_as("--trousers", clues.trousers):
        if clues.trousers is not None:
            seam_mm = _seam_mm(clues.trousers)
            yield inseam_from_trousers(seam_mm, hem_above_floor_mm=hem_mm)
    if (clues.lift is None) != (clues.lift_bike is None):
        raise InputError("--lift and --lift-bike belong together, found one of them")
    if clues.lifted is not None and clues.lift is None:
        raise InputError("--lifted belongs to --lift, found no lift")
    if clues.lift is not None:
        bicycle = _bicycle_named(str(clues.lift_bike), bicycles)
        yield _by_lift(clues.lift, bicycle, clues.lifted, rider)


def _short_mm(text: str) -> float:
    """A hem's height or a lift, of which a small bare number is as likely inches."""
    return read_length_mm(text, bare_from_mm=_BARE_FROM_MM)


def _seam_mm(text: str) -> float:
    try:
        return read_length_mm(text)
    except PoseFitError as fault:
        raise InputError(
            f"{fault}; a clothing size is none: measure the seam inside the leg, or give --age or"
            " --stature instead"
        ) from fault


def _sd_mm(text: str) -> float:
    sd_mm = read_length_mm(text)
    low_mm, high_mm = _SD_RANGE_MM
    if not low_mm <= sd_mm <= high_mm:
        raise InputError(
            f"wanted a standard uncertainty of {low_mm:.0f} mm to {high_mm / 10:.0f} cm,"
            f" found {text!r}"
        )
    return sd_mm


def tape_readings_mm(
    readings: Sequence[str], *, photos: int, same_child: bool
) -> tuple[float, ...]:
    """The readings of a tape that go with photos of the same child.

    Raises
    ------
    InputError
        A reading that is no inseam, or several photos that need not be of one child.
    """
    from pose_fit.inseam.from_tape import inseam_from_tape

    if readings and photos > 1 and not same_child:
        raise InputError(f"--tape belongs to one child, found {photos} photos; add --same-child")
    with _told_as("--tape", *readings):
        readings_mm = tuple(read_length_mm(reading) for reading in readings)
        if readings_mm:
            inseam_from_tape(readings_mm)
    return readings_mm


def _bicycle_named(name: str, bicycles: "tuple[Bicycle, ...]") -> "Bicycle":
    for bicycle in bicycles:
        if bicycle.name.casefold() == name.strip().casefold():
            return bicycle
    if not bicycles:
        raise InputError("--lift-bike: wanted --bikes, the catalogue that has it, found none")
    raise InputError(
        f"--lift-bike: wanted a name of the catalogue, found {name!r}; it has"
        f" {', '.join(bicycle.name for bicycle in bicycles)}"
    )


def _by_lift(lift: str, bicycle: "Bicycle", lifted: "Lifted | None", rider: "Rider") -> "Inseam":
    """In the shoes of riding, which are those of the lift."""
    from pose_fit.fit.lift import inseam_from_lift
    from pose_fit.metrology.units import both_units
    from pose_fit.refusal import Refusal

    with _told_as("--lift"):
        lift_mm = _short_mm(lift)
        if lifted is None and lift_mm > _MOST_WHOLE_LIFT_MM:
            raise InputError(
                f"{both_units(lift_mm)} is much for both wheels together; add --lifted whole or"
                " --lifted front_wheel to say what was lifted"
            )
        inseam = inseam_from_lift(lift_mm, bicycle, lifted=lifted or "whole", rider=rider)
        if isinstance(inseam, Refusal):
            raise InputError(str(inseam))
    return inseam if lifted else inseam.with_warnings(_taken_as_whole(lift_mm, bicycle, rider))


def _taken_as_whole(lift_mm: float, bicycle: "Bicycle", rider: "Rider") -> "Notice":
    """That nobody said what was lifted: by the front wheel alone the legs are inches shorter."""
    from pose_fit.fit.lift import inseam_from_lift
    from pose_fit.metrology.units import both_units
    from pose_fit.refusal import Notice, Refusal

    message = (
        "The lift counts as that of both wheels together. If the front wheel alone was lifted, the"
        " legs are shorter"
    )
    # Where that would be nobody's legs, it is not said how long they would be.
    with suppress(InputError):
        front = inseam_from_lift(lift_mm, bicycle, lifted="front_wheel", rider=rider)
        if not isinstance(front, Refusal):
            message += f", about {both_units(front.mean_mm)}"
    return Notice("lifted_whole", f"{message}: add --lifted to say which.")


@contextmanager
def _told_as(option: str, *texts: str | None) -> Iterator[None]:
    """Name the option in an error of the block, and what became of a number without its unit."""
    try:
        yield
    except PoseFitError as fault:
        raise InputError(f"{option}: {fault}{no_unit_hint(*texts)}") from fault
