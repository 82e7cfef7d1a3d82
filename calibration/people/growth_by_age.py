"""Stature and inseam by age, and how children drift from their place among others."""

from typing import Any

import numpy as np
import pandas as pd
from numpy.polynomial import chebyshev
from numpy.typing import NDArray

from calibration.people.measured import DATA, children, is_scored

FloatArray = NDArray[np.float64]


def stature_lms(sex: str) -> pd.DataFrame:
    table = pd.read_csv(DATA / "cdc2000_stature_lms.csv")
    return table[table.sex == sex.upper()].reset_index(drop=True)


def by_age(people: pd.DataFrame, sex: str) -> dict[str, Any]:
    """Stature and inseam by age: CDC stature times the children's leg share of it.

    inseam / median stature = share(age) (1 + tracking z), z the child's stature z-score.
    """
    table = stature_lms(sex)
    known = people[people.sex == sex].dropna(subset=["inseam"])
    scored = is_scored(known)
    fit = known[~scored]
    z = stature_z(table, fit.age_y.to_numpy(), fit.stature.to_numpy())
    median = np.interp(fit.age_y, table.age_y, table.M) * 10
    share, per_z = fit_share(fit.age_y.to_numpy(), z, (fit.inseam / median).to_numpy())
    ages = np.arange(2.0, 18.01, 0.25)
    mean = np.interp(ages, table.age_y, table.M) * 10 * leg_share(ages, share)
    mean = np.maximum.accumulate(mean)  # a leg does not shrink
    out = known[scored]
    relative = out.inseam.div(np.interp(out.age_y, ages, mean)).sub(1)
    spread = fit.inseam.div(np.interp(fit.age_y, ages, mean)).sub(1)
    z_fit = spread / spread.std()
    return {
        "age_y": [round(float(a), 2) for a in ages],
        "inseam_mm": [round(float(m), 1) for m in mean],
        "inseam_relative_sd": round(float(spread.std()), 4),
        "inseam_stature_correlation": round(float(np.corrcoef(z_fit, z)[0, 1]), 4),
        "stature_l": [round(float(v), 5) for v in np.interp(ages, table.age_y, table.L)],
        "stature_m_mm": [round(float(v) * 10, 2) for v in np.interp(ages, table.age_y, table.M)],
        "stature_s": [round(float(v), 6) for v in np.interp(ages, table.age_y, table.S)],
        "leg_gain_per_stature_sd": round(per_z, 4),
        "persons_fitted": len(fit),
        "persons_scored": len(out),
        "scored_bias_relative": round(float(relative.mean()), 4),
        "scored_sd_relative": round(float(relative.std()), 4),
    }


def stature_z(table: pd.DataFrame, age_y: FloatArray, stature_mm: FloatArray) -> FloatArray:
    """Cole's LMS z-score."""
    lam, mid, var = (np.interp(age_y, table.age_y, table[name]) for name in "LMS")
    return ((stature_mm / 10 / mid) ** lam - 1) / (lam * var)


def leg_share(age_y: FloatArray, share: FloatArray) -> FloatArray:
    return np.asarray(chebyshev.chebval((age_y - 10) / 8, share))


def fit_share(age_y: FloatArray, z: FloatArray, ratio: FloatArray) -> tuple[FloatArray, float]:
    """Alternate least squares for the share by age and its rise with the stature z-score."""
    basis = chebyshev.chebvander((age_y - 10) / 8, 5)
    per_z = 0.0
    for _ in range(20):
        share = np.linalg.lstsq(basis * (1 + per_z * z)[:, None], ratio, rcond=None)[0]
        level = basis @ share
        per_z = float(np.sum((ratio - level) * level * z) / np.sum((level * z) ** 2))
    return share, per_z


def followed() -> pd.DataFrame:
    """Stature of children measured every birthday; ``fitted`` marks the odd-numbered half."""
    table = pd.read_csv(DATA / "berkeley_stature.csv")
    table["fitted"] = table.person.str[1:].astype(int) % 2 == 1
    return table


