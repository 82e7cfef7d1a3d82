"""A fit as plain data, for JSON and tables."""

import math
from typing import Any

from pose_fit.fit.judge import Fit
from pose_fit.fit.words import Audience, cautions, headline, reasons, settle_text

__all__ = ["as_dict"]


def as_dict(fit: Fit, *, audience: Audience = "parent") -> dict[str, Any]:
    """A JSON-friendly record of one fit; lengths in millimetres, not known is None."""
    low_mm, high_mm = fit.clearance_interval95_mm
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
        "standover_mm": round(fit.bicycle.standover_mm, 1),
        "standover_sd_mm": round(fit.bicycle.standover_sd_mm, 1),
        "clearance_mm": round(fit.clearance_mm, 1),
        "clearance_sd_mm": round(fit.clearance_sd_mm, 1),
        "clearance_interval95_mm": [round(low_mm, 1), round(high_mm, 1)],
        "contact_below_inseam_mm": round(changes.contact_below_mm, 1),
        "good_from_inseam_mm": round(changes.good_from_mm, 1),
        "roomy_from_inseam_mm": round(changes.roomy_from_mm, 1),
        "cramped_from_inseam_mm": (
            round(changes.cramped_from_mm, 1) if math.isfinite(changes.cramped_from_mm) else None
        ),
        "cramped_by": changes.cramped_by,
        "feet": fit.feet,
        "in_stock": fit.bicycle.in_stock,
        "reasons": [
            {"code": notice.code, "message": notice.message}
            for notice in reasons(fit, audience=audience)
        ],
        "cautions": [{"code": notice.code, "message": notice.message} for notice in cautions(fit)],
        "settle_by": settle_text(fit) if fit.unsure else None,
    }
