"""Where the bodies of the bench differ from measured people, by the program's own relations."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from calibration.score.sources import straight_leg_mm
from pose_fit.anthropometry.inseam_norms import inseam_at_stature
from pose_fit.anthropometry.known_ranges import STATURE_RANGE_MM
from pose_fit.anthropometry.people import Relation, people

__all__ = ["AGE_BANDS_Y", "Difference", "differences_of"]

Truth = Mapping[str, Any]
#: Younger than the first, from the second on, and between.
AGE_BANDS_Y: Final = (6.0, 10.0)


@dataclass(frozen=True, slots=True)
class Difference:
    """A length of N bodies less what people alike have, millimetres.

    Attributes
    ----------
    young_mm, middle_mm, old_mm
        Means by ``AGE_BANDS_Y``; NaN of an empty band.
    person_sd_mm, systematic_sd_mm
        Mean of what the program says of people: scatter between persons, and what is not known
        of the relation.
    """

    relation: str
    count: int
    mean_mm: float
    sd_mm: float
    young_mm: float
    middle_mm: float
    old_mm: float
    person_sd_mm: float
    systematic_sd_mm: float


def differences_of(truths: Sequence[Truth]) -> list[Difference]:
    """Every relation over the bodies, each body once, from their true lengths.

    Raises
    ------
    ValueError
        No bodies.
    """
    bodies = list({(truth["seed"], truth["index"]): truth for truth in truths}.values())
    if not bodies:
        raise ValueError("bodies: wanted at least one truth, found none")
    numbers = people()
    return [
        _difference(
            "ankle height from hip to ankle",
            bodies,
            lambda body: _by_relation(
                numbers.ankle_height_from_hip_to_ankle,
                x_mm=straight_leg_mm(body),
                y_mm=body["erect_joint_heights_mm"]["ankle"],
            ),
        ),
        _difference(
            "inseam from the hip’s height",
            bodies,
            lambda body: _by_relation(
                numbers.inseam_from_hip_height,
                x_mm=body["erect_joint_heights_mm"]["hip"],
                y_mm=body["inseam_mm"],
            ),
        ),
        _difference(
            "inseam from stature and sex",
            [body for body in bodies if _is_measured(body)],
            _by_stature,
        ),
    ]


#: Difference, scatter between persons, and what is not known, of one body.
_Parts = tuple[float, float, float]


def _by_relation(line: Relation, *, x_mm: float, y_mm: float) -> _Parts:
    return (
        y_mm - line.mean_mm(x_mm),
        line.person_sd_at_mm(x_mm),
        line.systematic_sd_at_mm(x_mm),
    )


def _is_measured(body: Truth) -> bool:
    """Whether measured children have such a stature; of others their relation says nothing."""
    low_mm, high_mm = STATURE_RANGE_MM
    return low_mm <= float(body["stature_mm"]) <= high_mm


def _by_stature(body: Truth) -> _Parts:
    group = inseam_at_stature(body["stature_mm"], sex=body["sex"])
    return body["inseam_mm"] - group.mean_mm, group.person_sd_mm, group.systematic_sd_mm


def _difference(
    relation: str, bodies: Sequence[Truth], parts_of: Callable[[Truth], _Parts]
) -> Difference:
    parts = np.array([parts_of(body) for body in bodies])
    ages_y = np.array([float(body["age_years"]) for body in bodies])
    band = np.digitize(ages_y, AGE_BANDS_Y)
    off_mm = parts[:, 0]
    young_mm, middle_mm, old_mm = (_mean(off_mm[band == place]) for place in range(3))
    return Difference(
        relation=relation,
        count=len(bodies),
        mean_mm=float(off_mm.mean()),
        sd_mm=float(off_mm.std(ddof=1)) if off_mm.size > 1 else float("nan"),
        young_mm=young_mm,
        middle_mm=middle_mm,
        old_mm=old_mm,
        person_sd_mm=float(parts[:, 1].mean()),
        systematic_sd_mm=float(parts[:, 2].mean()),
    )


def _mean(values: NDArray[np.float64]) -> float:
    return float(values.mean()) if values.size else float("nan")
