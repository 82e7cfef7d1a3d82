"""What each part of the measurement bought: the same photos read without it.

Nothing inside the program is switched. A variant leaves out readings, or gives the same
equation other sights or another model. Its offset is not fitted again, so each row also shows
the error that is left once the median error on the fitted part is taken off.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from calibration.observe import Observation
from calibration.score.fusing import fused_over
from calibration.score.metrics import Metrics, metrics_of
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import Floor, Top, foot_reach_mm
from pose_fit.inseam.photo_reading import (
    PhotoSights,
    equation_of,
    legs_of,
    quantities_of,
    read_inseam,
)
from pose_fit.metrology.propagation import propagate
from pose_fit.photo.camera_prior import CameraPrior, camera_prior
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.photogrammetry.plane import Stance, solve_plane

__all__ = ["VARIANTS", "Ablation", "Variant", "ablations_on"]

#: The lens taken to be free of distortion: a term this sure is as good as none.
_NO_RADIAL_SD: Final = 1e-5


@dataclass(frozen=True, slots=True)
class Variant:
    """A way to read a photo: mean and standard uncertainty, or None where it gives nothing."""

    name: str
    read: Callable[[PhotoSights, Photo, ErrorModel], tuple[float, float] | None]


@dataclass(frozen=True, slots=True)
class Ablation:
    """Metrics of a variant, and of the whole program on the same photos.

    Attributes
    ----------
    refitted_mae_mm
        MAE once the median error on the fitted part is taken off; NaN where there is none.
    """

    name: str
    metrics: Metrics
    refitted_mae_mm: float
    whole: Metrics


def ablations_on(
    scored: Sequence[Observation],
    fitted: Sequence[Observation],
    *,
    bench: Path,
    model: ErrorModel,
) -> list[Ablation]:
    """Every variant on the measured ones of the observations."""
    photos = {
        item.truth["photo"]: read_photo(bench / item.truth["photo"])
        for item in (*scored, *fitted)
        if item.sights is not None
    }
    whole = _errors(_WHOLE, scored, photos, model)
    made = []
    for variant in (_WHOLE, *VARIANTS):
        errors = _errors(variant, scored, photos, model)
        if not errors:
            continue
        before = _errors(variant, fitted, photos, model)
        offset_mm = float(np.median([e for e, _ in before.values()])) if before else np.nan
        made.append(
            Ablation(
                variant.name,
                _metrics(list(errors.values())),
                float(np.mean([abs(error - offset_mm) for error, _ in errors.values()])),
                _metrics([whole[photo] for photo in errors]),
            )
        )
    return made


def _metrics(pairs: Sequence[tuple[float, float]]) -> Metrics:
    return metrics_of([error for error, _ in pairs], [sd for _, sd in pairs])


def _errors(
    variant: Variant,
    observations: Sequence[Observation],
    photos: dict[str, Photo],
    model: ErrorModel,
) -> dict[str, tuple[float, float]]:
    """Error and stated uncertainty by photo, where the variant gives a reading."""
    errors = {}
    for item in observations:
        if item.sights is None:
            continue
        photo = photos[item.truth["photo"]]
        found = variant.read(item.sights, photo, model)
        if found is not None:
            errors[_name(item)] = (found[0] - float(item.truth["inseam_mm"]), found[1])
    return errors


def _name(item: Observation) -> str:
    """Name of the observation's file."""
    return str(item.truth["photo"])


def _whole(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
    length = read_inseam(sights, model=model).length
    return length.mean_mm, length.sd_mm


_WHOLE: Final = Variant("the whole program", _whole)


def _only(
    keep: Callable[[Top, Floor], bool],
) -> Callable[[PhotoSights, Photo, ErrorModel], tuple[float, float] | None]:
    def read(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float] | None:
        equation = equation_of(sights)
        result = propagate(equation, quantities_of(sights, model=model))
        found = fused_over(result, equation.names, keep=keep)
        return None if found is None else (found[0], found[1] * model.interval_factor)

    return read


def _no_offset(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
    """Everything taken to lie in the reference's own plane."""
    beside = sights.reference.placement == "beside"
    legs = legs_of(sights.plane, sights.body, beside=beside, model=model)
    flat = replace(
        model,
        gap_mean_mm=0.0,
        depth_parts=(0.0, 0.0, 0.0),
        crotch_depth_part=0.0,
        reach_mean_mm=-foot_reach_mm(legs.straight_mm),
    )
    return _whole(sights, photo, flat)


def _with_camera(
    change: Callable[[CameraPrior], CameraPrior], *, stance: bool = True, exif: bool = True
) -> Callable[[PhotoSights, Photo, ErrorModel], tuple[float, float]]:
    """The plane solved again with another idea of the camera."""

    def read(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
        seen = photo if exif else replace(photo, focal_35mm=None)
        body = sights.body
        plane = solve_plane(
            sights.reference,
            change(camera_prior(seen)),
            stance=Stance(body.hips_px, body.ankles_px) if stance else None,
        )
        return _whole(replace(sights, plane=plane), photo, model)

    return read


def _same(camera: CameraPrior) -> CameraPrior:
    return camera


def _no_distortion(camera: CameraPrior) -> CameraPrior:
    return replace(camera, radial_sd=_NO_RADIAL_SD)


#: The variants, each with the words of its row.
VARIANTS: Final = (
    Variant(
        "pose only: hips to ankles, ankle height by regression",
        _only(lambda top, floor: top == "legs" and floor == "ankles"),
    ),
    Variant("hips as the only top, every floor", _only(lambda top, floor: top == "legs")),
    Variant("silhouette only: crotch as the only top", _only(lambda top, floor: top == "crotch")),
    Variant("ankles as the only floor", _only(lambda top, floor: floor == "ankles")),
    Variant("no plane offset: child in the reference’s plane", _no_offset),
    Variant("no lens distortion term", _with_camera(_no_distortion)),
    Variant("EXIF ignored", _with_camera(_same, exif=False)),
    Variant("no prior on the camera’s height", _with_camera(_same, stance=False)),
)