def drift(sex: str) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Root mean square change of a child's place over k years, odd-numbered children.

    The place is the share of the CDC's median stature, less one, over its S: what the forecast adds
    to a child's share of the curve's mean, times the curve's relative spread. A z-score with the
    table's L would be carried forward on another scale than it was fitted on; it differs by 6 % at
    most, and by 1 % in the median year.

    Returns
    -------
    (A,) array
        Ages at the start, years.
    (3, A) array
        Change over 1, 2 and 3 years; nan where the years run out.
    (A,) array
        Change over one year in the middle of each year, smoothed over neighbours.
    """
    table = followed()
    half = table[(table.sex == sex) & table.fitted]
    wide = half.pivot(index="person", columns="age_y", values="stature_cm")
    ages = wide.columns.to_numpy(dtype=float)
    growth = stature_lms(sex)
    median = np.interp(ages, growth.age_y, growth.M)
    spread = np.interp(ages, growth.age_y, growth.S)
    z = (wide.to_numpy() / median - 1) / spread
    change = np.full((3, len(ages)), np.nan)
    for years in (1, 2, 3):
        step = z[:, years:] - z[:, :-years]
        change[years - 1, : step.shape[1]] = np.sqrt((step**2).mean(axis=0))
    square = change[0, :-1] ** 2
    padded = np.concatenate([square[:1], square, square[-1:]])
    smooth = np.sqrt((padded[:-2] + 2 * padded[1:-1] + padded[2:]) / 4)
    return ages, change, smooth


def tracking() -> dict[str, Any]:
    """How far children drift from their place among others as years pass."""
    logs, times = [], []
    tables: dict[str, Any] = {}
    for sex in "fm":
        ages, change, smooth = drift(sex)
        for years in (2, 3):
            for start in range(len(ages) - years):
                logs.append(np.log(change[years - 1, start] / smooth[start : start + years].mean()))
                times.append(np.log(years))
        tables[sex] = {
            "age_y": [float(a) for a in ages[:-1] + 0.5],
            "drift_z": [round(float(v), 4) for v in smooth],
        }
    exponent = float(np.dot(logs, times) / np.dot(times, times))
    return {
        "source": "change of the share of the CDC 2000 median stature over its S of 47 odd-numbered children of the"
        " Berkeley Growth Study, 2-16 y (Tuddenham and Snyder 1954); drift over t years is the"
        " mean yearly drift times t to the exponent",
        "exponent": round(exponent, 3),
        "leg_factor": leg_factor(),
        "leg_factor_source": "relative spread of the largest yearly leg increment over that of"
        " stature, both sexes, Berkeley Child Guidance Study (Tuddenham and Snyder 1954)",
        "population_rate_sd_mm_per_y": population_rate_sd(),
        "population_rate_source": "root mean square difference of the yearly leg growth here from"
        " the medians of the UK 1990, 2.5-13 y; those of the Netherlands 1997 are kept for the check",
        **tables,
    }


def leg_factor() -> float:
    """Spread of leg growth against that of stature, each relative to its spread at the age."""
    peaks = pd.read_csv(DATA / "leg_velocity_peak_summary.csv")
    ratios = []
    for sex in "FM":
        table = by_age(children(), sex.lower())
        leg, stature = (
            peaks[(peaks.measure == measure) & (peaks.sex == sex)].iloc[0]
            for measure in ("leg_length", "height")
        )
        ages = np.array(table["age_y"])
        leg_sd_cm = (
            table["inseam_relative_sd"]
            / 10
            * np.interp(leg.age_at_peak_mean, ages, table["inseam_mm"])
        )
        stature_sd_cm = np.interp(
            stature.age_at_peak_mean,
            ages,
            np.array(table["stature_m_mm"]) * np.array(table["stature_s"]) / 10,
        )
        ratios.append(
            leg.max_1yr_increment_cm_std
            / leg_sd_cm
            / (stature.max_1yr_increment_cm_std / stature_sd_cm)
        )
    return round(float(np.sqrt(np.mean(np.square(ratios)))), 3)


def population_rate_sd() -> float:
    """Yearly leg growth of the table against the medians of the UK 1990, mm per year."""
    published = pd.read_csv(DATA / "leg_velocity_by_age.csv")
    published = published[(published.source == "UK1990") & published.age_y.between(2.5, 13)]
    left = []
    for sex in "FM":
        table = by_age(children(), sex.lower())
        rows = published[published.sex == sex]
        ages, inseam = np.array(table["age_y"]), np.array(table["inseam_mm"])
        here = np.interp(rows.age_y + 0.5, ages, inseam) - np.interp(rows.age_y - 0.5, ages, inseam)
        left.append(here - 10 * rows.velocity_cm_per_y.to_numpy())
    return round(float(np.sqrt(np.mean(np.concatenate(left) ** 2))), 2)
