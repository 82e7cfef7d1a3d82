"""Propagation by the Monte Carlo method of JCGM 101:2008, clause 7: what the program's is checked by."""

from collections.abc import Callable, Sequence

import numpy as np

from pose_fit.metrology.propagation import Quantity


def simulate(
    equation: Callable[[Sequence[np.ndarray]], np.ndarray],
    quantities: Sequence[Quantity],
    *,
    draws: int,
    rng: np.random.Generator,
) -> np.ndarray:
    """(draws, m) array of readings for inputs drawn from normal distributions."""
    return equation(
        [
            quantity.mean
            + rng.standard_normal((draws, quantity.factor.shape[1])) @ quantity.factor.T
            for quantity in quantities
        ]
    )
