"""What the program sees in each rendered photo, kept so that a fit need not look again.

One observation a photo: the candidates of every sight and what the program refused, beside the
truth. Points that a person would click are the true ones with a click's scatter, drawn from the
photo's own seed.
"""

import gzip
import json
import pickle
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from rich.progress import track

from pose_fit.bicycle.tyre import Tyre, read_marking
from pose_fit.body.body import Body, PoseModel
from pose_fit.body.body_once import BodyOnce
from pose_fit.body.mediapipe_pose import pose_model
from pose_fit.errors import PoseFitError
from pose_fit.inseam.error_model import error_model
from pose_fit.inseam.observe_sights import observe_sights
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.measure import PhotoMeasurement, measure_photo
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photo.click_error import click_sd_px
from pose_fit.photo.photo import Photo, Place, read_photo
from pose_fit.photogrammetry.plane import solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance
from pose_fit.reference.find_reference import find_reference
from pose_fit.reference.request import ReferenceRequest
from pose_fit.refusal import Refusal
from pose_fit.sights.legs_network import LegsNetwork, legs_network
from pose_fit.task.legwear import Legwear
from pose_fit.task.photo_task import PhotoTask
from pose_fit.task.stated import Stated

__all__ = [
    "Observation",
    "measure_as_told",
    "observe_folder",
    "read_photos",
    "request_for",
    "stated_legwear",
    "stated_of",
    "task_of",
    "wheel_request",
    "world_of",
    "worlds_of",
]

_PROCESSES: Final = 2


@dataclass(frozen=True, slots=True)
class Observation:
    """Truth and sights of one photo.

    Attributes
    ----------
    refusal
        Why the program gave no number, None where it gave one.
    sights
        All candidates, whether or not a number came of them; None where no person or no
        reference was found.
    """

    truth: Mapping[str, Any]
    refusal: Refusal | None
    sights: PhotoSights | None


def request_for(truth: Mapping[str, Any], photo: Photo) -> ReferenceRequest:
    """What a user would say and click of this photo's reference."""
    reference = truth["reference"]
    kind = reference["kind"]
    rng = np.random.default_rng((truth["seed"], truth["index"], truth["photo_of_child"], 77))
    points = reference["points_px"]

    def clicked(name: str) -> tuple[Place, ...]:
        true_px = np.array(points[name], float)
        limits = [photo.width_px - 1, photo.height_px - 1]
        off_px = rng.normal(0, click_sd_px(photo), true_px.shape)
        clicks_px = np.clip(true_px + off_px, 0, limits)
        return tuple((float(x_px), float(y_px)) for x_px, y_px in clicks_px)

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
            return wheel_request(reference["code"])
        case "length":
            return ReferenceRequest(
                "length",
                size_mm=reference["length_mm"],
                points_px=clicked("ends"),
                placement=reference["plane"],
            )
    raise ValueError(f"unknown reference {kind!r}")


def wheel_request(marking: str, rim_px: NDArray[np.float64] | None = None) -> ReferenceRequest:
    """A wheel told by its tyre's marking, clicked at (N, 2) places or looked for."""
    tyre = read_marking(marking)
    assert isinstance(tyre, Tyre)
    return ReferenceRequest(
        "wheel",
        size_mm=tyre.outside_diameter_mm,
        width_mm=tyre.width_mm,
        points_px=None if rim_px is None else rim_px.tolist(),
    )


def read_photos(folder: Path) -> list[tuple[Path, Mapping[str, Any]]]:
    """Photo and truth of every scene with a reference below a folder, in a fixed order."""
    found: list[tuple[Path, Mapping[str, Any]]] = []
    for path in sorted([*folder.rglob("*.json"), *folder.rglob("*.json.gz")]):
        packed = path.read_bytes()
        truth = json.loads(gzip.decompress(packed) if path.suffix == ".gz" else packed)
        if not isinstance(truth, dict) or "inseam_mm" not in truth:
            continue
        photo = path.with_name(truth["photo"])
        if photo.exists() and truth.get("reference", {}).get("kind", "none") != "none":
            found.append((photo, truth))
    return found


