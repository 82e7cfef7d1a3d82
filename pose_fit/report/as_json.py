"""Results as JSON objects, one a photo; the README documents each key."""

from typing import Any

from pose_fit.body.body import LANDMARKS
from pose_fit.inseam.inseam import Inseam
from pose_fit.measure import PhotoMeasurement
from pose_fit.refusal import Notice, Refusal
from pose_fit.report.rounding import tenth

__all__ = ["inseam_object", "measured_object", "refused_object"]


def measured_object(name: str, measurement: PhotoMeasurement) -> dict[str, Any]:
    """A measured photo."""
    reference, plane = measurement.sights.reference, measurement.sights.plane
    return {
        "photo": name,
        "status": "measured",
        **inseam_object(measurement.inseam),
        "reasons": [],
        "reference": {
            "kind": reference.kind,
            "plane": reference.placement,
            "points_px": [[tenth(x), tenth(y)] for x, y in reference.image_px],
            "distance_mm": tenth(plane.distance_mm),
            "focal_px": tenth(plane.focal_px),
        },
        "landmarks_px": {
            mark: [tenth(value) for value in measurement.sights.body.point_px(mark)]
            for mark in LANDMARKS
        },
    }


def refused_object(name: str, refusal: Refusal) -> dict[str, Any]:
    """A photo that cannot be measured: every key is there, no number is."""
    return {
        "photo": name,
        "status": "refused",
        "inseam_mm": None,
        "sd_mm": None,
        "interval95_mm": None,
        "method": None,
        "budget": [],
        "warnings": [],
        "retake": list(refusal.remedies),
        "reasons": _notices(refusal.reasons),
        "reference": None,
        "landmarks_px": None,
    }


def inseam_object(inseam: Inseam) -> dict[str, Any]:
    """An inseam by whatever method."""
    return {
        "inseam_mm": tenth(inseam.mean_mm),
        "sd_mm": tenth(inseam.sd_mm),
        "interval95_mm": [tenth(end) for end in inseam.interval95_mm],
        "method": inseam.method,
        "budget": [
            {"source": line.source, "sd_mm": round(line.sd_mm, 2), "shared": line.shared}
            for line in inseam.length.budget
        ],
        "warnings": _notices(inseam.warnings),
        "retake": list(inseam.retake),
    }


def _notices(notices: tuple[Notice, ...]) -> list[dict[str, str]]:
    return [{"code": notice.code, "message": notice.message} for notice in notices]
