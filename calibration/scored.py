"""One photo's reading beside its truth, and which photos the limits speak about."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from calibration.observe import Observation, world_of
from pose_fit.checks.reading import check_reading
from pose_fit.checks.stance import check_stance, with_raised_heels
from pose_fit.checks.two_answers import check_one_answer
from pose_fit.inseam.error_model import ErrorModel
from pose_fit.inseam.photo_reading import PhotoReading, read_inseam
from pose_fit.inseam.photo_sights import PhotoSights, legs_of

__all__ = [
    "IN_SCOPE_LEGWEAR",
    "MAX_HEEL_GAP_MM",
    "Refused",
    "Result",
    "Scored",
    "in_scope",
    "left_out_results",
    "measured",
    "refused",
    "result_of",
    "shows_legs",
]

#: The limits speak about legwear that shows where the legs part, and heels near the wall.
IN_SCOPE_LEGWEAR: Final = ("snug", "regular", "shorts")
MAX_HEEL_GAP_MM: Final = 50.0
#: Codes of refusals that depend on the error model and are judged again with each model.
_JUDGED_ANEW: Final = {
    "heels_unseen",
    "implausible",
    "leg_bent",
    "on_tiptoe",
    "crotch_and_hips_disagree",
    "too_unsure",
    "two_answers",
}


@dataclass(frozen=True, slots=True)
class Scored:
    """A measured photo: truth, what was seen, and what was read from it."""

    truth: Mapping[str, Any]
    sights: PhotoSights
    reading: PhotoReading

    @property
    def believed(self) -> PhotoSights:
        """The candidates of the likeliest hypothesis alone."""
        likeliest = self.reading.likeliest
        return self.sights.only(likeliest.crotch, likeliest.toes, likeliest.wall_base)

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


def left_out_results(
    observations: Iterable[Observation], *, models: Mapping[str, ErrorModel]
) -> list[Result]:
    """Every photo read with the model that was fitted on all worlds but its own."""
    return [result_of(item, model=models[world_of(item.truth)]) for item in observations]


def result_of(item: Observation, *, model: ErrorModel) -> Result:
    """A photo read with a model, or why it gives no number."""
    codes = () if item.refusal is None else tuple(one.code for one in item.refusal.reasons)
    if item.sights is None or not set(codes) <= _JUDGED_ANEW:
        return Refused(item.truth, codes)
    sights = item.sights
    reading = read_inseam(sights, model=model)
    refusal = check_reading(sights, reading)
    if refusal is None:
        legs = legs_of(sights.plane, sights.body, beside=sights.is_beside, model=model)
        refusal = check_stance(sights.body, sights.plane, legs, reading, heels_down=True)
        reading = replace(reading, length=with_raised_heels(legs, reading))
    if refusal is None:
        refusal = check_one_answer(sights, reading)
    if refusal is not None:
        return Refused(item.truth, tuple(one.code for one in refusal.reasons))
    return Scored(item.truth, sights, reading)


def in_scope(truth: Mapping[str, Any]) -> bool:
    """Legwear neither loose nor hidden, heels within 50 mm of the wall."""
    return shows_legs(truth) and float(truth["heel_gap_mm"]) <= MAX_HEEL_GAP_MM


def shows_legs(truth: Mapping[str, Any]) -> bool:
    """Legwear neither loose nor hidden."""
    return truth["legwear"] in IN_SCOPE_LEGWEAR


def measured(results: Sequence[Result]) -> list[Scored]:
    """The photos that gave an inseam."""
    return [result for result in results if isinstance(result, Scored)]


def refused(results: Sequence[Result]) -> list[Refused]:
    """The photos that gave none."""
    return [result for result in results if isinstance(result, Refused)]
