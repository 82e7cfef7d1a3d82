"""Between the plane that the reference lies in and the picture, for given parameters of pose and camera.

Frames: the plane's frame is the reference's (x right, y down, z into the wall);
the camera's is x right, y down, z forward.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

__all__ = [
    "CENTRE",
    "LOG_ASPECT",
    "LOG_FOCAL",
    "LOG_SIZE",
    "PARAMETER_COUNT",
    "RADIAL",
    "ROTATION",
    "SHIFT",
    "cast",
    "project",
    "reference_size",
    "turns",
]

#: Layout of the parameter vector.
ROTATION: Final = slice(0, 3)
SHIFT: Final = slice(3, 6)
LOG_FOCAL: Final = slice(6, 7)
CENTRE: Final = slice(7, 9)
RADIAL: Final = slice(9, 10)
LOG_SIZE: Final = slice(10, 11)
LOG_ASPECT: Final = slice(11, 12)
PARAMETER_COUNT: Final = 12


def turns(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
    """(..., 3, 3) rotations from the plane's frame to the camera's, of (..., 12) parameters."""
    turns = Rotation.from_rotvec(parameters[..., ROTATION].reshape(-1, 3)).as_matrix()
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
    turn = turns(parameters)
    # One axis more than the parameters have, for the points.
    given = parameters[..., None, :]
    seen_mm = points_mm @ np.swapaxes(turn, -1, -2) + given[..., SHIFT]
    flat = seen_mm[..., :2] / seen_mm[..., 2:]
    bent = flat * (1 + given[..., RADIAL] * (flat * flat).sum(axis=-1, keepdims=True))
    pixels: NDArray[np.float64] = bent * np.exp(given[..., LOG_FOCAL]) + given[..., CENTRE]
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
    bent = (pixels - given[..., CENTRE]) / np.exp(given[..., LOG_FOCAL])
    bend = given[..., RADIAL] * (bent * bent).sum(axis=-1, keepdims=True)
    # The inverse of the radial term by Newton's iteration of s (1 + bend s^2) = 1; the bend of
    # a lens is a few hundredths, so that the third step is exact to the last digits.
    straight = 1.0 - bend
    for _ in range(3):
        square = bend * straight * straight
        straight = (1.0 + 2.0 * square * straight) / (1.0 + 3.0 * square)
    back = turns(parameters)
    camera_mm = -(given[..., SHIFT] @ back)
    rays = (bent * straight) @ back[..., :2, :] + back[..., 2:, :]
    reach = (-np.asarray(depths_mm, float) - camera_mm[..., 2]) / rays[..., 2]
    points_mm: NDArray[np.float64] = camera_mm + rays * reach[..., None]
    return points_mm


def reference_size(parameters: NDArray[np.float64]) -> NDArray[np.float64]:
    """Size of the reference over the size it was said to have, of (..., 12) parameters."""
    size: NDArray[np.float64] = np.exp(parameters[..., LOG_SIZE])[..., 0]
    return size
