"""Propagation of uncertainty through a measurement equation with several readings.

Each input quantity is a mean and a factor of its covariance, so that its columns
are independent contributions of one standard uncertainty each. A central
difference over one standard uncertainty to each side gives the contribution to
every reading at once (JCGM 100:2008, 5.1.3 note 2; JCGM 102:2011, Eq. (3)), and
keeps each contribution's name.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pose_fit.budget_sources import BudgetSource

__all__ = ["Propagated", "Quantity", "independent", "propagate", "weighted_mean"]

#: From inputs of shape (..., n) each to readings of shape (..., m), so that all the steps of a
#: propagation, or all draws, are worked out at once.
Equation = Callable[[Sequence[NDArray[np.float64]]], NDArray[np.float64]]


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """One input of the measurement equation.

    Attributes
    ----------
    mean
        (n,) array.
    factor
        (n, k) array F with covariance F F^T.
    sources
        k names, one for each column.
    shared
        k flags: True where the error returns in every photo of the same child.
    """

    mean: NDArray[np.float64]
    factor: NDArray[np.float64]
    sources: tuple[BudgetSource, ...]
    shared: tuple[bool, ...]

    def __post_init__(self) -> None:
        wanted = (len(self.mean), len(self.sources))
        if self.factor.shape != wanted or len(self.shared) != len(self.sources):
            raise ValueError(f"wanted a factor of shape {wanted}, found {self.factor.shape}")


def independent(
    source: BudgetSource, mean: Sequence[float], sd: Sequence[float], *, shared: bool
) -> Quantity:
    """A quantity whose n parts err independently of each other."""
    count = len(mean)
    return Quantity(
        np.asarray(mean, float),
        np.diag(np.asarray(sd, float)),
        (source,) * count,
        (shared,) * count,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Propagated:
    """Values of m readings and where their uncertainty comes from.

    Attributes
    ----------
    values
        (m,) array.
    contributions
        (m, K) array: change of each reading for one standard uncertainty of each of
        K independent sources; ``contributions @ contributions.T`` is the covariance.
    """

    values: NDArray[np.float64]
    contributions: NDArray[np.float64]
    sources: tuple[BudgetSource, ...]
    shared: tuple[bool, ...]

    @property
    def covariance(self) -> NDArray[np.float64]:
        """(m, m) array."""
        product: NDArray[np.float64] = self.contributions @ self.contributions.T
        return product


def propagate(equation: Equation, quantities: Sequence[Quantity]) -> Propagated:
    """First-order propagation of independent quantities, with every contribution's name."""
    count = sum(quantity.factor.shape[1] for quantity in quantities)
    # One row without a step, then one a step ahead, then one a step behind.
    inputs = [np.tile(quantity.mean, (1 + 2 * count, 1)) for quantity in quantities]
    first = 1
    for given, quantity in zip(inputs, quantities, strict=True):
        last = first + quantity.factor.shape[1]
        given[first:last] += quantity.factor.T
        given[count + first : count + last] -= quantity.factor.T
        first = last
    readings = equation(inputs)
    return Propagated(
        values=readings[0],
        contributions=(readings[1 : 1 + count] - readings[1 + count :]).T / 2,
        sources=tuple(name for quantity in quantities for name in quantity.sources),
        shared=tuple(flag for quantity in quantities for flag in quantity.shared),
    )


def weighted_mean(values: ArrayLike, sds: ArrayLike) -> tuple[float, float]:
    """Mean of independent estimates of one quantity and its standard uncertainty.

    Weights are the inverse variances. Where the estimates differ by more than they should, the
    uncertainty grows by Birge's ratio, sqrt(chi-square / (n - 1)) (Birge 1932).

    Parameters
    ----------
    values, sds
        (N,) arrays, N at least 1.
    """
    value, sd = np.asarray(values, float), np.asarray(sds, float)
    precision = sd**-2
    mean = float(precision @ value / precision.sum())
    chi_square = float((((value - mean) / sd) ** 2).sum())
    birge = max(1.0, math.sqrt(chi_square / max(1, value.size - 1)))
    return mean, birge / math.sqrt(float(precision.sum()))
