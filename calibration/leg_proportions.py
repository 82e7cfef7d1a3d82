"""Leg proportions of measured children against their crotch height.

    python -m calibration.leg_proportions

prints the coefficients that ``pose_fit/fit/leg.py`` ships. Children of 3 to 14 years of
``calibration/data/children_1977.csv``. The crotch height is derived, not measured: stature
minus sitting height plus a share k of stature, with the adult means of k (0.0046 men, 0.0065
women) from ``adults_2012.csv``.
"""

from pathlib import Path

import numpy as np
import pandas as pd

_DATA = Path(__file__).parent / "data" / "children_1977.csv"


def proportions() -> pd.DataFrame:
    """One row a length: intercept (mm) and slope on the inseam, residual SD (mm), children used."""
    children = pd.read_csv(_DATA)
    children = children[children.age_y.between(3, 15, inclusive="left")]
    lengths_mm = pd.DataFrame(
        {
            "hip height (trochanter)": children.trochanteric_height_cm,
            "thigh": children.trochanteric_height_cm - children.tibiale_height_cm,
            "shank": children.tibiale_height_cm - children.sphyrion_height_cm,
            "ankle height": children.sphyrion_height_cm,
            "foot": children.foot_length_cm,
            "stature": children.stature_cm,
        }
    ).mul(10)
    share = children.sex.map({"M": 0.0046, "F": 0.0065})
    inseam_mm = 10 * (children.stature_cm * (1 + share) - children.sitting_height_cm)
    rows = []
    for name, length_mm in lengths_mm.items():
        known = length_mm.notna() & inseam_mm.notna()
        slope, intercept_mm = np.polyfit(inseam_mm[known], length_mm[known], 1)
        residual_mm = length_mm[known] - intercept_mm - slope * inseam_mm[known]
        rows.append((name, intercept_mm, slope, residual_mm.std(ddof=2), int(known.sum())))
    return pd.DataFrame(rows, columns=["length", "intercept_mm", "slope", "sd_mm", "children"])


if __name__ == "__main__":
    print(proportions().round({"intercept_mm": 1, "slope": 4, "sd_mm": 1}).to_string(index=False))
