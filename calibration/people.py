"""Derive the shipped numbers on human proportions from measured people.

Reads ``calibration/data`` and writes ``pose_fit/anthropometry/people.json``; the same input
gives the same bytes. Relations are fitted on two thirds of the persons and scored on the rest.

    python -m calibration.people            write the file
    python -m calibration.people --check    fail if the file is not what the data give
"""

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

DATA = Path(__file__).parent / "data"
SHIPPED = Path(__file__).parents[1] / "pose_fit" / "anthropometry" / "people.json"
VERSION = "1.0"
DATE = "2026-11-25"

#: Crotch height minus subischial height as a share of stature: the mean of the measured adults
#: of 2012 (see ``adult_crotch_share``), used for children for want of measured ones.
CHILDREN = "children of 1977 (UM-HSRI-77-17)"
ADULTS = "adults of 2012 (NATICK/TR-15/007)"

#: The anterior superior iliac spine was not measured; it lies between iliac crest and
#: trochanterion. One third of the way down makes the derived crotch height .91-.92 of the hip
#: joint height by Hara's equation; with one half, trochanterion and hip joint are level.
CREST_TO_SPINE_SHARE = 1 / 3
#: Knee joint centre (level of the femoral epicondyles) over tibiale height: adults of 2012,
#: 5 % in men and 6 % in women.
EPICONDYLE_OVER_TIBIALE = 1.056

FloatArray = NDArray[np.float64]


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
    x_low: float
    x_high: float


def children() -> pd.DataFrame:
    """Children of 2 to 18 y in millimetres, with derived crotch and hip joint heights."""
    raw = pd.read_csv(DATA / "children_1977.csv")
    raw = raw[(raw.age_y >= 2) & (raw.age_y < 18)].reset_index(drop=True)
    people = pd.DataFrame({"person": raw.person, "sex": raw.sex.str.lower(), "age_y": raw.age_y})
    for column in raw.columns:
        if column.endswith("_cm"):
            people[column.removesuffix("_cm")] = raw[column] * 10
    share = people.sex.map(adult_crotch_share())
    people["inseam"] = people.stature - people.sitting_height + share * people.stature
    spine = people.iliocristale_height - CREST_TO_SPINE_SHARE * (
        people.iliocristale_height - people.trochanteric_height
    )
    # Hara et al. 2016: 9 + 0.078 leg lengths below the anterior superior iliac spines.
    people["hip_by_spine"] = spine - 9 - 0.078 * (spine - people.sphyrion_height)
    people["hip_by_trochanter"] = people.trochanteric_height
    people["hip"] = (people.hip_by_spine + people.hip_by_trochanter) / 2
    people["knee"] = EPICONDYLE_OVER_TIBIALE * people.tibiale_height
    people["hip_to_ankle"] = people.hip - people.sphyrion_height
    people["shank"] = people.knee - people.sphyrion_height
    return people


def adult_crotch_share() -> dict[str, float]:
    """Measured adults: (crotch height - subischial height) / stature, mean by sex."""
    adults = pd.read_csv(DATA / "adults_2012.csv")
    subischial = adults.stature_cm - adults.sitting_height_cm
    share = (adults.crotch_height_cm - subischial) / adults.stature_cm
    return {
        str(sex).lower(): float(value) for sex, value in share.groupby(adults.sex).mean().items()
    }


def is_scored(people: pd.DataFrame) -> pd.Series:
    """Every third person by number is never fitted."""
    return people.person % 3 == 0


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
    return Fit(
        *(float(v) for v in (intercept, slope, sd_intercept, sd_slope)),
        fitted=len(fit),
        scored=len(score),
        bias=float(left.mean()),
        sd=float(left.std()),
        coverage95=float((left.abs() < 1.96 * scatter).mean()),
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
        "shank_from_hip_to_ankle": relation(
            people,
            y="shank",
            x="hip_to_ankle",
            systematic_sd_mm=0.0,
            systematic_sd_slope=0.012,
            source=f"{CHILDREN}: knee joint centre at 1.056 tibiale height, less sphyrion height",
            systematic_source="epicondyles 5-6 % above tibiale in measured adults; hip joint"
            " centre by two derivations",
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
    coefficients = np.polynomial.polynomial.polyfit(u, fit.inseam, 3)
    left = fit.inseam - np.polynomial.polynomial.polyval(u, coefficients)
    sd_slope, sd_intercept = np.polyfit(u, left.abs() * np.sqrt(np.pi / 2), 1)
    v = (score.stature - 1300) / 300
    out = score.inseam - np.polynomial.polynomial.polyval(v, coefficients)
    return {
        "coefficients_mm": [round(float(c), 3) for c in coefficients],
        "person_sd_mm": round(float(sd_intercept), 3),
        "person_sd_per_unit_mm": round(float(sd_slope), 3),
        "persons_fitted": len(fit),
        "persons_scored": len(score),
        "scored_bias_mm": round(float(out.mean()), 2),
        "scored_sd_mm": round(float(out.std()), 2),
        "scored_coverage95": round(
            float((out.abs() < 1.96 * (sd_intercept + sd_slope * v)).mean()), 4
        ),
    }


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
    relative = out.inseam / np.interp(out.age_y, ages, mean) - 1
    spread = known[~scored].inseam / np.interp(known[~scored].age_y, ages, mean) - 1
    z_fit = (fit.inseam / np.interp(fit.age_y, ages, mean) - 1) / spread.std()
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
    return np.polynomial.chebyshev.chebval((age_y - 10) / 8, share)


def fit_share(age_y: FloatArray, z: FloatArray, ratio: FloatArray) -> tuple[FloatArray, float]:
    """Alternate least squares for the share by age and its rise with the stature z-score."""
    basis = np.polynomial.chebyshev.chebvander((age_y - 10) / 8, 5)
    per_z = 0.0
    for _ in range(20):
        share = np.linalg.lstsq(basis * (1 + per_z * z)[:, None], ratio, rcond=None)[0]
        level = basis @ share
        per_z = float(np.sum((ratio - level) * level * z) / np.sum((level * z) ** 2))
    return share, per_z


def derive() -> dict[str, Any]:
    people = children()
    return {
        "version": VERSION,
        "date": DATE,
        "written_by": "calibration/people.py",
        "relations": relations(people),
        "inseam_by_stature": {
            "source": f"{CHILDREN}: derived crotch height on stature, 2-14 y;"
            " unit u = (stature - 1300 mm) / 300 mm; age adds nothing once stature is known",
            "stature_low_mm": 800.0,
            "stature_high_mm": 1800.0,
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
    }


def main() -> int:
    text = json.dumps(derive(), indent=1) + "\n"
    if "--check" in sys.argv[1:]:
        if SHIPPED.read_text(encoding="utf-8") != text:
            print(f"{SHIPPED} is not what calibration/data gives; run python -m calibration.people")
            return 1
        return 0
    SHIPPED.write_text(text, encoding="utf-8")
    print(f"wrote {SHIPPED}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
