"""What was typed on the command line besides the photo's task; heavy imports where needed."""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from pose_fit.errors import InputError

if TYPE_CHECKING:
    from pose_fit.anthropometry.child import Child
    from pose_fit.bicycle.bicycle import Bicycle
    from pose_fit.inseam.inseam import Inseam

__all__ = ["Clues", "bicycles_of", "check_photos", "known_inseam", "tape_inseam"]


def check_photos(
    photos: list[Path], overlay: Path | None, *, of_one: dict[str, str | None]
) -> None:
    """Raise before any work where the call cannot succeed as a whole.

    ``of_one`` are the options, as typed, that like an overlay belong to one photo.
    """
    from pose_fit.photo.photo import check_file

    for photo in photos:
        check_file(photo)
    given = [option for option, typed in of_one.items() if typed is not None]
    given += [] if overlay is None else ["--overlay"]
    if len(photos) > 1 and given:
        raise InputError(f"{given[0]} belongs to one photo, found {len(photos)} photos")
    if overlay is not None:
        from pose_fit.drawing.overlay import overlay_format

        overlay_format(overlay)
        if os.path.exists(overlay) and overlay.samefile(photos[0]):
            raise InputError(f"--overlay: {overlay} is the photo itself, which is kept as it is")


def bicycles_of(path: Path | None) -> "tuple[Bicycle, ...]":
    """The catalogue's bicycles; none where no file was given."""
    if path is None:
        return ()
    from pose_fit.bicycle.catalogue import read_catalogue

    return read_catalogue(path)


@dataclass(frozen=True, slots=True)
class Clues:
    """What is known of the inseam besides a photo, as typed; None or empty where nothing is."""

    inseam: tuple[str, ...]
    sd: str | None
    trousers: str | None
    lift: str | None
    lift_bike: str | None
    stature_mm: float | None
    age_y: float | None
    sex: str | None


def known_inseam(clues: Clues, bicycles: "tuple[Bicycle, ...]") -> "Inseam":
    """The inseam from all measured clues together, or else from stature, or else from age.

    Raises
    ------
    InputError
        Nothing is known, or a clue is unusable.
    """
    from pose_fit.inseam.combine import combine_inseams
    from pose_fit.inseam.from_age import inseam_from_age
    from pose_fit.inseam.from_stature import inseam_from_stature

    measured = list(_measured_clues(clues, bicycles))
    if len(measured) > 1:
        return combine_inseams(measured).inseam
    if measured:
        return measured[0]
    if clues.stature_mm is not None:
        return inseam_from_stature(clues.stature_mm, sex=clues.sex)
    if clues.age_y is not None:
        return inseam_from_age(clues.age_y, sex=clues.sex)
    raise InputError("wanted one of --inseam, --trousers, --lift, --stature or --age, found none")


def _measured_clues(clues: Clues, bicycles: "tuple[Bicycle, ...]") -> "Iterator[Inseam]":
    from pose_fit.inseam.from_trousers import inseam_from_trousers
    from pose_fit.inseam.inseam import Inseam
    from pose_fit.metrology.units import parse_length_mm

    readings_mm = [parse_length_mm(reading) for reading in clues.inseam]
    if clues.sd is not None and len(readings_mm) != 1:
        raise InputError(f"--sd belongs to one --inseam, found {len(readings_mm)}")
    if clues.sd is not None:
        yield Inseam.stated(readings_mm[0], parse_length_mm(clues.sd))
    elif readings_mm:
        yield _by_tape(readings_mm, age_y=clues.age_y, sex=clues.sex, stature_mm=clues.stature_mm)
    if clues.trousers is not None:
        yield inseam_from_trousers(parse_length_mm(clues.trousers))
    if (clues.lift is None) != (clues.lift_bike is None):
        raise InputError("--lift and --lift-bike belong together, found one of them")
    if clues.lift is not None:
        yield _lifted(parse_length_mm(clues.lift), str(clues.lift_bike), bicycles)


def tape_inseam(
    readings: list[str], child: "Child", *, photos: int, same_child: bool
) -> "Inseam | None":
    """The inseam by tape that goes with photos of the same child; None without a reading.

    Raises
    ------
    InputError
        A reading that is no inseam, or several photos that need not be of one child.
    """
    from pose_fit.metrology.units import parse_length_mm

    if not readings:
        return None
    if photos > 1 and not same_child:
        raise InputError(f"--tape belongs to one child, found {photos} photos; add --same-child")
    lengths_mm = [parse_length_mm(reading) for reading in readings]
    return _by_tape(lengths_mm, age_y=child.age_y, sex=child.sex, stature_mm=child.stature_mm)


def _by_tape(
    readings_mm: list[float],
    *,
    age_y: float | None,
    sex: str | None,
    stature_mm: float | None,
) -> "Inseam":
    """The readings together, each questioned where it looks like something else."""
    from pose_fit.inseam.from_tape import inseam_from_tape
    from pose_fit.inseam.tape_questions import question_tape

    questions = [
        notice
        for reading_mm in readings_mm
        for notice in question_tape(reading_mm, age_y=age_y, sex=sex, stature_mm=stature_mm)
    ]
    return inseam_from_tape(readings_mm).with_warnings(*questions)


def _lifted(lift_mm: float, name: str, bicycles: "tuple[Bicycle, ...]") -> "Inseam":
    from pose_fit.fit.lift import inseam_from_lift
    from pose_fit.refusal import Refusal

    named = [bicycle for bicycle in bicycles if bicycle.name.casefold() == name.casefold()]
    if not named:
        raise InputError(
            f"--lift-bike: wanted a name of the catalogue, found {name!r}; it has"
            f" {', '.join(bicycle.name for bicycle in bicycles)}"
        )
    inseam = inseam_from_lift(lift_mm, named[0])
    if isinstance(inseam, Refusal):
        raise InputError(f"--lift: {inseam}")
    return inseam
