"""Results as JSON objects, one a photo, with the keys of ``json_keys``."""

import datetime as dt
import math
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from pose_fit.body.body import LANDMARKS
from pose_fit.fit.choice import Choice
from pose_fit.fit.choice_words import choice_text
from pose_fit.fit.judge import Fit
from pose_fit.fit.words import GENERAL_CAUTIONS, cautions, headline, reasons, settle_text
from pose_fit.growth.dated_readings import Dated
from pose_fit.growth.lasting import Lasting
from pose_fit.inseam.inseam import Inseam
from pose_fit.refusal import Notice, Refusal
from pose_fit.report.answer import Answer
from pose_fit.report.asks import terminal_remedies
from pose_fit.report.rounding import tenth

if TYPE_CHECKING:
    from pose_fit.measure import PhotoMeasurement

__all__ = [
    "answer_object",
    "child_object",
    "fit_object",
    "inseam_object",
    "measured_object",
    "refused_object",
    "today_object",
]


def measured_object(name: str, measurement: "PhotoMeasurement") -> dict[str, Any]:
    """A measured photo; the inseam is that of the day of the picture."""
    reference, plane = measurement.sights.reference, measurement.sights.plane
    return {
        "photo": name,
        "status": "measured",
        **inseam_object(measurement.inseam),
        "reasons": [],
        "reference": {
            "kind": reference.kind,
            "placement": reference.placement,
            "points_px": [[tenth(x), tenth(y)] for x, y in reference.image_px],
            "distance_mm": tenth(plane.distance_mm),
            "focal_px": tenth(plane.focal_px),
        },
        "landmarks_px": {
            mark: [tenth(value) for value in measurement.sights.body.point_px(mark)]
            for mark in LANDMARKS
        },
    }


def child_object(inseam: Inseam) -> dict[str, Any]:
    """All readings of a child together: the keys of a photo, without what only a photo has."""
    return {
        "photo": None,
        "status": "measured",
        **inseam_object(inseam),
        "reasons": [],
        "reference": None,
        "landmarks_px": None,
    }


def refused_object(name: str | None, refusal: Refusal) -> dict[str, Any]:
    """What cannot be measured: every key is there, no number is."""
    return {
        "photo": name,
        "status": "refused",
        "inseam_mm": None,
        "sd_mm": None,
        "interval95_mm": None,
        "method": None,
        "budget": [],
        "warnings": [],
        "retake": list(terminal_remedies(refusal)),
        "taken_on": None,
        "today": None,
        "reasons": _notices(refusal.reasons),
        "reference": None,
        "landmarks_px": None,
    }


def inseam_object(inseam: Inseam) -> dict[str, Any]:
    """An inseam by whatever method."""
    return {
        **_length(inseam),
        "method": inseam.method,
        "budget": [
            {"source": line.source, "sd_mm": round(line.sd_mm, 2), "shared": line.shared}
            for line in inseam.length.budget
        ],
        "warnings": _notices(inseam.warnings),
        "retake": list(inseam.retake),
    }


def today_object(measured: Dated, carried: Dated | Refusal) -> dict[str, Any]:
    """The day of the reading, and the inseam carried to today with what there is to say of that."""
    if isinstance(carried, Refusal):
        today, notices = None, (*measured.inseam.warnings, *carried.reasons)
    else:
        today = {"on": _day(carried.on), **_length(carried.inseam)}
        notices = carried.inseam.warnings
    return {"taken_on": _day(measured.on), "today": today, "warnings": _notices(notices)}


def answer_object(answer: Answer | None) -> dict[str, Any]:
    """Fits, best first, each with its months where the age is known; choice; cautions."""
    if answer is None:
        return {}
    return {
        "fits": [
            fit_object(fit) | {"months": _months(months)}
            for fit, months in zip(answer.fits, answer.months, strict=True)
        ],
        "choice": choice_text(answer.choice),
        "chosen": _chosen(answer),
        "how_sure": answer.how_sure,
        "with_stretch": [bicycle.name for bicycle in answer.with_stretch],
        "cautions": list(GENERAL_CAUTIONS),
    }