def observe_folder(folder: Path, *, networks: Path | None = None) -> list[Observation]:
    """Observations of all finished photos of a folder, seen ones read from its cache.

    ``networks`` holds a network for each world, ``WORLD.onnx``, that was trained without it.
    """
    cache_file = folder / "observations.pkl"
    seen: dict[str, Observation] = {}
    if cache_file.exists():
        seen = pickle.loads(cache_file.read_bytes())
    photos = read_photos(folder)
    missing = [(photo, truth) for photo, truth in photos if truth["photo"] not in seen]
    with ProcessPoolExecutor(_PROCESSES) as pool:
        asked = [(photo, truth, networks) for photo, truth in missing]
        jobs = pool.map(_observe, *zip(*asked, strict=True), chunksize=4) if missing else iter(())
        for observation in track(jobs, total=len(missing), description="Looking at the photos"):
            seen[observation.truth["photo"]] = observation
    cache_file.write_bytes(pickle.dumps(seen))
    return [seen[truth["photo"]] for _, truth in photos]


def task_of(truth: Mapping[str, Any], photo: Photo) -> PhotoTask:
    """What a parent would say of the photo."""
    return PhotoTask(request_for(truth, photo), stated_of(truth))


def stated_of(truth: Mapping[str, Any]) -> Stated:
    """What a parent would say of the child in the photo."""
    # All of them stand on their heels, and a parent who is asked says so.
    return Stated(soles_mm=stated_soles_mm(truth), legwear=stated_legwear(truth), heels_down=True)


def measure_as_told(
    path: Path, truth: Mapping[str, Any], *, pose: PoseModel
) -> PhotoMeasurement | Refusal:
    """Measure a photo with what a parent would say of it."""
    photo = read_photo(path)
    return measure_photo(photo, task_of(truth, photo), pose=pose)


def _observe(path: Path, truth: Mapping[str, Any], networks: Path | None) -> Observation:
    photo = read_photo(path)
    task, pose = task_of(truth, photo), BodyOnce(pose_model())
    try:
        result = measure_photo(photo, task, pose=pose)
        refusal = result.plain if isinstance(result, Refusal) else None
        network = None if networks is None else legs_network(networks / f"{truth['world']}.onnx")
        sights = _sights(photo, task, pose.find(photo), network)
    except PoseFitError as fault:
        return Observation(truth, Refusal.because("arguments_unusable", str(fault)), None)
    return Observation(truth, refusal, sights)


def _sights(
    photo: Photo, task: PhotoTask, body: Body | None, network: LegsNetwork | None
) -> PhotoSights | None:
    """What is seen in the photo, whatever is refused for it."""
    if body is None:
        return None
    reference = find_reference(
        photo, body, task.reference, child=task.child, soles_mm=task.stated.soles_mm
    )
    if isinstance(reference, Refusal):
        return None
    stance = Stance(body.hips_px, body.ankles_px)
    plane = solve_plane(reference, camera_prior(photo), stance=stance)
    model = error_model()
    legs = legs_of(plane, body, beside=reference.placement == "beside", model=model)
    sights = observe_sights(
        photo, body, reference, plane, legs, task.stated, model=model, network=network
    )
    # The mask is large and no longer needed.
    small = np.zeros((1, 1), np.float32)
    return replace(
        sights, body=replace(sights.body, mask=small), seen_body=replace(body, mask=small)
    )


def world_of(truth: Mapping[str, Any]) -> str:
    """The world that a photo was made in; photos of the bench are one world."""
    return str(truth.get("world", "bench"))


def worlds_of(observations: Sequence[Observation]) -> list[str]:
    """Names of the worlds, sorted."""
    return sorted({world_of(item.truth) for item in observations})


def stated_legwear(truth: Mapping[str, Any]) -> Legwear:
    """What a parent says of the legwear."""
    legwear: Legwear = truth["legwear"]
    return "fitted" if legwear in ("regular", "shorts") else legwear


def stated_soles_mm(truth: Mapping[str, Any]) -> float:
    """What a parent says of the soles: to the nearest 5 mm."""
    return 5.0 * round(float(truth["soles_mm"]) / 5)
