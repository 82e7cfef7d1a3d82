"""The shipped numbers on human proportions, read once from ``people.json``.

The file is written by ``python -m calibration.people`` from measured people; each number
carries its source there. Nothing else in the package reads it.
"""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from pose_fit.anthropometry.known_ranges import Sex

__all__ = ["AgeTable", "People", "Relation", "StatureCurve", "Tracking", "people"]

#: One length in millimetres, or an array of them.
Length = TypeVar("Length", float, NDArray[np.float64])


@dataclass(frozen=True, slots=True)
class Relation:
    """One body length from another: a straight line with its scatter.

    Fitted to measured children by ``python -m calibration.people``; ``people.json`` names the sources.
    ``person_sd`` is the scatter between persons, linear in x, and an upper bound,
    because it includes the measurers' own errors. ``systematic_sd`` is what is not
    known about the line itself, the root of the sum of squares of a constant and a
    part proportional to x. Millimetres throughout.
    """

    intercept_mm: float
    slope: float
    person_sd_mm: float
    person_sd_slope: float
    systematic_sd_mm: float
    systematic_sd_slope: float

    def mean_mm(self, x_mm: Length) -> Length:
        """The line at x."""
        return self.intercept_mm + self.slope * x_mm

    def person_sd_at_mm(self, x_mm: float) -> float:
        """Scatter between persons of this x: the same in all photos of one child."""
        return self.person_sd_mm + self.person_sd_slope * x_mm

    def systematic_sd_at_mm(self, x_mm: float) -> float:
        """Standard uncertainty of the line at x: the same error in all children."""
        return math.hypot(self.systematic_sd_mm, self.systematic_sd_slope * x_mm)


@dataclass(frozen=True, slots=True)
class StatureCurve:
    """Inseam by stature of one sex: a cubic in u = (stature - 1300 mm) / 300 mm."""

    coefficients_mm: tuple[float, float, float, float]
    person_sd_mm: float
    person_sd_per_unit_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class AgeTable:
    """Stature (Cole's L, M, S) and inseam of one sex by age.

    ``age_y``, ``inseam_mm``, ``stature_l``, ``stature_m_mm`` and ``stature_s`` are
    ``(N,)`` arrays. At one age inseam and stature z-score are taken as jointly normal
    with the given relative spread of the inseam and correlation.
    """

    age_y: NDArray[np.float64]
    inseam_mm: NDArray[np.float64]
    inseam_relative_sd: float
    inseam_stature_correlation: float
    stature_l: NDArray[np.float64]
    stature_m_mm: NDArray[np.float64]
    stature_s: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Tracking:
    """How far children drift from their place among others of their age.

    ``age_y`` and ``drift_z`` are ``(N,)`` arrays: root mean square change of the stature
    z-score over the year around each age. Over t years the drift is the mean yearly one
    times t to the ``exponent``; legs drift ``leg_factor`` times as far.
    """

    age_y: NDArray[np.float64]
    drift_z: Mapping[Sex, NDArray[np.float64]]
    exponent: float
    leg_factor: float
    population_rate_sd_mm_per_y: float


@dataclass(frozen=True, slots=True, eq=False)
class People:
    """All shipped numbers, with the version and date of the file.

    Hip joint centres were not measured but derived twice: level with trochanterion, and by the
    equation of Hara et al. 2016 (Sci Rep 6:37707) from a spine height between iliac crest and
    trochanterion. By the first the crotch is .944 of the hip's height, by the second .91-.92;
    ``inseam_from_hip_height`` lies between, and the gap is part of its systematic uncertainty.
    Radiographs of adults put the trochanter's tip 8 mm above the joint centre on average, 0-15 mm
    in 97 % (two studies, abstracts); a palpated trochanterion lies below the tip. A pose model's
    hip landmark is yet another point: its own offset is the bench's to find. Scored on the
    children it was not fitted to, the line's bias is -0.3 mm and its SD 15.3 mm, 95.6 % within the
    stated scatter.
    """

    version: str
    date: str
    ankle_height_from_hip_to_ankle: Relation
    inseam_from_hip_height: Relation
    foot_length_from_inseam: Relation
    stature_from_inseam: Relation
    inseam_by_stature: Mapping[Sex, StatureCurve]
    inseam_by_stature_systematic: tuple[float, float]
    by_age: Mapping[Sex, AgeTable]
    by_age_systematic: tuple[float, float]
    tracking: Tracking


@cache
def people() -> People:
    """The shipped numbers; read at the first call."""
    text = resources.files("pose_fit.anthropometry").joinpath("people.json").read_text("utf-8")
    raw = json.loads(text)
    curves, ages = raw["inseam_by_stature"], raw["by_age"]
    return People(
        version=raw["version"],
        date=raw["date"],
        inseam_by_stature={"f": _curve(curves["f"]), "m": _curve(curves["m"])},
        inseam_by_stature_systematic=_systematic(curves),
        by_age={"f": _table(ages["f"]), "m": _table(ages["m"])},
        by_age_systematic=_systematic(ages),
        tracking=_tracking(raw["tracking"]),
        **{name: _relation(fields) for name, fields in raw["relations"].items()},
    )


def _relation(raw: Mapping[str, Any]) -> Relation:
    return Relation(**{name: raw[name] for name in Relation.__dataclass_fields__})


def _curve(raw: Mapping[str, Any]) -> StatureCurve:
    c0, c1, c2, c3 = raw["coefficients_mm"]
    return StatureCurve((c0, c1, c2, c3), raw["person_sd_mm"], raw["person_sd_per_unit_mm"])


def _table(raw: Mapping[str, Any]) -> AgeTable:
    arrays = ("age_y", "inseam_mm", "stature_l", "stature_m_mm", "stature_s")
    return AgeTable(
        inseam_relative_sd=raw["inseam_relative_sd"],
        inseam_stature_correlation=raw["inseam_stature_correlation"],
        **{name: _read_only(raw[name]) for name in arrays},
    )


def _tracking(raw: Mapping[str, Any]) -> Tracking:
    if raw["f"]["age_y"] != raw["m"]["age_y"]:
        raise ValueError("the drift of girls and boys must be given at the same ages")
    return Tracking(
        age_y=_read_only(raw["f"]["age_y"]),
        drift_z={"f": _read_only(raw["f"]["drift_z"]), "m": _read_only(raw["m"]["drift_z"])},
        exponent=raw["exponent"],
        leg_factor=raw["leg_factor"],
        population_rate_sd_mm_per_y=raw["population_rate_sd_mm_per_y"],
    )


def _read_only(values: list[float]) -> NDArray[np.float64]:
    array = np.array(values, dtype=np.float64)
    array.flags.writeable = False
    return array


def _systematic(raw: Mapping[str, Any]) -> tuple[float, float]:
    """Constant part in millimetres and part relative to the inseam."""
    return raw["systematic_sd_mm"], raw["systematic_relative_sd"]
