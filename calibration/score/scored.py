"""One photo's reading beside its truth, and which photos the limits speak about."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from calibration.fit import is_fitted_on
from calibration.observe import Observation
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_reading import PhotoReading, PhotoSights, read_inseam

__all__ = [
    "IN_SCOPE_LEGWEAR",
    "MAX_HEEL_GAP_MM",
    "Refused",
    "Result",
    "Scored",
    "in_scope",
    "measured",
    "refused",
    "scored_part",
    "scores_of",
]

#: The limits speak about legwear that shows where the legs part, and heels near the wall.
IN_SCOPE_LEGWEAR: Final = ("snug", "regular", "shorts")
MAX_HEEL_GAP_MM: Final = 50.0


@dataclass(frozen=True, slots=True)
class Scored:
    """A measured photo: truth, what was seen, and what was read from it."""

    truth: Mapping[str, Any]
    sights: PhotoSights
    reading: PhotoReading

    @property
    def true_mm(self) -> float:
        """True inseam."""
        return float(self.truth["inseam_mm"])

    @property
    def error_mm(self) -> float:
        """Reading minus truth."""
        return self.reading.length.mean_mm - self.true_mm

    @property
    def sd_mm(self) -> float:
        """Standard uncertainty that the reading claims."""
        return self.reading.length.sd_mm


@dataclass(frozen=True, slots=True)
class Refused:
    """A photo that was not measured, and the codes of the reasons."""

    truth: Mapping[str, Any]
    codes: tuple[str, ...]


Result = Scored | Refused


def scored_part(observations: Iterable[Observation]) -> list[Observation]:
    """The observations no number was fitted on."""
    return [item for item in observations if not is_fitted_on(item.truth)]


def scores_of(observations: Iterable[Observation], *, model: ErrorModel) -> list[Result]:
    """Every photo read with the model, or its refusal."""
    results: list[Result] = []
    for item in observations:
        if item.sights is not None:
            reading = read_inseam(item.sights, model=model)
            results.append(Scored(item.truth, item.sights, reading))
            continue
        reasons = item.refusal.reasons if item.refusal is not None else ()
        results.append(Refused(item.truth, tuple(reason.code for reason in reasons)))
    return results


def in_scope(truth: Mapping[str, Any]) -> bool:
    """Legwear neither loose nor hidden, heels within 50 mm of the wall."""
    near = float(truth["heel_gap_mm"]) <= MAX_HEEL_GAP_MM
    return truth["legwear"] in IN_SCOPE_LEGWEAR and near


def measured(results: Sequence[Result]) -> list[Scored]:
    """The photos that gave an inseam."""
    return [result for result in results if isinstance(result, Scored)]


def refused(results: Sequence[Result]) -> list[Refused]:
    """The photos that gave none."""
    return [result for result in results if isinstance(result, Refused)]
