"""What each part of the measurement bought: the same photos read without it.

Nothing inside the program is switched. A variant leaves out sights, or gives the same fusion
another plane or another model. Its offset is not fitted again.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from calibration.observe import read_photos, world_of
from calibration.score.metrics import Metrics, metrics_of
from calibration.scored import Scored
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_equation import foot_reach_mm
from pose_fit.inseam.photo_reading import read_inseam
from pose_fit.inseam.photo_sights import PhotoSights, legs_of
from pose_fit.photo.camera_prior import CameraPrior, camera_prior
from pose_fit.photo.photo import Photo, read_photo
from pose_fit.photogrammetry.plane import solve_plane
from pose_fit.photogrammetry.plane_evidence import Stance

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
    """Metrics of a variant, and of the whole program on the same photos."""

    name: str
    metrics: Metrics
    whole: Metrics


def ablations_on(
    items: Sequence[Scored], *, folder: Path, models: Mapping[str, ErrorModel]
) -> list[Ablation]:
    """Every variant, each photo read with the model that its world was left out of."""
    paths = {str(truth["photo"]): path for path, truth in read_photos(folder)}
    photos = {name: read_photo(paths[name]) for item in items if (name := str(item.truth["photo"]))}
    whole = _errors(_WHOLE, items, photos, models)
    made = []
    for variant in (_WHOLE, *VARIANTS):
        errors = _errors(variant, items, photos, models)
        if errors:
            made.append(
                Ablation(
                    variant.name,
                    _metrics(list(errors.values())),
                    _metrics([whole[photo] for photo in errors]),
                )
            )
    return made


def _metrics(pairs: Sequence[tuple[float, float]]) -> Metrics:
    return metrics_of([error for error, _ in pairs], [sd for _, sd in pairs])


def _errors(
    variant: Variant,
    items: Sequence[Scored],
    photos: Mapping[str, Photo],
    models: Mapping[str, ErrorModel],
) -> dict[str, tuple[float, float]]:
    """Error and stated uncertainty by photo, where the variant gives a reading."""
    errors = {}
    for item in items:
        name = str(item.truth["photo"])
        found = variant.read(item.sights, photos[name], models[world_of(item.truth)])
        if found is not None:
            errors[name] = (found[0] - item.true_mm, found[1])
    return errors


def _whole(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
    length = read_inseam(sights, model=model).length
    return length.mean_mm, length.sd_mm


_WHOLE: Final = Variant("the whole program", _whole)


def _without(
    *, crotch: bool = False, toes: bool = False, wall_base: bool = False
) -> Callable[[PhotoSights, Photo, ErrorModel], tuple[float, float] | None]:
    """The fusion without the candidates of some sights."""

    def read(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
        fewer = replace(
            sights,
            crotches=() if crotch else sights.crotches,
            toes=() if toes else sights.toes,
            wall_bases=() if wall_base else sights.wall_bases,
        )
        return _whole(fewer, photo, model)

    return read


def _first_candidates(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
    """The likeliest candidate of each sight by the picture alone, taken to be right."""
    sure = replace(
        sights,
        crotches=tuple(replace(one, weight=1.0) for one in sights.crotches[:1]),
        toes=tuple(replace(one, weight=1.0) for one in sights.toes[:1]),
        wall_bases=tuple(replace(one, weight=1.0) for one in sights.wall_bases[:1]),
    )
    return _whole(sure, photo, model)


def _no_offset(sights: PhotoSights, photo: Photo, model: ErrorModel) -> tuple[float, float]:
    """Everything taken to lie in the reference's own plane."""
    beside = sights.reference.placement == "beside"
    legs = legs_of(sights.plane, sights.body, beside=beside, model=model)
    flat = replace(
        model,
        gap_at_wall_mm=(0.0, model.gap_at_wall_mm[1]),
        free_share=1e-9,
        ankle_before_heel=(0.0, model.ankle_before_heel[1]),
        hip_before_ankle=(0.0, model.hip_before_ankle[1]),
        hip_before_wall=(0.0, model.hip_before_wall[1]),
        knee_before_line=(0.0, model.knee_before_line[1]),
        crotch_before_hip=(0.0, model.crotch_before_hip[1]),
        reach_mm=(-foot_reach_mm(legs.straight_mm), model.reach_mm[1]),
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
        _without(crotch=True, toes=True, wall_base=True),
    ),
    Variant("hips as the only top, every floor", _without(crotch=True)),
    Variant("ankles as the only floor", _without(toes=True, wall_base=True)),
    Variant("no toes", _without(toes=True)),
    Variant("no wall base", _without(wall_base=True)),
    Variant("one candidate of each sight, taken to be right", _first_candidates),
    Variant("no plane offset: child in the reference’s plane", _no_offset),
    Variant("no lens distortion term", _with_camera(_no_distortion)),
    Variant("EXIF ignored", _with_camera(_same, exif=False)),
    Variant("no prior on the camera’s height", _with_camera(_same, stance=False)),
)
