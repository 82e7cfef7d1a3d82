"""Made-up scored photos: a truth, and sights and readings only where a test needs them."""

from typing import Any

import numpy as np

from calibration.scored import Scored
from pose_fit.inseam.hypotheses import Hypothesis
from pose_fit.inseam.photo_reading import PhotoReading, WeighedHypothesis
from pose_fit.metrology.uncertain import Contribution, UncertainLength

ONLY = WeighedHypothesis(Hypothesis(None, None, None, False, 0.0), 500.0, 8.0, 1.0)


def truth_of(**changes: Any) -> dict[str, Any]:
    truth: dict[str, Any] = {
        "photo": "03_0002_0.jpg",
        "seed": 3,
        "index": 2,
        "photo_of_child": 0,
        "age_years": 6.0,
        "sex": "f",
        "inseam_mm": 500.0,
        "stature_mm": 1150.0,
        "soles_mm": 0.0,
        "legwear": "snug",
        "footwear": "bare",
        "heel_gap_mm": 10.0,
        "exif_focal_35mm": 26,
        "treatment": "original",
        "outdoors": False,
        "stance": {"ankle_separation_mm": 150.0, "knee_bend_deg": 0.0, "turn_deg": 0.0},
        "camera": {"position_mm": [0.0, -1000.0, -2500.0], "true_focal_35mm": 26.0},
        "landmarks_mm": {"heel_left": [0, 0, -20.0], "heel_right": [0, 0, -40.0]},
        "reference": {"kind": "sheet", "ruler_mm": None, "print_scale": 1.0},
    }
    return truth | changes


def scored_photo(
    *,
    error_mm: float = 0.0,
    budget: dict[str, float] | None = None,
    shared: tuple[str, ...] = (),
    sights: Any = None,
    **changes: Any,
) -> Scored:
    truth = truth_of(**changes)
    lines = tuple(
        Contribution(source, sd_mm, source in shared)
        for source, sd_mm in (budget or {"clothing": 8.0}).items()
    )
    length = UncertainLength(truth["inseam_mm"] + error_mm, lines)
    interval = length.interval95_mm
    return Scored(truth, sights, PhotoReading(length, (), (ONLY,), interval, 0.0, 0.0))


def photos_with_errors(errors_mm: Any, **changes: Any) -> list[Scored]:
    return [scored_photo(error_mm=float(error), **changes) for error in np.ravel(errors_mm)]
