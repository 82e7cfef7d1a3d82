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
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import OptimizeResult, least_squares
from scipy.spatial.transform import Rotation

from pose_fit.budget_sources import BudgetSource
from pose_fit.photo.camera_prior import CameraPrior
from pose_fit.reference.reference import CircleReference, PointReference, Reference

__all__ = [
    "PARAMETER_COUNT",
    "PlaneScale",
    "Stance",
    "camera_height_mm",
    "cast",
    "log_camera_height",
    "project",
    "reference_size",
    "solve_plane",
]

#: Height of the phone above the floor: from a crouching to a standing adult
#: (common practice, no source).
CAMERA_HEIGHT_MM: Final = (1150.0, 350.0)
#: Sideways direction of view off the wall's normal, as a sine (common practice, no source).
SIDEWAYS_SD: Final = 0.25
#: Downward direction of view where nobody's legs say where the floor is, as a sine.
DOWNWARD_SD: Final = 0.25

# Layout of the parameter vector.
_ROTATION, _SHIFT = slice(0, 3), slice(3, 6)
_LOG_FOCAL, _CENTRE, _RADIAL = slice(6, 7), slice(7, 9), slice(9, 10)
_LOG_SIZE, _LOG_ASPECT = slice(10, 11), slice(11, 12)
PARAMETER_COUNT: Final = 12


@dataclass(frozen=True, slots=True)
class Stance:
    """Where the child stands in the picture: (2,) arrays between the hips and between the ankles."""

    hips_px: NDArray[np.float64]
    ankles_px: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
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
        size[_SHIFT] = factor
        return replace(self, parameters=self.parameters * size[:, 0], shifts=self.shifts * size)

    @property
    def focal_px(self) -> float:
        """Focal length, pixels of the upright picture."""
        return math.exp(*self.parameters[_LOG_FOCAL])

    @property
    def distance_mm(self) -> float:
        """Distance from the camera to the reference."""
        return float(np.linalg.norm(self.parameters[_SHIFT]))

    @property
    def obliquity_rad(self) -> float:
        """Angle between the direction of view and the plane's normal."""
        forward = _turns(self.parameters)[2, 2]
        return float(np.arccos(np.clip(forward, -1.0, 1.0)))

    def moved_back(self, by_mm: float) -> "PlaneScale":
        """The parallel plane that lies this far behind the object's, away from the camera."""
        parameters = self.parameters.copy()
        parameters[_SHIFT] += by_mm * _turns(parameters)[:, 2]
        return replace(self, parameters=parameters)


