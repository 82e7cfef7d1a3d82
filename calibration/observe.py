"""What the program sees in each rendered photo, kept so that a fit need not look again.

One observation a photo: what was found in it, or the refusal, beside the truth. Points that a person would click are the true
ones with a click's scatter, drawn from the photo's own seed.
"""

import pickle
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from rich.progress import track

from calibration.scenes.truth import read_truths
from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.body.body import PoseModel
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.inseam.photo_equation import LegGeometry
from pose_fit.inseam.photo_reading import PhotoSights
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.reference.from_points import click_sd_px
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.task.legwear import Legwear
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = ["Observation", "measure_as_told", "observe_folder", "request_for"]


@dataclass(frozen=True, slots=True)
class Observation:
    """Truth and sights of one photo; ``refusal`` is None where it was measured."""

    truth: Mapping[str, Any]
    refusal: Refusal | None
    sights: PhotoSights | None
    legs: LegGeometry | None


def request_for(truth: Mapping[str, Any], photo: Photo) -> ReferenceRequest:
    """What a user would say and click of this photo's reference."""
    reference = truth["reference"]
    kind = reference["kind"]
    rng = np.random.default_rng((truth["seed"], truth["index"], truth["photo_of_child"], 77))
    points = reference["points_px"]

    def clicked(name: str) -> NDArray[np.float64]:
        true_px = np.array(points[name], float)
        limits = [photo.width_px - 1, photo.height_px - 1]
        return np.clip(true_px + rng.normal(0, click_sd_px(photo), true_px.shape), 0, limits)

    match kind:
        case "sheet":
            return ReferenceRequest("sheet", ruler_mm=reference["ruler_mm"])
        case "letter" | "a4":
            return ReferenceRequest(kind)
        case "door":
            return ReferenceRequest(
                "door", size_mm=reference["height_mm"], points_px=clicked("corners")
            )
        case "wheel":
            tyre = read_marking(reference["code"])
            assert isinstance(tyre, Tyre)
            return ReferenceRequest(
                "wheel", size_mm=tyre.outside_diameter_mm, width_mm=tyre.width_mm
            )
        case "length":
            return ReferenceRequest(
                "length",
                size_mm=reference["length_mm"],
                points_px=clicked("ends"),
                placement=reference["plane"],
            )
    raise ValueError(f"unknown reference {kind!r}")


def observe_folder(folder: Path, *, workers: int = 2) -> list[Observation]:
    """Observations of all finished photos of a folder, seen ones read from its cache."""
    cache_file = folder / "observations.pkl"
    seen: dict[str, Observation] = {}
    if cache_file.exists():
        seen = pickle.loads(cache_file.read_bytes())
    truths = read_truths(folder)
    missing = [truth for truth in truths if truth["photo"] not in seen]
    with ProcessPoolExecutor(workers) as pool:
        jobs = pool.map(_observe, [folder] * len(missing), missing, chunksize=4)
        for observation in _progress(jobs, len(missing)):
            seen[observation.truth["photo"]] = observation
    cache_file.write_bytes(pickle.dumps(seen))
    return [seen[truth["photo"]] for truth in truths]


def _progress(jobs: Iterator[Observation], count: int) -> Iterator[Observation]:
    yield from track(jobs, total=count, description="Looking at the photos")


def measure_as_told(
    folder: Path, truth: Mapping[str, Any], *, pose: PoseModel
) -> PhotoMeasurement | Refusal:
    """Measure a photo with what a parent would say of it."""
    photo = read_photo(folder / truth["photo"])
    # All of them stand on their heels, and a parent who is asked says so.
    said = Stated(soles_mm=stated_soles_mm(truth), legwear=stated_legwear(truth), heels_down=True)
    return measure_photo(photo, PhotoTask(request_for(truth, photo), said), pose=pose)


def _observe(folder: Path, truth: Mapping[str, Any]) -> Observation:
    result = measure_as_told(folder, truth, pose=pose_model())
    if isinstance(result, PhotoMeasurement):
        # The mask is large and no longer needed.
        body = replace(result.sights.body, mask=np.zeros((1, 1), np.float32))
        return Observation(truth, None, replace(result.sights, body=body), result.legs)
    return Observation(truth, result, None, None)


def stated_legwear(truth: Mapping[str, Any]) -> Legwear:
    """What a parent says of the legwear."""
    legwear = truth["legwear"]
    return "fitted" if legwear in ("regular", "shorts") else legwear


def stated_soles_mm(truth: Mapping[str, Any]) -> float:
    """What a parent says of the soles: to the nearest 5 mm."""
    return 5.0 * round(truth["soles_mm"] / 5)
