"""Other ways to an inseam, tried on the children of the same photos."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from calibration.score.metrics import Metrics, metrics_of
from calibration.scored import Scored
from pose_fit.anthropometry.inseam_norms import inseam_at_age
from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM
from pose_fit.inseam.from_stature import STATURE_BY_PARENTS_SD_MM, inseam_from_stature
from pose_fit.inseam.from_tape import TAPE_CARE, Care, inseam_from_tape
from pose_fit.reference.reference import PointReference, Reference

__all__ = [
    "READINGS",
    "STATURE_SHARE",
    "Baseline",
    "mm_per_px",
    "raw_legs_mm",
    "baselines_on",
    "tape_readings_mm",
]

#: Inseam over stature, a rule of thumb (common practice, no source).
STATURE_SHARE: Final = 0.45
#: How often a tape is read: a careful family three times, a hasty one once (common practice,
#: no source).
READINGS: Final[dict[Care, int]] = {"careful": 3, "hasty": 1}
#: Simulated tapes for each photo.
_TAPES: Final = 200


@dataclass(frozen=True, slots=True)
class Baseline:
    """A way to an inseam and its metrics on ``photos`` photos."""

    name: str
    photos: int
    metrics: Metrics


def baselines_on(items: Sequence[Scored], *, seed: int = 1) -> list[Baseline]:
    """The photo itself and every baseline on the same photos.

    A tape errs as :data:`pose_fit.inseam.from_tape.TAPE_CARE` says, with sources there: its
    technique once a session, its reading each time, both normal, neither with a bias.

    Raises
    ------
    ValueError
        No photos.
    """
    rng = np.random.default_rng(seed)
    true_mm = np.array([item.true_mm for item in items])
    stature_mm = np.array([float(item.truth["stature_mm"]) for item in items])
    photo = metrics_of([item.error_mm for item in items], [item.sd_mm for item in items])
    raw_mm = np.array([raw_legs_mm(item) for item in items])
    by_age = [
        inseam_at_age(item.truth["age_years"], sex=item.truth["sex"]).mean_mm for item in items
    ]
    age_sd = [inseam_at_age(item.truth["age_years"], sex=item.truth["sex"]).sd_mm for item in items]
    # A child outside the measured ones is taken for the nearest of them.
    told_mm = np.clip(
        stature_mm + rng.normal(0, STATURE_BY_PARENTS_SD_MM, len(items)), *STATURE_RANGE_MM
    )
    by_stature = [
        inseam_from_stature(told, sex=item.truth["sex"])
        for told, item in zip(told_mm, items, strict=True)
    ]
    found = [
        ("photo, this program", photo),
        ("raw hip-to-ankle pixels × millimetres per pixel", metrics_of(raw_mm - true_mm)),
        ("0.45 × true stature", metrics_of(STATURE_SHARE * stature_mm - true_mm)),
        ("mean inseam for age and sex", metrics_of(np.array(by_age) - true_mm, age_sd)),
        (
            "inseam from the stature as parents measure it",
            metrics_of(
                np.array([item.mean_mm for item in by_stature]) - true_mm,
                [item.sd_mm for item in by_stature],
            ),
        ),
        ("careful tape, three readings (simulated)", _tape(true_mm, "careful", rng)),
        ("hasty tape, one reading (simulated)", _tape(true_mm, "hasty", rng)),
    ]
    return [Baseline(name, len(items), metrics) for name, metrics in found]


def raw_legs_mm(item: Scored) -> float:
    """Hip to ankle in pixels, mean of both legs, times the reference's millimetres per pixel."""
    sides = ("left", "right")
    legs_px = [
        item.sights.body.point_px(f"{side}_ankle")  # type: ignore[arg-type]
        - item.sights.body.point_px(f"{side}_hip")  # type: ignore[arg-type]
        for side in sides
    ]
    mean_px = float(np.linalg.norm(legs_px, axis=1).mean())
    return mean_px * mm_per_px(item.sights.reference)


def mm_per_px(reference: Reference) -> float:
    """Millimetres per pixel at the reference, ignoring depth, tilt and lens.

    By a point reference's spread, by a door's height alone, since its width is not told, and
    by a wheel's larger extent.
    """
    if not isinstance(reference, PointReference):
        extent_px = float(np.ptp(reference.image_px, axis=0).max())
        return 2 * reference.radius_mm / extent_px
    if reference.kind == "door":
        return _door_height_mm(reference) / _door_height_px(reference)
    spread_mm, spread_px = _spread(reference.object_mm), _spread(reference.image_px)
    return spread_mm / spread_px


def _door_height_mm(reference: PointReference) -> float:
    return float(np.ptp(reference.object_mm[:, 1]))


def _door_height_px(reference: PointReference) -> float:
    top_left, top_right, bottom_right, bottom_left = reference.image_px
    jambs = [np.linalg.norm(bottom_left - top_left), np.linalg.norm(bottom_right - top_right)]
    return float(np.mean(jambs))


def _spread(points: NDArray[np.float64]) -> float:
    return float(np.sqrt(((points - points.mean(axis=0)) ** 2).sum()))


def _tape(true_mm: NDArray[np.float64], care: Care, rng: np.random.Generator) -> Metrics:
    repeated_mm = np.repeat(true_mm, _TAPES)
    tapes = [
        inseam_from_tape(list(readings), care=care)
        for readings in tape_readings_mm(repeated_mm, care=care, rng=rng)
    ]
    errors_mm = np.array([tape.mean_mm for tape in tapes]) - repeated_mm
    return metrics_of(errors_mm, [tape.sd_mm for tape in tapes])


def tape_readings_mm(
    true_mm: NDArray[np.float64], *, care: Care, rng: np.random.Generator
) -> NDArray[np.float64]:
    """(N, R) readings of N sessions: one error of technique each, one of reading each time."""
    told = TAPE_CARE[care]
    technique_mm = rng.normal(0, told.technique_sd_mm, (true_mm.size, 1))
    reading_mm = rng.normal(0, told.reading_sd_mm, (true_mm.size, READINGS[care]))
    return np.asarray(true_mm[:, None] + technique_mm + reading_mm)
