"""Leg proportions of measured children against their crotch height.

    python -m calibration.people.leg_proportions

prints the coefficients that ``pose_fit/fit/leg.py`` ships, of children of 3 to 14 years. Their
crotch height is derived, not measured; see :func:`calibration.people.measured.children`.
"""

import numpy as np
import pandas as pd

from calibration.people.measured import children

__all__ = ["proportions"]


def proportions() -> pd.DataFrame:
    """One row a length: intercept (mm) and slope on the inseam, residual SD (mm), children used."""
    young = children()
    young = young[young.age_y.between(3, 15, inclusive="left")]
    lengths_mm = {
        "hip height (trochanter)": young.trochanteric_height,
        "thigh": young.trochanteric_height - young.tibiale_height,
        "shank": young.tibiale_height - young.sphyrion_height,
        "ankle height": young.sphyrion_height,
        "foot": young.foot_length,
        "stature": young.stature,
    }
    rows = []
    for name, length_mm in lengths_mm.items():
        known = length_mm.notna() & young.inseam.notna()
        slope, intercept_mm = np.polyfit(young.inseam[known], length_mm[known], 1)
        residual_mm = length_mm[known] - intercept_mm - slope * young.inseam[known]
        rows.append((name, intercept_mm, slope, residual_mm.std(ddof=2), int(known.sum())))
    return pd.DataFrame(rows, columns=["length", "intercept_mm", "slope", "sd_mm", "children"])


if __name__ == "__main__":
    print(proportions().round({"intercept_mm": 1, "slope": 4, "sd_mm": 1}).to_string(index=False))
