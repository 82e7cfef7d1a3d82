"""Rendered photos measured by a book's label, by the child's own height, or by their own object.

python -m calibration.trials.yardsticks --book DIR [--book DIR ...] --height DIR [--height DIR ...]

Folders of photos with a book, of which children of odd number alone are scored: those of even
number were looked at while the finder was made. Folders of photos without an object, of a set that
was not looked at; the height is the true one with an error of 10 mm, drawn from the photo's own
seed. Writes `calibration/results/yardsticks.md`.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final, Literal

import numpy as np
import typer

from calibration.observe import request_for, stated_of
from calibration.scenes.truth import read_truths
from pose_fit.anthropometry.child import Child
from pose_fit.body.body import PoseModel
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.inseam.from_child import known_of
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask

__all__ = ["Measured", "line_of", "measured_by"]

Yardstick = Literal["own", "height", "book"]
_HEIGHT_SD_MM: Final = 10.0


@dataclass(frozen=True, slots=True)
class Measured:
    """One photo: the error and half width of its interval, or the first code of the refusal.

    Attributes
    ----------
    known_error_mm
        Error of what the body height alone says, where it was told.
    with_label
        The book's label was read.
    """

    error_mm: float = np.nan
    half_mm: float = np.nan
    known_error_mm: float = np.nan
    with_label: bool = False
    refused: str | None = None


def measured_by(
    yardstick: Yardstick, photo: Photo, truth: Mapping[str, Any], pose: PoseModel
) -> Measured:
    """One photo by its own object, the child's height, or the label on a book."""
    child = Child()
    match yardstick:
        case "own":
            request = request_for(truth, photo)
        case "book":
            request = ReferenceRequest("book")
        case "height":
            rng = np.random.default_rng((truth["seed"], truth["index"], truth["photo_of_child"]))
            height_mm = truth["stature_mm"] + rng.normal(0, _HEIGHT_SD_MM)
            request = ReferenceRequest("height", size_mm=height_mm)
            child = Child(stature_mm=height_mm, sex=truth["sex"])
    task = PhotoTask(request, stated_of(truth), child)
    return _measured(measure_photo(photo, task, pose=pose), truth, child)


def _measured(
    result: PhotoMeasurement | Refusal, truth: Mapping[str, Any], child: Child
) -> Measured:
    if isinstance(result, Refusal):
        return Measured(refused=result.reasons[0].code)
    known = known_of(child)
    true_mm = float(truth["inseam_mm"])
    return Measured(
        result.inseam.mean_mm - true_mm,
        COVERAGE_FACTOR_95 * result.inseam.sd_mm,
        np.nan if known is None else known.mean_mm - true_mm,
        result.observed.book is not None,
    )


def _truths(folders: Sequence[Path]) -> Iterator[tuple[Path, dict[str, Any]]]:
    for folder in folders:
        for truth in read_truths(folder):
            yield folder, truth


def _score(
    truths: list[tuple[Path, dict[str, Any]]], yardsticks: tuple[Yardstick, ...]
) -> dict[Yardstick, list[Measured]]:
    found: dict[Yardstick, list[Measured]] = {name: [] for name in yardsticks}
    pose = pose_model()
    for folder, truth in truths:
        photo = read_photo(folder / truth["photo"])
        # One look at a photo serves for all.
        once = BodyOnce(pose)
        for name in yardsticks:
            if name != "own" or truth["reference"]["kind"] != "none":
                found[name].append(measured_by(name, photo, truth, once))
    return found


def line_of(name: str, found: Sequence[Measured]) -> str:
    """A row of the table."""
    told = [one for one in found if one.refused is None]
    if not told:
        return f"| {name} | {len(found)} | 0 | | | | | | |"
    errors = np.array([one.error_mm for one in told])
    halves = np.array([one.half_mm for one in told])
    # What has no interval has no coverage.
    inside = f"{100 * (np.abs(errors) <= halves).mean():.0f} % | {np.median(halves):.0f}"
    return (
        f"| {name} | {len(found)} | {len(told)} | {np.abs(errors).mean():.1f} |"
        f" {errors.mean():+.1f} | {errors.std():.1f} | {np.quantile(np.abs(errors), 0.95):.0f} |"
        f" {inside if np.isfinite(halves).all() else '|'} |"
    )


def _page(books: Mapping[Yardstick, list[Measured]], heights: list[Measured]) -> str:
    labelled = [one for one in books["own"] if one.with_label]
    told = [one for one in heights if one.refused is None]
    known = [Measured(one.known_error_mm) for one in told]
    refused = {
        "book and another object": Counter(one.refused for one in books["own"] if one.refused),
        "book alone": Counter(one.refused for one in books["book"] if one.refused),
        "body height": Counter(one.refused for one in heights if one.refused),
    }
    lines = [
        "# The book and the body height as yardsticks",
        "",
        "Made by `python -m calibration.trials.yardsticks` on rendered photos. Errors in mm. Of the photos"
        " with a book (asked-for pose) children of odd number are scored; the even ones were looked"
        " at while the finder was made. Photos for the body height are of the second set, half of"
        " them in free stance, and were not looked at. The height is known to 10 mm. The error"
        " model of both was fitted on other children of these worlds, so the rows are of worlds that"
        " it has seen. The bodies are of before the plain world: their pelvis is pressed flat, for"
        " which it reads some millimetres low.",
        "",
        "| by | photos | measured | MAE | bias | sd | 95th pct | in the interval | half width |",
        "|---|--:|--:|--:|--:|--:|--:|--:|--:|",
        line_of("book beside another object, where its label was read", labelled),
        line_of("the same, read or not", books["own"]),
        line_of("book alone, its label the only object", books["book"]),
        line_of("body height, with what it says of the inseam", heights),
        line_of("that alone, without the picture", known),
        "",
        "Refused, first reason:",
        "",
    ]
    for name, codes in refused.items():
        lines.append(f"- {name}: {', '.join(f'{code} {count}' for code, count in codes.items())}")
    return "\n".join([*lines, "", LIMITS]) + "\n"


#: What the errors consist of, by putting the truth in place of one sight at a time.
LIMITS: Final = (
    "Wanted were 4 mm and a half width of 9 for the book, 10 mm for the body height; neither is"
    " reached. With the book (children of even number, truth in place of one sight at a time) the"
    " label's edge in the picture is no part of the error (0.2 pixels). The reading from label to"
    " wall base scatters by 11 mm; with the true wall base by 8, with the true distance of the label"
    " too by 5.5, and the rest is the book itself and the soles. Labels are missed where trousers"
    " hang over them. With the body height the camera's tilt is the error: a length shows none, a"
    " degree moves the reading from crotch to ankles by 5 mm, and the usual height of a phone leaves"
    " 8 degrees open. Where the room shows upright edges the tilt is known to three degrees; few"
    " rendered rooms do."
)


def main(
    book: Annotated[list[Path], typer.Option(help="Folders of photos with a book.")],
    height: Annotated[list[Path], typer.Option(help="Folders of photos without an object.")],
    out: Annotated[Path, typer.Option(help="The page.")] = Path(
        "calibration/results/yardsticks.md"
    ),
) -> None:
    """Measure the photos and write how far off they are."""
    odd = [one for one in _truths(book) if one[1]["index"] % 2]
    books = _score(odd, ("own", "book"))
    heights = _score(list(_truths(height)), ("height",))["height"]
    out.write_text(_page(books, heights), encoding="utf-8")


if __name__ == "__main__":
    typer.run(main)
