"""From the reference to millimetres: the pose of the plane it lies in, and its covariance.

The most probable pose, focal length, lens and reference size are found together:
the reference's points in the picture are one kind of evidence, what is known
beforehand of the camera and of the way people take such photos is the other. Each
piece of evidence is a whitened residual with a name. At the optimum a change of
one piece of evidence moves the parameters by (A^T A)^-1 A^T, A being the Jacobian
of the residuals, so the covariance splits by name without any approximation
beyond the first order (JCGM 102:2011, clause 6; JCGM 100:2008, clause 5.1.2).

Frames: the plane's frame is the reference's (x right, y down, z into the wall);
the camera's is x right, y down, z forward.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import OptimizeResult, least_squares
from scipy.spatial.transform import Rotation

from pose_fit.budget_sources import BudgetSource
from pose_fit.photo.camera_prior import CameraPrior
from pose_fit.photogrammetry.plane_evidence import (
    CAMERA_HEIGHT_MM,
    POINTS_SOURCE,
    Residuals,
    Stance,
    evidence_of,
)
from pose_fit.photogrammetry.projection import (
    CENTRE,
    LOG_FOCAL,
    PARAMETER_COUNT,
    ROTATION,
    SHIFT,
    cast,
    turns,
)
from pose_fit.reference.reference import PointReference, Reference

__all__ = ["PlaneScale", "camera_height_mm", "log_camera_height", "solve_plane"]

#: Which of the two tilts that show a flat object almost alike is the true one.
OTHER_VIEW_SOURCE: Final[BudgetSource] = "camera tilt"
#: Solutions that differ by less than this part of a step are one.
_SAME_SOLUTION: Final = 0.05
#: Relative change of the cost at which a first approach ends, and the last.
_ROUGH: Final = 1e-4
_EXACT: Final = 1e-8
#: Points that show no such object lead nowhere; others are there within half of this.
_MOST_STEPS: Final = 100


@dataclass(frozen=True, eq=False, slots=True)
class PlaneScale:
    """The solved plane.

    Attributes
    ----------
    parameters
        (12,) array: rotation vector, shift in mm, log focal length in px, principal
        point in px, radial term, log size and log aspect of the reference.
    shifts
        (12, K) array: change of the parameters for one standard uncertainty of each
        of K independent pieces of evidence. ``shifts @ shifts.T`` is the covariance.
    sources
        K names, one for each column of ``shifts``.
    misfit
        Root mean square of the whitened residuals of the reference's points: near 1
        where the object really is what it was said to be.
    log_evidence
        Logarithm of how well this object explains its points, the usual camera and the usual
        view together (Laplace's approximation); what is alike for all objects is left out.
    """

    parameters: NDArray[np.float64]
    shifts: NDArray[np.float64]
    sources: tuple[BudgetSource, ...]
    misfit: float
    log_evidence: float = 0.0

    def scaled(self, factor: float) -> "PlaneScale":
        """The same picture of an object larger by this factor: all is that much further away."""
        size = np.ones((PARAMETER_COUNT, 1))
        size[SHIFT] = factor
        return replace(self, parameters=self.parameters * size[:, 0], shifts=self.shifts * size)

    @property
    def focal_px(self) -> float:
        """Focal length, pixels of the upright picture."""
        return math.exp(*self.parameters[LOG_FOCAL])

    @property
    def distance_mm(self) -> float:
        """Distance from the camera to the reference."""
        return float(np.linalg.norm(self.parameters[SHIFT]))

    @property
    def obliquity_rad(self) -> float:
        """Angle between the direction of view and the plane's normal."""
        forward = turns(self.parameters)[2, 2]
        return float(np.arccos(np.clip(forward, -1.0, 1.0)))

    def moved_back(self, by_mm: float) -> "PlaneScale":
        """The parallel plane that lies this far behind the object's, away from the camera."""
        parameters = self.parameters.copy()
        parameters[SHIFT] += by_mm * turns(parameters)[:, 2]
        return replace(self, parameters=parameters)


def solve_plane(
    reference: Reference, camera: CameraPrior, *, stance: Stance | None = None
) -> PlaneScale:
    """The most probable pose of the reference's plane, with its covariance by source.

    Parameters
    ----------
    stance
        Where the child's hips and ankles are in the picture. It says how far below
        the camera the floor lies, which steadies the tilt of a small reference.
    """
    residuals, sources = evidence_of(reference, camera, stance)
    best, *others = _solutions(residuals, _starts(reference, camera))
    jacobian = _central_jacobian(residuals, best.x)
    information = jacobian.T @ jacobian
    shifts = np.linalg.solve(information, jacobian.T)
    of_points = np.array([source == POINTS_SOURCE for source in sources])
    other_view = _other_view(best, others)
    return PlaneScale(
        parameters=best.x,
        shifts=np.column_stack([shifts, other_view]),
        sources=(*sources, OTHER_VIEW_SOURCE),
        misfit=float(np.sqrt(np.mean(best.fun[of_points] ** 2))),
        log_evidence=-float(best.cost) - 0.5 * float(np.linalg.slogdet(information)[1]),
    )


def _solutions(residuals: Residuals, starts: list[NDArray[np.float64]]) -> list[OptimizeResult]:
    """The different solutions from all starts, the most probable first.

    Several starts lead to one solution: each goes only as near as tells it from the others.
    """

    def solved(start: NDArray[np.float64], tolerance: float) -> OptimizeResult:
        return least_squares(
            residuals,
            start,
            jac=lambda at: _forward_jacobian(residuals, at),
            method="lm",
            x_scale=_steps(start),
            ftol=tolerance,
            max_nfev=_MOST_STEPS,
        )

    rough: list[OptimizeResult] = []
    for start in starts:
        near = solved(start, _ROUGH)
        if not any(_is_same(near.x, other.x) for other in rough):
            rough.append(near)
    exact = [solved(near.x, _EXACT) for near in rough]
    return sorted(exact, key=lambda solution: float(solution.cost))


def _is_same(one: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    return bool(np.abs((other - one) / _steps(one)).max() <= _SAME_SOLUTION)


def _other_view(best: OptimizeResult, others: list[OptimizeResult]) -> NDArray[np.float64]:
    """(12,) array: what the second-best tilt adds to the uncertainty.

    A flat object looks almost alike from two sides (Schweighofer and Pinz 2006), so the
    posterior has two peaks. About the higher one, the lower one of weight w at a distance
    d adds w d d^T to the covariance of the mixture.
    """
    for other in others:
        if not _is_same(best.x, other.x):
            way: NDArray[np.float64] = other.x - best.x
            odds = float(np.exp(best.cost - other.cost))
            added: NDArray[np.float64] = way * np.sqrt(odds / (1 + odds))
            return added
    return np.zeros(PARAMETER_COUNT)


def camera_height_mm(plane: PlaneScale, stance: Stance) -> float:
    """Height of the camera above the ankles."""
    joints_mm = cast(plane.parameters, np.stack([stance.hips_px, stance.ankles_px]), 0.0)
    leg_mm = joints_mm[1] - joints_mm[0]
    camera_mm = -(plane.parameters[SHIFT] @ turns(plane.parameters))
    return float((joints_mm[1] - camera_mm) @ leg_mm / np.linalg.norm(leg_mm))


def log_camera_height(plane: PlaneScale, stance: Stance) -> float:
    """How usual it is to hold the camera that high, as a logarithm."""
    mean_mm, sd_mm = CAMERA_HEIGHT_MM
    return -0.5 * ((camera_height_mm(plane, stance) - mean_mm) / sd_mm) ** 2


def _starts(reference: Reference, camera: CameraPrior) -> list[NDArray[np.float64]]:
    """Several first guesses: facing the plane, and tilted each way, for the two-fold ambiguity."""
    image_px = reference.image_px
    if isinstance(reference, PointReference):
        turn, mm_per_px, origin_px = _similarity(reference.object_mm, image_px)
    else:
        low_px, high_px = image_px.min(axis=0), image_px.max(axis=0)
        turn, origin_px = 0.0, (low_px + high_px) / 2
        mm_per_px = 2 * reference.radius_mm / float(np.max(high_px - low_px))
    depth_mm = mm_per_px * camera.focal_px
    shift_mm = np.append((origin_px - camera.centre_px) * mm_per_px, depth_mm)
    starts = []
    for tilt_x, tilt_y in ((0.0, 0.0), (0.3, 0.0), (-0.3, 0.0), (0.0, 0.3), (0.0, -0.3)):
        tilt = Rotation.from_rotvec([tilt_x, tilt_y, 0.0]) * Rotation.from_rotvec([0, 0, turn])
        start = np.zeros(PARAMETER_COUNT)
        start[ROTATION], start[SHIFT] = tilt.as_rotvec(), shift_mm
        start[LOG_FOCAL], start[CENTRE] = np.log(camera.focal_px), camera.centre_px
        starts.append(start)
    return starts


def _similarity(
    object_mm: NDArray[np.float64], image_px: NDArray[np.float64]
) -> tuple[float, float, NDArray[np.float64]]:
    """Turn in radians, mm a pixel and origin in pixels of the best similarity (Umeyama 1991)."""
    object_z = (object_mm - object_mm.mean(axis=0)) @ np.array([1, 1j])
    image_z = (image_px - image_px.mean(axis=0)) @ np.array([1, 1j])
    factor = np.vdot(object_z, image_z) / np.vdot(object_z, object_z)
    origin_z = image_px.mean(axis=0) @ np.array([1, 1j]) - factor * (
        object_mm.mean(axis=0) @ np.array([1, 1j])
    )
    return (
        float(np.angle(factor)),
        float(1 / abs(factor)),
        np.array([origin_z.real, origin_z.imag]),
    )


def _steps(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
    """The size of a typical change of each parameter, for scaling the solver and differences."""
    steps = np.full(PARAMETER_COUNT, 0.1)
    steps[SHIFT] = 0.1 * abs(parameters[SHIFT][2])
    steps[CENTRE] = 50.0
    return steps


def _central_jacobian(residuals: Residuals, at: NDArray[np.float64]) -> NDArray[np.float64]:
    steps = 1e-4 * _steps(at)
    ahead, behind = residuals(at + np.diag(steps)), residuals(at - np.diag(steps))
    jacobian: NDArray[np.float64] = (ahead - behind).T / (2 * steps)
    return jacobian


def _forward_jacobian(residuals: Residuals, at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Good enough to find the way, for half the work."""
    steps = 1e-7 * _steps(at)
    values = residuals(np.vstack([at, at + np.diag(steps)]))
    jacobian: NDArray[np.float64] = (values[1:] - values[0]).T / steps
    return jacobian
