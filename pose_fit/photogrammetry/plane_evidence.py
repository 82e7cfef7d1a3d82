"""What speaks for a pose of the reference's plane: its points, the camera, the way photos are taken.

Each piece of evidence is a whitened residual with the name of its source.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.budget_sources import BudgetSource
from pose_fit.photo.camera_prior import CameraPrior
from pose_fit.photogrammetry.projection import (
    CENTRE,
    LOG_ASPECT,
    LOG_FOCAL,
    LOG_SIZE,
    RADIAL,
    ROTATION,
    SHIFT,
    cast,
    project,
    reference_size,
    turns,
)
from pose_fit.reference.reference import CircleReference, PointReference, Reference

__all__ = ["CAMERA_HEIGHT_MM", "POINTS_SOURCE", "SIDEWAYS_SD", "Residuals", "Stance", "evidence_of"]

#: Height of the phone above the floor: from a crouching to a standing adult
#: (common practice, no source).
CAMERA_HEIGHT_MM: Final = (1150.0, 350.0)
#: Sideways direction of view off the wall's normal, as a sine (common practice, no source).
SIDEWAYS_SD: Final = 0.25
#: Downward direction of view where nobody's legs say where the floor is, as a sine.
DOWNWARD_SD: Final = 0.25
#: Where the reference was seen in the picture.
POINTS_SOURCE: Final[BudgetSource] = "reference points"
Residuals = Callable[[NDArray[np.float64]], NDArray[np.float64]]


@dataclass(frozen=True, eq=False, slots=True)
class Stance:
    """Where the child stands in the picture: (2,) arrays between the hips and between the ankles."""

    hips_px: NDArray[np.float64]
    ankles_px: NDArray[np.float64]


def evidence_of(
    reference: Reference, camera: CameraPrior, stance: Stance | None
) -> tuple[Residuals, tuple[BudgetSource, ...]]:
    """The whitened residuals as a function of (..., 12) parameters, and a name for each."""
    log_focal = np.log(camera.focal_px)
    centre_px = np.array(camera.centre_px)
    log_aspect_sd = reference.log_aspect_sd if isinstance(reference, PointReference) else 1e-3

    def residuals(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate(
            [
                _point_residuals(parameters, reference),
                (parameters[..., LOG_FOCAL] - log_focal) / camera.log_focal_sd,
                (parameters[..., CENTRE] - centre_px) / camera.centre_sd_px,
                parameters[..., RADIAL] / camera.radial_sd,
                parameters[..., LOG_SIZE] / reference.log_size_sd,
                parameters[..., LOG_ASPECT] / log_aspect_sd,
                _view_residuals(parameters, stance),
                *_convergence_residuals(parameters, camera, stance),
            ],
            axis=-1,
        )

    point_count = reference.image_px.size
    if isinstance(reference, CircleReference):
        point_count = len(reference.image_px) + 1
    sources: tuple[BudgetSource, ...] = (POINTS_SOURCE,) * point_count + (
        "focal length",
        "lens",
        "lens",
        "lens",
        "reference size",
        "reference shape",
        "camera tilt",
        "camera tilt",
    )
    if camera.convergence is not None and stance is not None:
        sources = (*sources, "camera tilt")
    return residuals, sources


def _point_residuals(parameters: NDArray[np.float64], reference: Reference) -> NDArray[np.float64]:
    if isinstance(reference, CircleReference):
        if parameters.ndim > 1:
            return np.array([_point_residuals(row, reference) for row in parameters])
        return _outline_residuals(parameters, reference, float(reference_size(parameters)))
    object_mm = np.column_stack([reference.object_mm, np.zeros(len(reference.object_mm))])
    points_mm = object_mm * np.exp(parameters[..., None, LOG_SIZE])
    points_mm[..., :1] *= np.exp(parameters[..., None, LOG_ASPECT])
    off_px = project(parameters, points_mm) - reference.image_px
    whitened: NDArray[np.float64] = off_px / reference.point_sd_px
    return whitened.reshape(*parameters.shape[:-1], -1)


#: The hoop of a tyre is drawn with this many chords; their sagitta is 0.1 mm.
_HOOP: Final = np.column_stack(
    [np.cos(np.linspace(0, 2 * np.pi, 97)), np.sin(np.linspace(0, 2 * np.pi, 97)), np.zeros(97)]
)


def _outline_residuals(
    parameters: NDArray[np.float64], reference: CircleReference, size: float
) -> NDArray[np.float64]:
    """Departure of points on a tyre's outer edge from the outline of the torus.

    A ball of half the tyre's width that rolls along the hoop at its middle sweeps the
    torus, so the outline lies that far outside the hoop's picture.
    """
    tube_mm = reference.width_mm / 2
    hoop_mm = _HOOP * (reference.radius_mm * size - tube_mm)
    hoop_px = project(parameters, hoop_mm)
    depth_mm = hoop_mm @ turns(parameters)[2] + parameters[SHIFT][2]
    tube_px = tube_mm * np.exp(parameters[LOG_FOCAL]) / depth_mm
    start_px, way_px = hoop_px[:-1], np.diff(hoop_px, axis=0)
    to_px = reference.image_px[:, None] - start_px
    place = np.clip((to_px * way_px).sum(axis=2) / (way_px**2).sum(axis=1), 0.0, 1.0)
    away_px = np.linalg.norm(to_px - place[..., None] * way_px, axis=2)
    nearest = away_px.argmin(axis=1)
    rows = np.arange(len(nearest))
    centre_px = hoop_px[:-1].mean(axis=0)
    outside = np.sign(
        np.linalg.norm(reference.image_px - centre_px, axis=1)
        - np.linalg.norm(
            start_px[nearest] + place[rows, nearest, None] * way_px[nearest] - centre_px, axis=1
        )
    )
    off_px = outside * away_px[rows, nearest] - tube_px[nearest]
    # A tyre looks the same however it is turned in its plane: any one turn will do.
    turn = parameters[ROTATION][2] / 0.02
    return np.append(off_px / reference.point_sd_px, turn)


def _view_residuals(parameters: NDArray[np.float64], stance: Stance | None) -> NDArray[np.float64]:
    """Whitened departures from the usual height of the phone and the usual direction of view."""
    turn = turns(parameters)
    forward = turn[..., 2, :]
    if stance is None:
        return np.stack([forward[..., 1] / DOWNWARD_SD, forward[..., 0] / SIDEWAYS_SD], axis=-1)
    joints_mm, down = _joints_and_down(parameters, stance)
    camera_mm = -(parameters[..., None, SHIFT] @ turn)[..., 0, :]
    mean_mm, sd_mm = CAMERA_HEIGHT_MM
    height_mm = ((joints_mm[..., 1, :] - camera_mm) * down).sum(axis=-1)
    sideways = forward[..., 1] * down[..., 0] - forward[..., 0] * down[..., 1]
    return np.stack([(height_mm - mean_mm) / sd_mm, sideways / SIDEWAYS_SD], axis=-1)


def _convergence_residuals(
    parameters: NDArray[np.float64], camera: CameraPrior, stance: Stance | None
) -> list[NDArray[np.float64]]:
    """Whitened departure from how upright edges of the room converge; none where they are not seen."""
    seen = camera.convergence
    if seen is None or stance is None:
        return []
    _, down = _joints_and_down(parameters, stance)
    sine = (turns(parameters)[..., 2, :] * down).sum(axis=-1)
    tangent = sine / np.sqrt(np.maximum(1 - sine * sine, 1e-6))
    per_px = tangent[..., None] / np.exp(parameters[..., LOG_FOCAL])
    return [(per_px - seen.per_px) / seen.sd_per_px]


def _joints_and_down(
    parameters: NDArray[np.float64], stance: Stance
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """(..., 2, 3) hips and ankles in the plane, and the (..., 3) way from one to the other."""
    joints_mm = cast(parameters, np.stack([stance.hips_px, stance.ankles_px]), 0.0)
    leg_mm = joints_mm[..., 1, :] - joints_mm[..., 0, :]
    return joints_mm, leg_mm / np.sqrt((leg_mm * leg_mm).sum(axis=-1, keepdims=True))
