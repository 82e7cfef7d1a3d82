"""Chance that a child meets two limits at once: the clearance wanted, and the ground within reach."""

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, owens_t

__all__ = ["chance_of_both"]

Array = NDArray[np.float64]

#: Standard deviations beyond which a limit is met, or missed, whatever the other one: 1 in 10^9.
_SURE: Final = 6.0


def chance_of_both(first: Array, second: Array, correlation: Array) -> Array:
    """Probability that two standard normal errors with this correlation stay below two limits.

    By Owen's T function (Owen 1956, Annals of Mathematical Statistics 27, 1075, Eq. 3.1):

        P = (Phi(h) + Phi(k)) / 2 - T(h, a) - T(k, b) - d                       (1)

    with a = (k - r h) / (h s), b = (h - r k) / (k s), s = sqrt(1 - r^2), and d = 1/2 where h and k
    have unlike signs, else 0.

    Parameters
    ----------
    first, second
        Limits h and k, arrays that broadcast; an infinite one is no limit.
    correlation
        r, from 0 to below 1.
    """
    first, second, correlation = np.broadcast_arrays(first, second, correlation)
    # Most bicycles are far off by one of the two: the lesser chance is both.
    both = np.asarray(ndtr(np.minimum(first, second)))
    close = np.maximum(np.abs(first), np.abs(second)) < _SURE
    both[close] = _close(first[close], second[close], correlation[close])
    return both


def _close(h: Array, k: Array, correlation: Array) -> Array:
    """Eq. (1)."""
    h, k = (np.where(limit == 0, 1e-300, limit) for limit in (h, k))
    spread = np.sqrt(1 - correlation**2)
    with np.errstate(over="ignore"):
        slope_h, slope_k = (k / h - correlation) / spread, (h / k - correlation) / spread
    unlike = np.where((h > 0) != (k > 0), 0.5, 0.0)
    both = (ndtr(h) + ndtr(k)) / 2 - owens_t(h, slope_h) - owens_t(k, slope_k) - unlike
    return np.asarray(np.clip(both, 0, 1))
