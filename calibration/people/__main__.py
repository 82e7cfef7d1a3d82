"""Derive the shipped numbers on human proportions from measured people.

Reads ``calibration/data`` and writes ``pose_fit/anthropometry/people.json``; the same input
gives the same bytes. Relations are fitted on two thirds of the persons and scored on the rest.

    python -m calibration.people            write the file
    python -m calibration.people --check    fail if the file is not what the data give
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

import numpy as np
import pandas as pd
import typer
from numpy.polynomial import polynomial

from calibration.people.growth_by_age import by_age, tracking
from calibration.people.measured import CHILDREN, children, is_scored
from pose_fit.metrology.uncertain import COVERAGE_FACTOR_95

SHIPPED = Path(__file__).parents[2] / "pose_fit" / "anthropometry" / "people.json"
VERSION = "1.0"
DATE = "2026-11-25"


@dataclass(frozen=True)
class Fit:
    """A straight line with its scatter, fitted on some persons and scored on others."""

    intercept: float
    slope: float
    sd_intercept: float
    sd_slope: float
    fitted: int
    scored: int
    bias: float
    sd: float
    coverage95: float
    group_bias: float
    x_low: float
    x_high: float


def straight_line(people: pd.DataFrame, *, y: str, x: str) -> Fit:
    """Least squares of ``y`` on ``x`` with a scatter linear in ``x``."""
    known = people.dropna(subset=[y, x])
    scored = is_scored(known)
    fit, score = known[~scored], known[scored]
    slope, intercept = np.polyfit(fit[x], fit[y], 1)
    residual = (fit[y] - intercept - slope * fit[x]).abs() * np.sqrt(np.pi / 2)
    sd_slope, sd_intercept = np.polyfit(fit[x], residual, 1)
    left = score[y] - intercept - slope * score[x]
    scatter = sd_intercept + sd_slope * score[x]
    years = pd.cut(known.age_y, [2, 4, 6, 8, 10, 12, 14, 18], right=False)
    every = known[y] - intercept - slope * known[x]
    groups = every.groupby([known.sex, years], observed=True).mean()
    return Fit(
        intercept=float(intercept),
        slope=float(slope),
        sd_intercept=float(sd_intercept),
        sd_slope=float(sd_slope),
        fitted=len(fit),
        scored=len(score),
        bias=float(left.mean()),
        sd=float(left.std()),
        coverage95=float((left.abs() < COVERAGE_FACTOR_95 * scatter).mean()),
        group_bias=float(np.sqrt((groups**2).mean())),
        x_low=float(known[x].min()),
        x_high=float(known[x].max()),
    )


def relation(
    people: pd.DataFrame,
    *,
    y: str,
    x: str,
    systematic_sd_mm: float,
    systematic_sd_slope: float,
    source: str,
    systematic_source: str,
) -> dict[str, Any]:
    fit = straight_line(people, y=y, x=x)
    return {
        "intercept_mm": round(fit.intercept, 3),
        "slope": round(fit.slope, 5),
        "person_sd_mm": round(fit.sd_intercept, 3),
        "person_sd_slope": round(fit.sd_slope, 5),
        "systematic_sd_mm": systematic_sd_mm,
        "systematic_sd_slope": systematic_sd_slope,
        "x_low_mm": round(fit.x_low, 1),
        "x_high_mm": round(fit.x_high, 1),
        "persons_fitted": fit.fitted,
        "persons_scored": fit.scored,
        "age_and_sex_bias_rms_mm": round(fit.group_bias, 2),
        "scored_bias_mm": round(fit.bias, 2),
        "scored_sd_mm": round(fit.sd, 2),
        "scored_coverage95": round(fit.coverage95, 4),
        "source": source,
        "systematic_source": systematic_source,
    }


def relations(people: pd.DataFrame) -> dict[str, Any]:
    return {
        "ankle_height_from_hip_to_ankle": relation(
            people,
            y="sphyrion_height",
            x="hip_to_ankle",
            systematic_sd_mm=5.0,
            systematic_sd_slope=0.0,
            source=f"{CHILDREN}: sphyrion height on hip joint height minus sphyrion height",
            systematic_source="judgement: level of the ankle joint centre against the tip of the"
            " medial malleolus; measured adults' lateral malleolus lies within it",
        ),
        "inseam_from_hip_height": relation(
            people,
            y="inseam",
            x="hip",
            systematic_sd_mm=7.2,
            systematic_sd_slope=0.0095,
            source=f"{CHILDREN}: stature - sitting height + k stature on hip joint height, the"
            " mean of trochanterion height and Hara's equation",
            systematic_source="derived, not measured, crotch height +-12.5 mm (rectangular) and"
            " .91-.944 of the hip joint height by the two derivations of the hip joint centre"
            " (+-1.65 %, rectangular); not sampled: children after the 1970s, other countries",
        ),
        "foot_length_from_inseam": relation(
            people[people.age_y < 15],
            y="foot_length",
            x="inseam",
            systematic_sd_mm=2.0,
            systematic_sd_slope=0.0,
            source=f"{CHILDREN}: foot length on derived crotch height, 2-14 y",
            systematic_source="derived crotch height",
        ),
        "stature_from_inseam": relation(
            people[people.age_y < 15],
            y="stature",
            x="inseam",
            systematic_sd_mm=15.0,
            systematic_sd_slope=0.0,
            source=f"{CHILDREN}: stature on derived crotch height, 2-14 y",
            systematic_source="derived crotch height +-12.5 mm; other countries",
        ),
    }


def inseam_by_stature(people: pd.DataFrame, sex: str) -> dict[str, Any]:
    """Cubic in stature, centred and scaled so that the coefficients read in millimetres."""
    young = people[(people.sex == sex) & (people.age_y < 15)].dropna(subset=["inseam"])
    scored = is_scored(young)
    fit, score = young[~scored], young[scored]
    u = (fit.stature - 1300) / 300
    coefficients = polynomial.polyfit(u, fit.inseam, 3)
    left = fit.inseam - polynomial.polyval(u, coefficients)
    sd_slope, sd_intercept = np.polyfit(u, left.abs() * np.sqrt(np.pi / 2), 1)
    v = (score.stature - 1300) / 300
    out = score.inseam - polynomial.polyval(v, coefficients)
    return {
        "coefficients_mm": [round(float(c), 3) for c in coefficients],
        "person_sd_mm": round(float(sd_intercept), 3),
        "person_sd_per_unit_mm": round(float(sd_slope), 3),
        "persons_fitted": len(fit),
        "persons_scored": len(score),
        "scored_bias_mm": round(float(out.mean()), 2),
        "scored_sd_mm": round(float(out.std()), 2),
        "scored_coverage95": round(
            float((out.abs() < COVERAGE_FACTOR_95 * (sd_intercept + sd_slope * v)).mean()), 4
        ),
    }


def derive() -> dict[str, Any]:
    people = children()
    return {
        "version": VERSION,
        "date": DATE,
        "written_by": "python -m calibration.people",
        "relations": relations(people),
        "inseam_by_stature": {
            "source": f"{CHILDREN}: derived crotch height on stature, 2-14 y;"
            " unit u = (stature - 1300 mm) / 300 mm; age adds nothing once stature is known",
            "systematic_sd_mm": 7.2,
            "systematic_relative_sd": 0.012,
            "systematic_source": "derived crotch height +-12.5 mm (rectangular); leg share of"
            " stature differs between populations by about 2 % (rectangular half-width)",
            **{sex: inseam_by_stature(people, sex) for sex in "fm"},
        },
        "by_age": {
            "source": "CDC 2000 stature-for-age (Kuczmarski 2002) times the leg share of stature"
            f" of the {CHILDREN}",
            "systematic_sd_mm": 7.2,
            "systematic_relative_sd": 0.035,
            "systematic_source": "derived crotch height +-12.5 mm (rectangular); Dutch children"
            " of 1997 have legs 30-35 mm longer at 5-9 y: +-6 % (rectangular)",
            **{sex: by_age(people, sex) for sex in "fm"},
        },
        "tracking": tracking(),
    }


def departures(shipped: Any, derived: Any, path: str = "") -> list[str]:
    """Paths where two trees differ by more than the last digits of a least-squares solver."""
    if isinstance(derived, dict) and isinstance(shipped, dict) and derived.keys() == shipped.keys():
        return [d for k in derived for d in departures(shipped[k], derived[k], f"{path}/{k}")]
    if isinstance(derived, list) and isinstance(shipped, list) and len(derived) == len(shipped):
        pairs = enumerate(zip(shipped, derived, strict=True))
        return [d for i, (a, b) in pairs for d in departures(a, b, f"{path}/{i}")]
    if isinstance(derived, float) and isinstance(shipped, int | float):
        return [] if abs(shipped - derived) <= 1e-4 * abs(derived) + 1e-3 else [path]
    return [] if shipped == derived else [path]


def main(
    check: Annotated[
        bool, typer.Option("--check", help="Write nothing; fail on a change.")
    ] = False,
) -> None:
    """Write the shipped file, or see whether it is what the data give."""
    derived = derive()
    if not check:
        SHIPPED.write_text(json.dumps(derived, indent=1) + "\n", encoding="utf-8")
        typer.echo(f"wrote {SHIPPED}")
        return
    found = departures(json.loads(SHIPPED.read_text(encoding="utf-8")), derived)
    for path in found:
        typer.echo(f"{SHIPPED.name} {path} is not what calibration/data gives")
    if found:
        raise typer.Exit(1)


if __name__ == "__main__":
    typer.run(main)