def _turns(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
    """(..., 3, 3) rotations from the plane's frame to the camera's, of (..., 12) parameters."""
    turns = Rotation.from_rotvec(parameters[..., _ROTATION].reshape(-1, 3)).as_matrix()
    rotations: NDArray[np.float64] = turns.reshape(*parameters.shape[:-1], 3, 3)
    return rotations


def project(parameters: NDArray[np.float64], points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Picture positions of points given in the plane's frame.

    Parameters
    ----------
    parameters
        (..., 12) array as in `PlaneScale`; size and aspect are not applied here.
    points_mm
        (N, 3) array, or (..., N, 3).

    Returns
    -------
    (..., N, 2) array
        Pixels of the upright picture, by the pinhole model with Brown's radial term
        (Brown 1966), x_d = x (1 + k1 r^2).
    """
    turn = _turns(parameters)
    # One axis more than the parameters have, for the points.
    given = parameters[..., None, :]
    seen_mm = points_mm @ np.swapaxes(turn, -1, -2) + given[..., _SHIFT]
    flat = seen_mm[..., :2] / seen_mm[..., 2:]
    bent = flat * (1 + given[..., _RADIAL] * (flat * flat).sum(axis=-1, keepdims=True))
    pixels: NDArray[np.float64] = bent * np.exp(given[..., _LOG_FOCAL]) + given[..., _CENTRE]
    return pixels


def cast(
    parameters: NDArray[np.float64],
    pixels: NDArray[np.float64],
    depths_mm: NDArray[np.float64] | float,
) -> NDArray[np.float64]:
    """Where the rays through picture positions meet planes in front of the reference's plane.

    Parameters
    ----------
    parameters
        (..., 12) array as in `PlaneScale`.
    pixels
        (N, 2) array, pixels of the upright picture.
    depths_mm
        Distance of each ray's plane in front of the reference's plane, towards the
        camera; one number or an (N,) array.

    Returns
    -------
    (..., N, 3) array
        Millimetres in the plane's frame; z is minus the depth.
    """
    given = parameters[..., None, :]
    bent = (pixels - given[..., _CENTRE]) / np.exp(given[..., _LOG_FOCAL])
    bend = given[..., _RADIAL] * (bent * bent).sum(axis=-1, keepdims=True)
    # The inverse of the radial term by Newton's iteration of s (1 + bend s^2) = 1; the bend of
    # a lens is a few hundredths, so that the third step is exact to the last digits.
    straight = 1.0 - bend
    for _ in range(3):
        square = bend * straight * straight
        straight = (1.0 + 2.0 * square * straight) / (1.0 + 3.0 * square)
    back = _turns(parameters)
    camera_mm = -(given[..., _SHIFT] @ back)
    rays = (bent * straight) @ back[..., :2, :] + back[..., 2:, :]
    reach = (-np.asarray(depths_mm, float) - camera_mm[..., 2]) / rays[..., 2]
    points_mm: NDArray[np.float64] = camera_mm + rays * reach[..., None]
    return points_mm


def reference_size(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
    """Size of the reference over the size it was said to have, of (..., 12) parameters."""
    size: NDArray[np.float64] = np.exp(parameters[..., _LOG_SIZE])[..., 0]
    return size


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
    residuals, sources = _evidence(reference, camera, stance)
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


def _solutions(residuals: "_Residuals", starts: list[NDArray[np.float64]]) -> list[OptimizeResult]:
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


POINTS_SOURCE: Final[BudgetSource] = "reference points"
#: Which of the two tilts that show a flat object almost alike is the true one.
OTHER_VIEW_SOURCE: Final[BudgetSource] = "camera tilt"
#: Solutions that differ by less than this part of a step are one.
_SAME_SOLUTION: Final = 0.05
#: Relative change of the cost at which a first approach ends, and the last.
_ROUGH: Final = 1e-4
#: Points that show no such object lead nowhere; others are there within half of this.
_MOST_STEPS: Final = 100
_EXACT: Final = 1e-8


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


_Residuals = Callable[[NDArray[np.float64]], NDArray[np.float64]]


def _evidence(
    reference: Reference, camera: CameraPrior, stance: Stance | None
) -> tuple[_Residuals, tuple[BudgetSource, ...]]:
    """The whitened residuals as a function of (..., 12) parameters, and a name for each."""
    log_focal = np.log(camera.focal_px)
    centre_px = np.array(camera.centre_px)
    log_aspect_sd = reference.log_aspect_sd if isinstance(reference, PointReference) else 1e-3

    def residuals(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.concatenate(
            [
                _point_residuals(parameters, reference),
                (parameters[..., _LOG_FOCAL] - log_focal) / camera.log_focal_sd,
                (parameters[..., _CENTRE] - centre_px) / camera.centre_sd_px,
                parameters[..., _RADIAL] / camera.radial_sd,
                parameters[..., _LOG_SIZE] / reference.log_size_sd,
                parameters[..., _LOG_ASPECT] / log_aspect_sd,
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
    points_mm = object_mm * np.exp(parameters[..., None, _LOG_SIZE])
    points_mm[..., :1] *= np.exp(parameters[..., None, _LOG_ASPECT])
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
    depth_mm = hoop_mm @ _turns(parameters)[2] + parameters[_SHIFT][2]
    tube_px = tube_mm * np.exp(parameters[_LOG_FOCAL]) / depth_mm
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
    turn = parameters[_ROTATION][2] / 0.02
    return np.append(off_px / reference.point_sd_px, turn)


def _view_residuals(parameters: NDArray[np.float64], stance: Stance | None) -> NDArray[np.float64]:
    """Whitened departures from the usual height of the phone and the usual direction of view."""
    turn = _turns(parameters)
    forward = turn[..., 2, :]
    if stance is None:
        return np.stack([forward[..., 1] / DOWNWARD_SD, forward[..., 0] / SIDEWAYS_SD], axis=-1)
    joints_mm, down = _joints_and_down(parameters, stance)
    camera_mm = -(parameters[..., None, _SHIFT] @ turn)[..., 0, :]
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
    sine = (_turns(parameters)[..., 2, :] * down).sum(axis=-1)
    tangent = sine / np.sqrt(np.maximum(1 - sine * sine, 1e-6))
    per_px = tangent[..., None] / np.exp(parameters[..., _LOG_FOCAL])
    return [(per_px - seen.per_px) / seen.sd_per_px]


def _joints_and_down(
    parameters: NDArray[np.float64], stance: Stance
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """(..., 2, 3) hips and ankles in the plane, and the (..., 3) way from one to the other."""
    joints_mm = cast(parameters, np.stack([stance.hips_px, stance.ankles_px]), 0.0)
    leg_mm = joints_mm[..., 1, :] - joints_mm[..., 0, :]
    return joints_mm, leg_mm / np.sqrt((leg_mm * leg_mm).sum(axis=-1, keepdims=True))


def camera_height_mm(plane: PlaneScale, stance: Stance) -> float:
    """Height of the camera above the ankles."""
    joints_mm = cast(plane.parameters, np.stack([stance.hips_px, stance.ankles_px]), 0.0)
    leg_mm = joints_mm[1] - joints_mm[0]
    camera_mm = -(plane.parameters[_SHIFT] @ _turns(plane.parameters))
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
        start[_ROTATION], start[_SHIFT] = tilt.as_rotvec(), shift_mm
        start[_LOG_FOCAL], start[_CENTRE] = np.log(camera.focal_px), camera.centre_px
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
    steps[_SHIFT] = 0.1 * abs(parameters[_SHIFT][2])
    steps[_CENTRE] = 50.0
    return steps


def _central_jacobian(residuals: _Residuals, at: NDArray[np.float64]) -> NDArray[np.float64]:
    steps = 1e-4 * _steps(at)
    ahead, behind = residuals(at + np.diag(steps)), residuals(at - np.diag(steps))
    jacobian: NDArray[np.float64] = (ahead - behind).T / (2 * steps)
    return jacobian


def _forward_jacobian(residuals: _Residuals, at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Good enough to find the way, for half the work."""
    steps = 1e-7 * _steps(at)
    values = residuals(np.vstack([at, at + np.diag(steps)]))
    jacobian: NDArray[np.float64] = (values[1:] - values[0]).T / steps
    return jacobian
