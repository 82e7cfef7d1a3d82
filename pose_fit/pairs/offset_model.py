"""The hierarchical model of photo against tape, integrated numerically on one grid.

For pair i of shop s, with the tape held by j, photo minus tape is

    d_i = o_s + h_j + e_i + r_i,    o_s = g + l_s                                    Eq. (1)

o_s   offset of the photos in this shop: g of real children against rendered ones, the same
      everywhere (Student's t, so that a shop beyond the prior is not held back by it), and l_s
      of the shop: its wall, light and customers (normal). Together they have the standard
      deviation of the budget line "from pictures to people".
h_j   habit of whoever holds the tape, normal. It is the tape's error, not the photo's: however
      many pairs one person makes, the offset stays unknown by about as much.
e_i   own error of the photo: normal with k times the standard uncertainty that its budget states
      without that line. The scale k is the shop's, log-normal with mean square 1.
r_i   own error of the tape reading, normal; with a small chance the tape slipped or was misread,
      and the difference has long tails instead (Student's t of 2 degrees). So one slipped tape
      moves next to nothing, however far it is off.

The dependences form a tree, so the posterior needs only one-dimensional integrals: the product of
the pairs of one tape holder on a grid of o + h, smoothed by the habit to a function of o; the
product of these in one shop, smoothed by l to a function of g for the other shops. Nothing is
sampled, nothing iterated. Gelman et al., Bayesian Data Analysis, 3rd ed., chapters 5 and 17.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from pose_fit.pairs.rendered_prior import RENDERED_SD_MM

__all__ = [
    "HABIT_SD_MM",
    "SLIP_CHANCE",
    "SLIP_SCALE_MM",
    "Differences",
    "Posterior",
    "log_likelihood",
    "posterior",
    "slip_chances",
]

_FloatArray = NDArray[np.float64]

#: Half the variance of a careful tape's technique is given to the habit of who holds it (no
#: source).
HABIT_SD_MM: Final = 3.5
#: One tape in thirty slips, is read at the wrong end or written down wrong, by some 40 mm (common
#: practice, no source).
SLIP_CHANCE: Final = 1 / 30
SLIP_SCALE_MM: Final = 40.0
#: Share of the offset's variance that is the shop's own (no source).
_SHOP_SHARE: Final = 0.25
#: Degrees of freedom of Student's t: heavy tails, and a variance of its own.
_PRIOR_DEGREES: Final = 5.0
#: Standard deviation of the logarithm of the scale: stated uncertainties are right within a
#: quarter (no source).
_LOG_SCALE_SD: Final = 0.25

_GRID_MM: Final = np.arange(-100.0, 100.25, 0.5)
_LOG_SCALES: Final = np.linspace(-2.4, 2.4, 9) * _LOG_SCALE_SD - _LOG_SCALE_SD**2
SCALES: Final = np.exp(_LOG_SCALES)


@dataclass(frozen=True, slots=True, eq=False)
class Differences:
    """Photo minus tape of some pairs; all (N,) arrays, millimetres.

    Attributes
    ----------
    value_mm
        The differences.
    photo_sd_mm
        Standard uncertainty of each photo without the line that all photos share.
    tape_sd_mm
        Own standard uncertainty of each tape, without the habit of who holds it.
    """

    value_mm: _FloatArray
    photo_sd_mm: _FloatArray
    tape_sd_mm: _FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """What is known of one shop's offset; arrays of any one shape.

    Attributes
    ----------
    offset_mm, offset_sd_mm
        Mean and standard deviation of how much photos read too long.
    scale
        Root mean square of k: stated uncertainties are multiplied by it.
    """

    offset_mm: _FloatArray
    offset_sd_mm: _FloatArray
    scale: _FloatArray


def log_likelihood(pairs: Differences) -> _FloatArray:
    """(N, X, K) array: each pair's log-likelihood over offset plus habit, and scale."""
    return np.logaddexp(*_parts(pairs))


def _parts(pairs: Differences) -> tuple[_FloatArray, _FloatArray]:
    """The same for a tape that did not slip, and for one that did."""
    apart_mm = (pairs.value_mm[:, None] - _GRID_MM)[:, :, None]
    variance = (
        pairs.photo_sd_mm[:, None, None] ** 2 * SCALES**2 + pairs.tape_sd_mm[:, None, None] ** 2
    )
    return (
        np.log1p(-SLIP_CHANCE) + _log_normal(apart_mm, variance),
        np.log(SLIP_CHANCE) + _log_student(apart_mm, variance + SLIP_SCALE_MM**2),
    )


