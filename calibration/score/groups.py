"""Groups of photos alike in one thing."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from calibration.observe import world_of
from calibration.score.metrics import Metrics, metrics_of
from calibration.scored import Scored

__all__ = ["GROUPINGS", "Group", "budget_medians_mm", "distance_mm", "groups_by", "stance_of"]

Truth = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Group:
    """Photos of one label and what came of them."""

    label: str
    items: tuple[Scored, ...]
    metrics: Metrics


def groups_by(label_of: Callable[[Truth], str], items: Sequence[Scored]) -> list[Group]:
    """The groups that are not empty, by label."""
    labels = sorted({label_of(item.truth) for item in items}, key=_order)
    made = []
    for label in labels:
        own = tuple(item for item in items if label_of(item.truth) == label)
        errors, sds = [item.error_mm for item in own], [item.sd_mm for item in own]
        made.append(Group(label, own, metrics_of(errors, sds)))
    return made


def budget_medians_mm(items: Sequence[Scored]) -> dict[str, float]:
    """Median standard uncertainty that each source brings to the inseam, largest first."""
    names = {line.source for item in items for line in item.reading.length.budget}
    medians = {name: float(np.median([_line_mm(item, name) for item in items])) for name in names}
    return dict(sorted(medians.items(), key=lambda entry: -entry[1]))


def _line_mm(item: Scored, source: str) -> float:
    """A source may stand in the budget twice, shared and not."""
    lines = [line.sd_mm for line in item.reading.length.budget if line.source == source]
    return float(np.hypot.reduce(lines)) if lines else 0.0


def distance_mm(truth: Truth) -> float:
    """From the camera to the plane of the heels."""
    heels = [truth["landmarks_mm"][f"heel_{side}"][2] for side in ("left", "right")]
    return float(np.mean(heels)) - float(truth["camera"]["position_mm"][2])


def stance_of(truth: Truth) -> str:
    """The asked-for pose or a free one."""
    return str(truth.get("stance_group", "asked"))


def _band(value: float, edges: Sequence[float], unit: str) -> str:
    below = [edge for edge in edges if edge <= value]
    above = [edge for edge in edges if edge > value]
    if not below:
        return f"below {edges[0]:g}{unit}"
    if not above:
        return f"from {edges[-1]:g}{unit}"
    return f"{below[-1]:g} to {above[0]:g}{unit}"


def _order(label: str) -> tuple[bool, float, str]:
    """Bands by their number, the lowest first; words by the alphabet."""
    number = re.search(r"\d+", label)
    return not label.startswith("below"), float(number[0]) if number else 0.0, label


def _exif(truth: Truth) -> str:
    if truth["exif_focal_35mm"] is None:
        return "stripped"
    return "kept, picture cropped" if truth["treatment"] == "edited" else "kept"


def _footwear(truth: Truth) -> str:
    if truth["footwear"] != "shoes":
        return str(truth["footwear"])
    return "shoes, soles " + _band(float(truth["soles_mm"]), (20.0,), " mm")


#: What the photos are grouped by, and how.
GROUPINGS: Final[dict[str, Callable[[Truth], str]]] = {
    "World left out": world_of,
    "Stance": stance_of,
    "Reference": lambda truth: str(truth["reference"]["kind"]),
    "Age": lambda truth: _band(float(truth["age_years"]), (5, 8, 11), " y"),
    "Legwear": lambda truth: str(truth["legwear"]),
    "Distance": lambda truth: _band(distance_mm(truth) / 1000, (2, 3), " m"),
    "EXIF": _exif,
    "Lens (35 mm-equivalent)": lambda truth: _band(
        float(truth["camera"]["true_focal_35mm"]), (20, 40), " mm"
    ),
    "Heels off the wall": lambda truth: _band(float(truth["heel_gap_mm"]), (20, 50), " mm"),
    "Ankles apart": lambda truth: _band(
        float(truth["stance"]["ankle_separation_mm"]), (100, 200), " mm"
    ),
    "Knees bent": lambda truth: _band(float(truth["stance"]["knee_bend_deg"]), (4,), "°"),
    "Child turned": lambda truth: _band(abs(float(truth["stance"]["turn_deg"])), (5, 10), "°"),
    "Footwear": _footwear,
    "Place": lambda truth: "outdoors" if truth["outdoors"] else "indoors",
}