def _chosen(answer: Answer) -> dict[str, Any]:
    """The choice as names; what a choice or its absence does not have is null."""
    choice = answer.choice
    none: dict[str, str | None] = dict.fromkeys(
        ("best", "runner_up", "settle_first", "not_in_stock")
    )
    if isinstance(choice, Choice):
        names = {"best": _name(choice.best), "runner_up": _name(choice.runner_up)}
    else:
        names = {
            "settle_first": _name(choice.settle_first),
            "not_in_stock": _name(choice.not_in_stock),
        }
    following = choice.next_size
    return {
        **none,
        **names,
        "next_size": _name(following.fit if following else None),
        "next_size_from_inseam_mm": tenth(following.wanted_inseam_mm) if following else None,
        "wanted_standover_mm": [tenth(end) for end in answer.wanted_standover_mm],
    }


def _name(fit: Fit | None) -> str | None:
    return None if fit is None else fit.bicycle.name


def fit_object(fit: Fit) -> dict[str, Any]:
    """One judged bicycle; lengths in millimetres, not known is None."""
    changes, advice = fit.changes, fit.advice
    return {
        "name": fit.bicycle.name,
        "tyre": fit.bicycle.tyre.marking,
        "wheel_class_in": fit.bicycle.tyre.wheel_class_in,
        "shown": advice.shown,
        "to_do": advice.to_do,
        "why": advice.why,
        "verdict": fit.verdict,
        "recommended": fit.recommended,
        "unsure": fit.unsure,
        "headline": headline(fit),
        "probabilities": {verdict: round(p, 6) for verdict, p in fit.probabilities.items()},
        "standover_mm": tenth(fit.bicycle.standover_mm),
        "standover_sd_mm": tenth(fit.bicycle.standover_sd_mm),
        **_clearance(fit),
        "contact_below_inseam_mm": tenth(changes.contact_below_mm),
        "good_from_inseam_mm": tenth(changes.good_from_mm),
        "roomy_from_inseam_mm": tenth(changes.roomy_from_mm),
        "cramped_from_inseam_mm": _finite(changes.cramped_from_mm),
        "cramped_by": changes.cramped_by,
        "feet": fit.feet,
        "in_stock": fit.bicycle.in_stock,
        "reasons": _notices(reasons(fit)),
        "cautions": _notices(cautions(fit)),
        "settle_by": settle_text(fit) if fit.unsure else None,
    }


def _clearance(fit: Fit) -> dict[str, Any]:
    """Without a top tube there is none, however far the legs reach above where it would be."""
    if not fit.bicycle.has_top_tube:
        return {"clearance_mm": None, "clearance_sd_mm": None, "clearance_interval95_mm": None}
    return {
        "clearance_mm": tenth(fit.clearance_mm),
        "clearance_sd_mm": tenth(fit.clearance_sd_mm),
        "clearance_interval95_mm": [tenth(end) for end in fit.clearance_interval95_mm],
    }


def _length(inseam: Inseam) -> dict[str, Any]:
    return {
        "inseam_mm": tenth(inseam.mean_mm),
        "sd_mm": tenth(inseam.sd_mm),
        "interval95_mm": [tenth(end) for end in inseam.interval95_mm],
    }


def _months(months: Lasting | None) -> dict[str, Any] | None:
    """Months until it is recommended and outgrown; null is never, or beyond the forecast of three years."""
    if months is None:
        return None
    # Of a bicycle that is too small already, or will be by then, waiting makes nothing better.
    is_ahead = 0 < months.ready_months < months.outgrown_months
    return {
        "until_recommended": _finite(months.ready_months)
        if months.recommended or is_ahead
        else None,
        "until_outgrown": _finite(months.outgrown_months),
        "outgrown_window80": [_finite(month) for month in months.window80_months],
    }


def _finite(value: float) -> float | None:
    return tenth(value) if math.isfinite(value) else None


def _day(day: dt.date) -> str:
    return day.isoformat()


def _notices(notices: Iterable[Notice]) -> list[dict[str, str]]:
    return [{"code": notice.code, "message": notice.message} for notice in notices]
