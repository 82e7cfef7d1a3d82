"""The priors of camera and reference, before a photo is solved, against the truth.

Each is an error over its claimed standard uncertainty, so that its root mean square is near 1
where the claim is right and below 1 where it is cautious.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calibration.observe import read_photos
from calibration.scored import Scored
from pose_fit.photo.camera_prior import camera_prior
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.photogrammetry.plane_evidence import CAMERA_HEIGHT_MM, SIDEWAYS_SD
from pose_fit.reference.printed_sheet import marker_corners_mm
from pose_fit.reference.reference import CircleReference, PointReference

__all__ = ["PriorErrors", "priors_on", "taken_print_scale"]


@dataclass(frozen=True, slots=True)
class PriorErrors:
    """Errors of one prior over its claimed standard uncertainty, in all photos that have it."""

    name: str
    values: tuple[float, ...]

    @property
    def rms(self) -> float:
        """Root mean square; near 1 where the claim is right."""
        return float(np.sqrt(np.mean(np.square(self.values))))


def priors_on(items: Sequence[Scored], *, folder: Path) -> list[PriorErrors]:
    """Every prior over the photos that have it, by name."""
    found: dict[str, list[float]] = {}
    paths = {str(truth["photo"]): path for path, truth in read_photos(folder)}
    for item in items:
        photo = read_photo(paths[str(item.truth["photo"])])
        for name, value in _of_photo(item, photo):
            found.setdefault(name, []).append(value)
    return [PriorErrors(name, tuple(found[name])) for name in sorted(found)]


def _of_photo(item: Scored, photo: Photo) -> list[tuple[str, float]]:
    truth, camera, prior = item.truth, item.truth["camera"], camera_prior(photo)
    kept = "EXIF kept" if prior.from_exif and not photo.reshaped else "EXIF stripped"
    if prior.from_exif and photo.reshaped:
        kept = "EXIF kept, picture reshaped"
    height_mm, height_sd_mm = CAMERA_HEIGHT_MM
    off_px = np.array(prior.centre_px) - np.array(camera["centre_px"])
    rows = [
        (
            f"focal length, {kept}",
            float(np.log(prior.focal_px / camera["focal_px"])) / prior.log_focal_sd,
        ),
        ("radial distortion", -float(camera["k1"]) / prior.radial_sd),
        ("principal point, across", float(off_px[0]) / prior.centre_sd_px),
        ("principal point, down", float(off_px[1]) / prior.centre_sd_px),
        ("camera’s height", (-float(camera["position_mm"][1]) - height_mm) / height_sd_mm),
        ("sideways direction of view", float(camera["rotation"][2][0]) / SIDEWAYS_SD),
    ]
    size = _log_size_error(truth, item.sights.reference)
    if size is not None:
        name = f"size of the {truth['reference']['kind']}"
        if truth["reference"].get("ruler_mm") is not None:
            name += ", ruler measured"
        rows.append((name, size / item.sights.reference.log_size_sd))
    if isinstance(item.sights.reference, PointReference):
        name = f"points of the {truth['reference']['kind']}"
        rows.append((name, _points_rms(item.sights.reference, truth)))
    return rows


def _log_size_error(
    truth: Mapping[str, Any], seen: PointReference | CircleReference
) -> float | None:
    """Logarithm of taken over true size; None where the object is what it is said to be."""
    told = truth["reference"]
    match told["kind"]:
        case "sheet":
            assert isinstance(seen, PointReference)
            return float(np.log(taken_print_scale(seen) / told["print_scale"]))
        case "wheel":
            return float(np.log(told["nominal_diameter_mm"] / told["true_diameter_mm"]))
    return None


def taken_print_scale(sheet: PointReference) -> float:
    """The scale the sheet was taken to be printed at, by how far apart its markers were put.

    By their centres: how large the squares themselves look depends on ink and light.
    """
    taken_mm = sheet.object_mm.reshape(-1, 4, 2).mean(axis=1)
    known_mm = np.stack([corners_mm.mean(axis=0) for corners_mm in marker_corners_mm().values()])
    away_mm = np.linalg.norm(taken_mm[:, None] - known_mm, axis=2)
    meant_mm = known_mm[away_mm.argmin(axis=1)]
    return float(np.linalg.norm(taken_mm) / np.linalg.norm(meant_mm))


def _points_rms(reference: PointReference, truth: Mapping[str, Any]) -> float:
    """Root mean square distance to the nearest true point, a coordinate, over its claim."""
    true_px: NDArray[np.float64] = np.vstack(
        [np.array(points, float) for points in truth["reference"]["points_px"].values()]
    )
    away_px = np.linalg.norm(reference.image_px[:, None] - true_px, axis=2).min(axis=1)
    return float(np.sqrt(np.mean(away_px**2) / 2) / reference.point_sd_px)
