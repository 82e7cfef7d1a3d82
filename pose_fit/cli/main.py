"""The command line. Heavy libraries are imported by the command that needs them."""

import io
import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, NoReturn

import typer

from pose_fit.cli.batch_command import batch
from pose_fit.cli.options import (
    EXIT_REFUSED,
    EXIT_WRONG_CALL,
    Age,
    Bikes,
    HeelsDown,
    LegwearWorn,
    Plane,
    Ruler,
    Sex,
    Size,
    SkillOption,
    Soles,
    Stature,
    Stretch,
)
from pose_fit.cli.pairs_command import pairs
from pose_fit.cli.typed_clues import (
    Clues,
    bicycles_of,
    check_photos,
    known_inseam,
    tape_inseam,
)
from pose_fit.errors import PhotoFileError, PoseFitError
from pose_fit.task.typed import place_px, reference_request

if TYPE_CHECKING:
    from pose_fit.anthropometry.child import Child
    from pose_fit.bicycle.bicycle import Bicycle
    from pose_fit.fit.judge import Fit
    from pose_fit.fit.policy import Policy, Rider, Skill
    from pose_fit.inseam.inseam import Inseam
    from pose_fit.measure import PhotoMeasurement
    from pose_fit.refusal import Refusal
    from pose_fit.task.photo_task import PhotoTask

__all__ = ["app", "main"]


def _print_every_letter() -> None:
    if isinstance(sys.stdout, io.TextIOWrapper):
        # Neither can every terminal show every letter, nor need a file's name be text.
        sys.stdout.reconfigure(errors="backslashreplace")


app = typer.Typer(
    callback=_print_every_letter,
    help="A child's inseam from a photo or a tape, and which bicycles fit.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object a line.")]


@app.command()
def measure(
    photos: Annotated[list[Path], typer.Argument(metavar="PHOTO...", show_default=False)],
    reference: Annotated[
        str,
        typer.Option(help="Object of known size: sheet, letter, a4, door, wheel or length."),
    ],
    size: Size = None,
    points: Annotated[
        str | None,
        typer.Option(
            metavar='"x,y x,y ..."',
            help="Pixels of the upright picture: four corners clockwise from top left, five or"
            " more points on the tyre's outer edge, or the two ends of a length.",
        ),
    ] = None,
    crotch: Annotated[
        str | None,
        typer.Option(
            metavar='"x,y"', help="Where the legs part, in pixels, in place of what is found."
        ),
    ] = None,
    floor: Annotated[
        str | None,
        typer.Option(
            metavar='"x,y"',
            help="Where the tip of the toes or shoes meets the floor, in pixels, likewise.",
        ),
    ] = None,
    person: Annotated[
        str | None,
        typer.Option(
            metavar='"x,y"', help="A point on the child, in pixels, where several people are seen."
        ),
    ] = None,
    plane: Plane = None,
    ruler: Ruler = None,
    soles: Soles = None,
    legwear: LegwearWorn = None,
    heels_down: HeelsDown = False,
    age: Age = None,
    sex: Sex = None,
    stature: Stature = None,
    same_child: Annotated[
        bool,
        typer.Option("--same-child", help="All photos show one child: combine them at the end."),
    ] = False,
    tape: Annotated[
        list[str] | None,
        typer.Option(
            metavar="LENGTH",
            help="The inseam of this child by tape, to be compared and combined with the photos;"
            " give it again for each further reading.",
        ),
    ] = None,
    bikes: Bikes = None,
    skill: SkillOption = "sure",
    stretch: Stretch = False,
    as_json: AsJson = False,
    overlay: Annotated[
        Path | None,
        typer.Option(metavar="OUT.png", help="Write the picture with its marks, face hidden."),
    ] = None,
) -> None:
    """Measure the child in each photo, and judge the bicycles of a catalogue."""
    with _wrong_calls_explained():
        places = {"--crotch": crotch, "--floor": floor, "--person": person}
        check_photos(photos, overlay, of_one={"--points": points, **places})
        crotch_px, floor_px, person_px = (place_px(name, text) for name, text in places.items())
        request = reference_request(reference, size, points, plane, ruler)
        bicycles = bicycles_of(bikes)
        from pose_fit.anthropometry.child import Child
        from pose_fit.refusal import Refusal
        from pose_fit.task.photo_task import PhotoTask
        from pose_fit.task.stated import Stated

        child = Child(age_y=age, sex=sex, stature_mm=stature)
        said = Stated(
            soles_mm=soles,
            legwear=legwear,
            heels_down=heels_down,
            crotch_px=crotch_px,
            floor_px=floor_px,
            person_px=person_px,
        )
        task = PhotoTask(request, said, child)
        by_tape = tape_inseam(tape or [], child, photos=len(photos), same_child=same_child)
        shop = _Shop.of(bicycles, child, skill=skill, stretch=stretch, soles_mm=soles)
        show = _show_json if as_json else _show_text
        measured: list[Inseam] = []
        unreadable = []
        for path in _with_progress(photos):
            try:
                result = _measured(path, task)
            except PhotoFileError as fault:
                # The other photos are measured all the same.
                print(f"pose-fit: {fault}", file=sys.stderr)
                unreadable.append(path)
                continue
            show(path, result, shop)
            if isinstance(result, Refusal):
                continue
            measured.append(result.inseam)
            if overlay is not None:
                from pose_fit.drawing.overlay import write_overlay

                write_overlay(result, overlay)
        if by_tape is not None and measured:
            measured.append(by_tape)
        if (same_child or by_tape is not None) and len(measured) > 1:
            _show_combined(measured, shop, as_json=as_json)
    if unreadable:
        raise typer.Exit(EXIT_WRONG_CALL)
    if len(measured) < len(photos):
        raise typer.Exit(EXIT_REFUSED)


