"""The command that measures photos; heavy imports where needed."""

import datetime as dt
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final, Literal

import typer

from pose_fit.cli.options import (
    EXIT_REFUSED,
    EXIT_WRONG_CALL,
    AsJson,
    Bikes,
    Care,
    Details,
    Stretch,
    Today,
    Units,
)
from pose_fit.cli.stated_options import with_facts
from pose_fit.cli.wrong_calls import wrong_calls_explained
from pose_fit.errors import PhotoFileError
from pose_fit.task.facts import PHOTO, RIDER

if TYPE_CHECKING:
    from pose_fit.cli.measured_files import FileRead
    from pose_fit.growth.dated_readings import Dated
    from pose_fit.metrology.units import Unit
    from pose_fit.task.photo_task import PhotoTask

__all__ = ["measure"]

_ONE_CHILD: Final = (
    "pose-fit: if all show one child, add --same-child for one answer, and a surer one"
)


@with_facts((*PHOTO, *RIDER))
def measure(
    photos: Annotated[
        list[Path],
        typer.Argument(
            metavar="PHOTO...",
            help="Photos, or short clips (MP4, MOV, WebM) whose best frames are taken.",
            show_default=False,
        ),
    ],
    *,
    typed: dict[str, str],
    same_child: Annotated[
        bool,
        typer.Option("--same-child", help="All photos show one child: combine them at the end."),
    ] = False,
    tape: Annotated[
        list[str] | None,
        typer.Option(
            "--tape",
            "--inseam",
            metavar="LENGTH",
            help="The inseam of this child by tape, to be compared and combined with the photos;"
            " give it again for each further reading.",
        ),
    ] = None,
    care: Care = "careful",
    bikes: Bikes = None,
    stretch: Stretch = False,
    today: Today = None,
    units: Units = "in",
    details: Details = False,
    as_json: AsJson = False,
    overlay: Annotated[
        Path | None,
        typer.Option(
            metavar="OUT.png",
            help="Write the picture with its marks, face hidden; of a refused photo, with what was"
            " found. None is written where more than one person is seen.",
        ),
    ] = None,
) -> None:
    """Measure the child in each photo or clip, and judge the bicycles of a catalogue.

    A length may have any unit (50in, 127cm, 4ft 2in); a number alone is millimetres.
    """
    with wrong_calls_explained():
        from pose_fit.cli.measured_files import measured_files, without_copies
        from pose_fit.cli.show import Show
        from pose_fit.cli.typed_clues import check_photos, day_of, stock_of, tape_readings_mm
        from pose_fit.fit.stock import rider_of
        from pose_fit.task.typed import task_of

        check_photos(photos, overlay, typed)
        day, task = day_of(today), task_of(typed)
        by_tape_mm = tape_readings_mm(tape or [], photos=len(photos), same_child=same_child)
        is_one_child = same_child or bool(by_tape_mm)
        stock, rider = stock_of(bikes, stretch=stretch), rider_of(typed)
        show = Show(stock, rider, day, unit=units, details=details, as_json=as_json)
        paths, copies = without_copies(photos)
        for copy, first in copies:
            print(f"pose-fit: {copy} is the same file as {first}: it counts once", file=sys.stderr)
        readings: list[Dated] = []
        unreadable = refused = False
        for read in measured_files(paths, task, today=day):
            if isinstance(read, PhotoFileError):
                print(f"pose-fit: {read}", file=sys.stderr)
                unreadable = True
                continue
            refused |= not show.photo(read, is_one_of_several=is_one_child)
            if overlay is not None:
                _write_marks(read, overlay, unit=units)
            if read.dated is not None:
                readings.append(read.dated)
        if by_tape_mm:
            readings.append(_by_tape(by_tape_mm, task, readings, care=care, today=day))
        if is_one_child and readings:
            refused |= not show.child(readings)
        elif len(readings) > 1:
            print(_ONE_CHILD, file=sys.stderr)
    if unreadable:
        raise typer.Exit(EXIT_WRONG_CALL)
    if refused:
        raise typer.Exit(EXIT_REFUSED)


def _by_tape(
    readings_mm: Sequence[float],
    task: "PhotoTask",
    photos: Sequence["Dated"],
    *,
    care: Literal["careful", "hasty"],
    today: dt.date,
) -> "Dated":
    """The tape of today; what is stated of the child is of the day of the photo."""
    from pose_fit.growth.dated_readings import Dated, child_on
    from pose_fit.inseam.tape_questions import questioned_tape

    stated_on = max((photo.on for photo in photos), default=task.stated.taken_on or today)
    child = child_on(task.child, stated_on=stated_on, on=today)
    return Dated(questioned_tape(readings_mm, child, care=care), today, child)


def _write_marks(read: "FileRead", path: Path, *, unit: "Unit") -> None:
    """The marked picture; none where nobody is seen, or somebody beside the child."""
    from pose_fit.casebook.kept_picture import shows_several
    from pose_fit.drawing.overlay import overlay_picture, refused_picture, write_picture
    from pose_fit.privacy.hide_faces import faces_seen, shows_others
    from pose_fit.scene import PhotoRefusal

    result, photo = read.result, read.photo
    body = result.body if isinstance(result, PhotoRefusal) else result.sights.body
    if body is None:
        _not_written(path, "nobody was found whose face could be hidden")
        return
    told = result if isinstance(result, PhotoRefusal) else result.inseam
    faces = faces_seen(photo, body)
    if shows_several(told) or shows_others(photo, body, faces):
        _not_written(path, "more than one person is in the picture")
        return
    if isinstance(result, PhotoRefusal):
        picture = refused_picture(photo, result, faces=faces)
    else:
        picture = overlay_picture(result, unit=unit, faces=faces)
    if picture is not None:
        write_picture(picture, path)


def _not_written(path: Path, why: str) -> None:
    print(f"pose-fit: {path} was not written: {why}", file=sys.stderr)
