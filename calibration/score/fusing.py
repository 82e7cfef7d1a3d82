"""The readings of a photo fused again, from some of them or from other inputs."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from pose_fit.inseam.photo_equation import Floor, Top
from pose_fit.metrology.propagation import Propagated

__all__ = ["best_weights", "fused_over"]

_LEAST_OWN_SD_MM = 1.0


def best_weights(covariance: NDArray[np.float64]) -> NDArray[np.float64]:
    """Best linear unbiased weights of readings of one length (Gauss-Markov theorem).

    As in the program, two readings are never taken to agree better than a millimetre.
    """
    whole = covariance + _LEAST_OWN_SD_MM**2 * np.eye(len(covariance))
    raw = np.linalg.solve(whole, np.ones(len(covariance)))
    return np.asarray(raw / raw.sum())


def fused_over(
    propagated: Propagated,
    names: Sequence[tuple[Top, Floor]],
    *,
    keep: Callable[[Top, Floor], bool],
) -> tuple[float, float] | None:
    """Mean and standard uncertainty from the kept readings alone; None where none is left."""
    kept = np.array([index for index, name in enumerate(names) if keep(*name)], int)
    if kept.size == 0:
        return None
    covariance = propagated.covariance[np.ix_(kept, kept)]
    weights = best_weights(covariance)
    mean_mm = float(weights @ propagated.values[kept])
    return mean_mm, float(np.sqrt(weights @ covariance @ weights))