@app.command()
def advise(
    bikes: Annotated[Path, typer.Option("--bikes", metavar="CSV", help="Catalogue of bicycles.")],
    inseam: Annotated[
        list[str] | None,
        typer.Option(
            metavar="LENGTH",
            help="Inseam by tape, for example 25.5in; give it again for each further reading.",
        ),
    ] = None,
    sd: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH", help="Standard uncertainty of a single --inseam, such as 6mm."
        ),
    ] = None,
    trousers: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="Inside leg seam of trousers that fit, crotch to hem."),
    ] = None,
    lift: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH",
            help="How far the whole bicycle --lift-bike can be lifted until the bar touches.",
        ),
    ] = None,
    lift_bike: Annotated[
        str | None, typer.Option(metavar="NAME", help="Name of that bicycle in the catalogue.")
    ] = None,
    stature: Stature = None,
    age: Age = None,
    sex: Sex = None,
    soles: Soles = None,
    skill: SkillOption = "sure",
    stretch: Stretch = False,
    as_json: AsJson = False,
) -> None:
    """Judge bicycles by tape, trousers, a lift, or only stature or age; several are combined."""
    with _wrong_calls_explained():
        bicycles = bicycles_of(bikes)
        clues = Clues(tuple(inseam or ()), sd, trousers, lift, lift_bike, stature, age, sex)
        known = known_inseam(clues, bicycles)
        from pose_fit.anthropometry.child import Child

        child = Child(age_y=age, sex=sex, stature_mm=stature)
        shop = _Shop.of(bicycles, child, skill=skill, stretch=stretch, soles_mm=soles)
        if as_json:
            from pose_fit.report.as_json import inseam_object

            print(json.dumps(inseam_object(known) | shop.advice_object(known)))
        else:
            from pose_fit.report.text import inseam_lines

            print("\n".join([*inseam_lines(known), "", *shop.advice_lines(known)]))


@app.command()
def sheet(
    out: Annotated[Path, typer.Option(metavar="FILE.pdf", help="Where to write the page.")],
    paper: Annotated[Literal["letter", "a4"], typer.Option(help="Paper size.")] = "letter",
) -> None:
    """Write the printable reference sheet, true to scale."""
    from pose_fit.files.whole_file import write_whole
    from pose_fit.reference.sheet import RULER_MM, sheet_pdf

    with _wrong_calls_explained():
        write_whole(out, sheet_pdf(paper=paper))
    print(
        f"Wrote {out}. Print it at 100 % and measure its ruler with a tape: it should be"
        f" {RULER_MM:.0f} mm; if it is not, give what it measures as --ruler."
    )


app.command()(batch)
app.command()(pairs)


