"""What errors and stated uncertainties amount to, with the doubt that few photos leave."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from pose_fit.pairs.agreement import binomial95

__all__ = ["LEVELS", "Coverage", "Metrics", "bootstrap_mae_mm", "metrics_of"]

#: Nominal coverages that are reported.
LEVELS: Final = (0.50, 0.80, 0.95)
_BOOTSTRAPS: Final = 2000


@dataclass(frozen=True, slots=True)
class Coverage:
    """How many of ``count`` intervals of nominal coverage ``level`` held the truth."""

    level: float
    held: int
    count: int

    @property
    def share(self) -> float:
        """Real coverage, 0 to 1."""
        return self.held / self.count

    @property
    def interval95(self) -> tuple[float, float]:
        """Clopper and Pearson's exact 95 % interval of the share (Biometrika 1934, 26:404)."""
        return binomial95(self.held, self.count)


@dataclass(frozen=True, slots=True)
class Metrics:
    """Errors of n readings, millimetres.

    Attributes
    ----------
    bias_mm, sd_mm, mae_mm, p95_mm
        Mean, standard deviation (n - 1), mean absolute error, and 95th percentile of the
        absolute error by linear interpolation.
    coverages
        One for each of ``LEVELS``; empty where the method states no uncertainty.
    half_width_mm
        Median half width of the 95 % interval; None where no uncertainty is stated.
    """

    count: int
    bias_mm: float
    sd_mm: float
    mae_mm: float
    p95_mm: float
    coverages: tuple[Coverage, ...]
    half_width_mm: float | None

    def coverage(self, level: float) -> Coverage | None:
        """The coverage at one of ``LEVELS``."""
        return next((item for item in self.coverages if item.level == level), None)


def metrics_of(
    errors_mm: Sequence[float] | NDArray[np.float64],
    sds_mm: Sequence[float] | NDArray[np.float64] | None = None,
) -> Metrics:
    """Metrics of errors, and of the standard uncertainties stated with them.

    Intervals are those of a normal distribution, as the program states them.

    Raises
    ------
    ValueError
        No errors, or not as many uncertainties.
    """
    errors = np.asarray(errors_mm, float)
    if errors.size == 0:
        raise ValueError("metrics: wanted at least one error, found none")
    size = np.abs(errors)
    coverages: tuple[Coverage, ...] = ()
    half_width_mm = None
    if sds_mm is not None:
        sds = np.asarray(sds_mm, float)
        if sds.shape != errors.shape:
            raise ValueError(f"metrics: wanted {errors.shape} uncertainties, found {sds.shape}")
        coverages = tuple(
            Coverage(level, int((size <= ndtri((1 + level) / 2) * sds).sum()), errors.size)
            for level in LEVELS
        )
        half_width_mm = float(ndtri(0.975) * np.median(sds))
    return Metrics(
        count=errors.size,
        bias_mm=float(errors.mean()),
        sd_mm=float(errors.std(ddof=1)) if errors.size > 1 else float("nan"),
        mae_mm=float(size.mean()),
        p95_mm=float(np.quantile(size, 0.95)),
        coverages=coverages,
        half_width_mm=half_width_mm,
    )


def bootstrap_mae_mm(errors_mm: Sequence[float]) -> tuple[float, float]:
    """95 % interval of the mean absolute error by the percentile bootstrap (Efron 1979)."""
    size = np.abs(np.asarray(errors_mm, float))
    draws = np.random.default_rng(1).integers(size.size, size=(_BOOTSTRAPS, size.size))
    low, high = np.quantile(size[draws].mean(axis=1), [0.025, 0.975])
    return float(low), float(high)
