"""What differs from one world to the next, seen on the world left out."""

from collections.abc import Sequence

import numpy as np

from calibration.fit.model import left_out_models
from calibration.observe import Observation, world_of, worlds_of
from calibration.scored import left_out_results, measured

__all__ = ["world_sd_mm"]

#: Fewer photos say too little of a world.
_LEAST_PHOTOS = 8


def world_sd_mm(observations: Sequence[Observation]) -> float:
    """Root mean square of the mean errors of the worlds left out, millimetres.

    Less what the scatter of a world's photos brings to its mean.
    """
    results = left_out_results(observations, models=left_out_models(observations))
    squares = []
    for world in worlds_of(observations):
        errors = np.array(
            [item.error_mm for item in measured(results) if world_of(item.truth) == world]
        )
        if errors.size >= _LEAST_PHOTOS:
            squares.append(errors.mean() ** 2 - errors.var(ddof=1) / errors.size)
    if not squares:
        raise ValueError("wanted at least eight measured photos of a world, found fewer")
    return float(np.sqrt(max(np.mean(squares), 0.0)))