@app.command("app")
def open_app(
    port: Annotated[int, typer.Option(min=1, max=65535, help="Port on this machine.")] = 8501,
) -> None:
    """Open the app in the browser; it listens on this machine only."""
    from pose_fit.app.serve import serve

    raise typer.Exit(serve(port=port))


def main() -> None:
    """Entry point of the console script."""
    try:
        try:
            app()
        finally:
            if sys.stdout is not None:
                sys.stdout.flush()
    except OSError as fault:
        # What is still to be written would fail once more while the interpreter closes.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"pose-fit: {fault.strerror or fault}", file=sys.stderr)
        sys.exit(EXIT_WRONG_CALL)


@contextmanager
def _wrong_calls_explained() -> Iterator[None]:
    try:
        yield
    except PoseFitError as error:
        _fail(str(error))


@dataclass(frozen=True, slots=True)
class _Shop:
    """The bicycles to judge, and for whom."""

    bicycles: "tuple[Bicycle, ...]"
    rider: "Rider"
    policy: "Policy"
    child: "Child"

    @classmethod
    def of(
        cls,
        bicycles: "tuple[Bicycle, ...]",
        child: "Child",
        *,
        skill: "Skill",
        stretch: bool,
        soles_mm: float | None,
    ) -> "_Shop":
        from pose_fit.fit.policy import Policy, Rider

        rider = Rider.wearing(soles_mm, skill=skill)
        return cls(bicycles, rider, Policy(stretch=stretch), child)

    def fits(self, inseam: "Inseam") -> "tuple[Fit, ...]":
        from pose_fit.fit.judge import judge

        return judge(inseam, self.bicycles, rider=self.rider, policy=self.policy)

    def advice_object(self, inseam: "Inseam") -> dict[str, Any]:
        from pose_fit.report.advice import advice_object

        return advice_object(self.fits(inseam), self.child) if self.bicycles else {}

    def advice_lines(self, inseam: "Inseam") -> list[str]:
        from pose_fit.report.advice import advice_lines

        return advice_lines(self.fits(inseam), self.child) if self.bicycles else []


def _measured(path: Path, task: "PhotoTask") -> "PhotoMeasurement | Refusal":
    from pose_fit.body.mediapipe_pose import pose_model
    from pose_fit.measure import measure_photo
    from pose_fit.photo.photo import read_photo

    return measure_photo(read_photo(path), task, pose=pose_model())


def _show_json(path: Path, result: "PhotoMeasurement | Refusal", shop: _Shop) -> None:
    from pose_fit.refusal import Refusal
    from pose_fit.report.as_json import measured_object, refused_object

    if isinstance(result, Refusal):
        print(json.dumps(refused_object(str(path), result)), flush=True)
    else:
        told = measured_object(str(path), result) | shop.advice_object(result.inseam)
        print(json.dumps(told), flush=True)


def _show_text(path: Path, result: "PhotoMeasurement | Refusal", shop: _Shop) -> None:
    from pose_fit.refusal import Refusal
    from pose_fit.report.text import measured_lines, refused_lines

    if isinstance(result, Refusal):
        lines = refused_lines(str(path), result)
    else:
        lines = [*measured_lines(str(path), result), "", *shop.advice_lines(result.inseam)]
    print("\n".join(lines), end="\n\n", flush=True)


def _show_combined(inseams: "list[Inseam]", shop: _Shop, *, as_json: bool) -> None:
    from pose_fit.inseam.combine import combine_inseams

    combined = combine_inseams(inseams).inseam
    if as_json:
        from pose_fit.report.as_json import inseam_object

        told = {"photo": None, "status": "measured", **inseam_object(combined)}
        print(json.dumps(told | shop.advice_object(combined)), flush=True)
    else:
        from pose_fit.report.text import inseam_lines

        print("\n".join([*inseam_lines(combined), "", *shop.advice_lines(combined)]))


def _with_progress(paths: list[Path]) -> Iterator[Path]:
    """The paths one by one, with a bar on the terminal where there are several."""
    if len(paths) == 1 or not sys.stderr.isatty():
        yield from paths
        return
    from rich.console import Console
    from rich.progress import track

    yield from track(paths, description="Measuring", console=Console(stderr=True))


def _fail(message: str) -> NoReturn:
    print(f"pose-fit: {message}", file=sys.stderr)
    raise typer.Exit(EXIT_WRONG_CALL)
