"""Rendered photos measured by the child's own height, by a book's label, or by their own object.

python -m calibration.yardsticks --bench DIR [--bench DIR ...] --by height

The height is the true one with an error of 10 mm, drawn from the photo's own seed. Nothing is
written: one line of figures, to be set beside the report's.
"""

import json
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, Final, Literal

import numpy as np
import typer

from calibration.observe import request_for, stated_legwear, stated_soles_mm
from pose_fit.anthropometry.child import Child
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.photo import read_photo
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["measured_by"]

Yardstick = Literal["own", "height", "book"]
_HEIGHT_SD_MM: Final = 10.0


def measured_by(
    yardstick: Yardstick, folder: Path, truth: Mapping[str, Any]
) -> PhotoMeasurement | Refusal:
    """One photo by its own object, the child's height, or the label on a book."""
    photo = read_photo(folder / truth["photo"])
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
    stated = Stated(soles_mm=stated_soles_mm(truth), legwear=stated_legwear(truth), heels_down=True)
    return measure_photo(photo, PhotoTask(request, stated, child))


def main(
    bench: Annotated[list[Path], typer.Option(help="Folders of rendered photos and truths.")],
    by: Annotated[str, typer.Option(help="own, height or book.")] = "height",
    every: Annotated[int, typer.Option(help="Every so many photos of a folder.")] = 1,
) -> None:
    """Measure the photos and print how far off they are."""
    errors_mm, half_mm, refused = [], [], Counter[str]()
    for folder in bench:
        for file in sorted(folder.glob("*.json"))[::every]:
            truth = json.loads(file.read_text("utf-8"))
            if truth["reference"]["kind"] == "none" and by == "own":
                continue
            result = measured_by(by, folder, truth)  # type: ignore[arg-type]
            if isinstance(result, Refusal):
                refused.update(reason.code for reason in result.reasons)
                continue
            errors_mm.append(result.inseam.mean_mm - truth["inseam_mm"])
            half_mm.append(1.959964 * result.inseam.sd_mm)
    errors, halves = np.array(errors_mm), np.array(half_mm)
    typer.echo(
        f"{len(errors)} photos: MAE {np.abs(errors).mean():.1f} mm, bias {errors.mean():+.1f},"
        f" 95th percentile {np.quantile(np.abs(errors), 0.95):.0f}, in the interval"
        f" {100 * (np.abs(errors) <= halves).mean():.0f} %, half width {np.median(halves):.0f};"
        f" refused {dict(refused)}"
    )


if __name__ == "__main__":
    typer.run(main)
