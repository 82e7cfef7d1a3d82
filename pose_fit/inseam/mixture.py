"""Readings fused under each of many hypotheses, and the hypotheses weighed: arithmetic alone.

Under one hypothesis the readings y of one length L err by C, so that

    fused      L = w^T y,  w = C^-1 1 / (1^T C^-1 1)             (Gauss-Markov theorem)
    agreement  r = y - L 1,  chi-square = r^T C^-1 r
    likelihood (2 pi)^(-(n-1)/2) |C|^(-1/2) (1^T C^-1 1)^(-1/2) exp(-chi-square / 2)

the last being the density of the readings with nothing known of L before. The posterior of L
is the mixture of the fused normals, each with prior times likelihood as its weight (Bayes).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

__all__ = ["NormalMixture", "best_weights", "log_likelihoods", "normalised"]

#: Departures from linearity and from normality keep two readings from agreeing better than this.
LEAST_OWN_SD_MM: Final = 1.0
#: A reading this much less sure than the best says nothing: its rays all but miss the plane, and
#: the steps of its propagation leave what is linear.
_SAYS_NOTHING: Final = 30.0
_LOST_SD_MM: Final = 1000.0

_Flags = NDArray[np.bool_]
_Array = NDArray[np.float64]


def best_weights(contributions: _Array, present: _Flags) -> _Array:
    """(H, R) best linear unbiased weights; 0 for a reading that is not there or says nothing.

    Parameters
    ----------
    contributions
        (H, R, K) array: change of each reading for one standard uncertainty of each of K
        independent sources, under each of H hypotheses.
    present
        (H, R) flags, at least one in each row.
    """
    sds_mm = np.where(present, np.linalg.norm(contributions, axis=-1), np.inf)
    surest_mm = np.maximum(sds_mm.min(axis=-1), LEAST_OWN_SD_MM)
    is_lost = (surest_mm > _LOST_SD_MM)[:, None]
    raw = _solved(contributions, ~is_lost & (sds_mm <= _SAYS_NOTHING * surest_mm[:, None]))
    # Where no reading says anything what is fused says so by its uncertainty.
    raw = np.where(is_lost, present, raw)
    weights: _Array = raw / raw.sum(axis=-1, keepdims=True)
    return weights


def log_likelihoods(values: _Array, contributions: _Array, present: _Flags) -> _Array:
    """(H,) logarithm of how well the readings agree under each hypothesis.

    Parameters
    ----------
    values
        (H, R) array, millimetres.
    contributions, present
        As for `best_weights`; no reading may follow from the others.
    """
    told = present & (np.linalg.norm(contributions, axis=-1) < _LOST_SD_MM)
    covariance = _covariance(contributions, told)
    ones = told.astype(float)
    y = np.where(told, values, 0.0)
    # One right side at a time: with two, threads of the linear algebra wait for each other.
    of_ones = np.linalg.solve(covariance, ones[..., None])[..., 0]
    of_y = np.linalg.solve(covariance, y[..., None])[..., 0]
    precision = np.maximum((ones * of_ones).sum(axis=-1), 1e-300)
    mean = (ones * of_y).sum(axis=-1) / precision
    chi_square = (y * of_y).sum(axis=-1) - precision * mean**2
    log_det = np.linalg.slogdet(covariance)[1]
    free = np.maximum(told.sum(axis=-1) - 1, 0)
    found: _Array = -0.5 * (
        np.maximum(chi_square, 0.0) + log_det + np.log(precision) + free * np.log(2 * np.pi)
    )
    # One reading alone agrees with itself, however unsure it is.
    return np.where(free > 0, found, 0.0)


def normalised(log_weights: _Array) -> _Array:
    """Weights that add up to 1."""
    raw = np.exp(log_weights - log_weights.max())
    weights: _Array = raw / raw.sum()
    return weights


def _solved(contributions: _Array, told: _Flags) -> _Array:
    """(H, R) C^-1 1 over the told readings, 0 elsewhere."""
    solved: _Array = np.linalg.solve(
        _covariance(contributions, told), told.astype(float)[..., None]
    )[..., 0]
    return solved


def _covariance(contributions: _Array, told: _Flags) -> _Array:
    """(H, R, R) covariance of the told readings; the others stand alone with variance 1."""
    kept = np.where(told[..., None], contributions, 0.0)
    own = np.where(told, LEAST_OWN_SD_MM**2, 1.0)
    covariance: _Array = kept @ np.swapaxes(kept, -1, -2) + own[..., None] * np.eye(told.shape[-1])
    return covariance


@dataclass(frozen=True, eq=False, slots=True)
class NormalMixture:
    """A mixture of normal distributions: (H,) weights that add up to 1, means and deviations."""

    weights: _Array
    means: _Array
    sds: _Array

    @property
    def mean(self) -> float:
        """Mean of the mixture."""
        return float(self.weights @ self.means)

    @property
    def within(self) -> float:
        """Root of the mean variance of the parts."""
        return float(np.sqrt(self.weights @ self.sds**2))

    @property
    def between(self) -> float:
        """Standard deviation of the parts' means."""
        return float(np.sqrt(self.weights @ (self.means - self.mean) ** 2))

    @property
    def sd(self) -> float:
        """Standard deviation of the mixture."""
        return float(np.hypot(self.within, self.between))

    def quantile(self, share: float) -> float:
        """Where this share of the mixture lies below, by bisection."""
        low = float((self.means - 8 * self.sds).min())
        high = float((self.means + 8 * self.sds).max())
        for _ in range(60):
            middle = (low + high) / 2
            if float(self.weights @ ndtr((middle - self.means) / self.sds)) < share:
                low = middle
            else:
                high = middle
        return (low + high) / 2

    def honest_sd(self, *, factor: float, tail: float) -> float:
        """Deviation of a normal about the mean whose tails are no thinner than the mixture's.

        Parameters
        ----------
        factor
            Deviations from the mean of a normal to the quantile of one ``tail``.
        """
        reach = max(self.quantile(1 - tail) - self.mean, self.mean - self.quantile(tail))
        return max(self.sd, reach / factor)