def posterior(
    takers: Sequence[_FloatArray],
    *,
    other_shops: Sequence[Sequence[_FloatArray]] = (),
    prior_sd_mm: float = RENDERED_SD_MM,
) -> Posterior:
    """The offset of a shop from its pairs, and from those of other shops.

    Parameters
    ----------
    takers
        For each who held the tape, the sum of the log-likelihoods of their pairs, (..., X, K).
    other_shops
        Likewise of each other shop.
    prior_sd_mm
        Standard deviation of the offset before any pair: the photos' own budget line.
    """
    shop_kernel = _shop_kernel(prior_sd_mm)
    general = np.log(_general_prior(prior_sd_mm))[:, None] + np.log(_scale_prior())
    for others in other_shops:
        general = general + _smoothed(_of_shop(others), shop_kernel)
    log = _smoothed(general, shop_kernel) + _of_shop(takers)
    weights = np.exp(log - log.max(axis=(-2, -1), keepdims=True))
    weights /= weights.sum(axis=(-2, -1), keepdims=True)
    by_offset = weights.sum(axis=-1)
    mean_mm = by_offset @ _GRID_MM
    square = by_offset @ _GRID_MM**2
    scale = np.sqrt(weights.sum(axis=-2) @ SCALES**2)
    return Posterior(mean_mm, np.sqrt(np.maximum(square - mean_mm**2, 0.0)), scale)


def slip_chances(pairs: Differences, *, prior_sd_mm: float = RENDERED_SD_MM) -> _FloatArray:
    """(N,) chance of each pair, all of one holder, that its tape slipped, given all of them."""
    sound, slipped = _parts(pairs)
    each = np.logaddexp(sound, slipped)
    prior = _shop_kernel(prior_sd_mm) @ _general_prior(prior_sd_mm)
    log = each.sum(axis=0) + np.log(_habit_kernel() @ prior)[:, None] + np.log(_scale_prior())
    weights = np.exp(log - log.max())
    weights /= weights.sum()
    return np.asarray((weights * np.exp(slipped - each)).sum(axis=(1, 2)))


def _of_shop(takers: Sequence[_FloatArray]) -> _FloatArray:
    """Log-likelihood of a shop's offset from all who hold a tape there."""
    total = np.zeros((len(_GRID_MM), len(SCALES)))
    for taker in takers:
        total = total + _smoothed(taker, _habit_kernel())
    return total


def _smoothed(log: _FloatArray, kernel: _FloatArray) -> _FloatArray:
    """Logarithm of a function of the grid after its smoothing by a kernel, without underflow."""
    peak = log.max(axis=-2, keepdims=True)
    return np.asarray(np.log(kernel @ np.exp(log - peak) + 1e-300) + peak)


@cache
def _habit_kernel() -> _FloatArray:
    return _kernel(HABIT_SD_MM)


# The standard deviation comes from the photos' budgets, so that a server meets ever new ones.
@lru_cache(maxsize=8)
def _shop_kernel(prior_sd_mm: float) -> _FloatArray:
    return _kernel(prior_sd_mm * _SHOP_SHARE**0.5)


def _kernel(sd_mm: float) -> _FloatArray:
    """(X, X) matrix that smooths by a normal; rows add up to 1, so that a level stays one."""
    weights = np.exp(-(((_GRID_MM[:, None] - _GRID_MM) / sd_mm) ** 2) / 2)
    return np.asarray(weights / weights.sum(axis=1, keepdims=True))


@lru_cache(maxsize=8)
def _general_prior(prior_sd_mm: float) -> _FloatArray:
    """(X,) Student's t scaled to its share of the line's variance."""
    degrees = _PRIOR_DEGREES
    variance = prior_sd_mm**2 * (1 - _SHOP_SHARE)
    unit = variance * (degrees - 2) / degrees
    density = (1 + _GRID_MM**2 / unit / degrees) ** (-(degrees + 1) / 2)
    return np.asarray(density / density.sum())


@cache
def _scale_prior() -> _FloatArray:
    density = np.exp(-(((_LOG_SCALES + _LOG_SCALE_SD**2) / _LOG_SCALE_SD) ** 2) / 2)
    return np.asarray(density / density.sum())


def _log_normal(apart: _FloatArray, variance: _FloatArray) -> _FloatArray:
    return np.asarray(-(apart**2 / variance + np.log(2 * np.pi * variance)) / 2)


def _log_student(apart: _FloatArray, variance: _FloatArray) -> _FloatArray:
    """Student's t of 2 degrees with the scale sqrt(variance)."""
    return np.asarray(-1.5 * np.log1p(apart**2 / variance / 2) - np.log(8 * variance) / 2)
